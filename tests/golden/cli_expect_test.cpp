// `firstdraw expect` as a user meets it: text, JSON with its schema, and what goes wrong. Nothing here
// depends on the numbers of the examples.
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

const std::string clinic = "examples/clinic";

Json expected(const std::vector<std::string>& more) {
  std::vector<std::string> words{"expect", clinic, "C01", "--json"};
  words.insert(words.end(), more.begin(), more.end());
  return Json::parse(firstdraw(words).out);
}

TEST(CliExpect, TextGivesCurrentBandReasonsAndCaution) {
  const Ran ran = firstdraw({"expect", clinic, "C01", "--pipe", "46C", "--volts", "207"});
  EXPECT_EQ(ran.code, 0);
  EXPECT_THAT(ran.err, IsEmpty());
  EXPECT_THAT(ran.out, AllOf(HasSubstr("Draws"), HasSubstr("within"), HasSubstr("207 V, settled"),
                             HasSubstr("Why"), HasSubstr("Assumed"), HasSubstr("Caution:")));
  EXPECT_THAT(ran.out, Not(HasSubstr("other readings")));
}

TEST(CliExpect, WithoutReadingsATableComesToo) {
  EXPECT_THAT(firstdraw({"expect", clinic, "C01"}).out, HasSubstr("other readings"));
  EXPECT_EQ(expected({}).at("table").size(), 9U);
  EXPECT_TRUE(expected({"--pipe", "46C"}).at("table").empty());
}

TEST(CliExpect, JsonKeepsItsSchema) {
  const Json table = expected({}), reading = expected({"--pipe", "12C", "--volts", "207V", "--minutes", "2"});
  EXPECT_EQ(validate_text(table.dump(), "expect"), "");
  EXPECT_EQ(validate_text(reading.dump(), "expect"), "");
  Json spoilt = reading;
  spoilt["current_a"] = "much";
  EXPECT_NE(validate_text(spoilt.dump(), "expect"), "") << "a schema that takes anything says nothing";
}

TEST(CliExpect, CurrentLiesInItsBandAndIsHigherAtOnce) {
  const Json settled = expected({"--pipe", "12C", "--volts", "207"});
  const Json at_once = expected({"--pipe", "12C", "--volts", "207", "--minutes", "0"});
  for (const Json& answer : {settled, at_once}) {
    EXPECT_LT(answer.at("least_a").get<double>(), answer.at("current_a").get<double>());
    EXPECT_GT(answer.at("most_a").get<double>(), answer.at("current_a").get<double>());
  }
  EXPECT_GT(at_once.at("current_a").get<double>(), settled.at("current_a").get<double>());
}

TEST(CliExpect, ACircuitThatIsNotThereIsAnsweredWithTheNearest) {
  const Ran ran = firstdraw({"expect", clinic, "C0l"});
  EXPECT_EQ(ran.code, 2);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("no such circuit"), HasSubstr("did you mean C01?")));
}

TEST(CliExpect, SlipsComeTogetherWithTheirOptions) {
  const Ran ran = firstdraw({"expect", clinic, "C01", "--pipe", "46", "--volts", "2 m"});
  EXPECT_EQ(ran.code, 2);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("--pipe"), HasSubstr("--volts")));
  EXPECT_EQ(firstdraw({"expect", clinic, "C01", "--minutes", "-1"}).code, 2);
  EXPECT_EQ(firstdraw({"expect", "tests/golden/no-such-job", "C01"}).code, 3);
}

TEST(CliExpect, WhatTheDataSheetDoesNotCoverIsSaid) {
  const Ran volts = firstdraw({"expect", clinic, "C01", "--volts", "900"});
  EXPECT_EQ(volts.code, 1);
  EXPECT_THAT(volts.out, HasSubstr("gives no output at 900 V"));
  EXPECT_THAT(firstdraw({"expect", clinic, "C01", "--pipe", "-45C"}).out,
              HasSubstr("Look out: the data sheet"));
}

}  // namespace
}  // namespace firstdraw::golden
