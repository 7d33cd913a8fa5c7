// `firstdraw diagnose` as a user meets it: one current, a file of readings, JSON with its schema, and slips.
#include <gmock/gmock.h>

#include <nlohmann/json.hpp>

#include "cli_program.hpp"

namespace firstdraw::golden {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using Json = nlohmann::json;

Ran diagnosed(const std::vector<std::string>& more) {
  std::vector<std::string> words{"diagnose", "examples/clinic", "--samples", "300"};
  words.insert(words.end(), more.begin(), more.end());
  return firstdraw(words);
}

TEST(CliDiagnose, OneCurrentIsEnoughToStart) {
  const Ran ran = diagnosed({"--circuit", "C01", "--current", "2.1"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_THAT(ran.err, IsEmpty());
  EXPECT_THAT(ran.out, AllOf(HasSubstr("What may be wrong"), HasSubstr("Measure next"), HasSubstr("Caution:"),
                             HasSubstr("licensed electrician")));
}

TEST(CliDiagnose, JsonHoldsToItsSchemaAndAddsUp) {
  const Ran ran =
      diagnosed({"--circuit", "C01", "--current", "2.1A", "--pipe", "46C", "--volts", "207", "--json"});
  ASSERT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(validate_text(ran.out, "diagnosis"), "") << ran.out;
  double sum = 0;
  const Json answer = Json::parse(ran.out);
  for (const Json& suspect : answer.at("suspects")) sum += suspect.at("probability").get<double>();
  EXPECT_NEAR(sum, 1, 1e-9);
  EXPECT_NE(validate_text(R"({"settled": true})", "diagnosis"), "");
}

TEST(CliDiagnose, AFileOfReadingsNamesTheCause) {
  const Folder folder;
  const std::string file = folder.path("visit.csv");
  write_file(file,
             "what,circuit,group,run,value,called\n"
             "current,C01,,,0 A,\n"
             "breaker,C01,,,yes,\n"
             "contactor,,main,,no,yes\n");
  const Ran ran = diagnosed({"--readings", file, "--json"});
  ASSERT_EQ(ran.code, 0) << ran.err;
  const Json first = Json::parse(ran.out).at("suspects").at(0);
  EXPECT_EQ(first.at("cause"), "contactor-stuck-off");
  EXPECT_EQ(first.at("place"), "main");
}

TEST(CliDiagnose, SlipsAreSaid) {
  EXPECT_THAT(diagnosed({}).err, HasSubstr("nothing was measured"));
  EXPECT_EQ(diagnosed({}).code, 2);
  EXPECT_THAT(diagnosed({"--current", "2A"}).err, HasSubstr("of which circuit"));
  EXPECT_THAT(diagnosed({"--current", "2 kg", "--circuit", "C01"}).err, HasSubstr("--current"));
  EXPECT_THAT(diagnosed({"--current", "2A", "--circuit", "C1"}).err, HasSubstr("C01"));
  EXPECT_EQ(diagnosed({"--pipe", "46C"}).code, 2);
}

}  // namespace
}  // namespace firstdraw::golden
