// `firstdraw tests` as a user meets it: the invented readings of two examples, the sheet to fill in, JSON
// with its schema, exit codes, and what goes wrong.
#include <gmock/gmock.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli_program.hpp"

namespace firstdraw::golden {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using Json = nlohmann::json;

const std::string clinic = "examples/clinic", hotel = "examples/hotel";

Ran judged(const std::string& job, const std::vector<std::string>& more = {}) {
  std::vector<std::string> words{"tests", job, "--readings", "examples/readings/" + job.substr(9) + ".csv"};
  words.insert(words.end(), more.begin(), more.end());
  return firstdraw(words);
}

std::string grade_of(const Json& answer, const std::string& what, const std::string& circuit) {
  for (const Json& verdict : answer.at("verdicts")) {
    const Json& reading = verdict.at("reading");
    if (reading.at("what") == what && reading.value("circuit", "") == circuit) return verdict.at("grade");
  }
  return "none";
}

TEST(CliTests, ASoundClinicPassesAndSaysWhatIsStillDue) {
  const Ran ran = judged(clinic);
  EXPECT_EQ(ran.code, 0) << ran.out;
  EXPECT_THAT(ran.err, IsEmpty());
  EXPECT_THAT(ran.out, AllOf(HasSubstr("0 fail"), HasSubstr("Still due"), HasSubstr("Caution:")));
  const Json answer = Json::parse(judged(clinic, {"--json"}).out);
  for (const Json& verdict : answer.at("verdicts"))
    EXPECT_EQ(verdict.at("grade"), "pass") << verdict.at("said") << verdict.at("reading");
  EXPECT_TRUE(answer.at("trends").empty());
}

TEST(CliTests, ThePlantedFaultsOfTheHotelAreFound) {
  const Ran ran = judged(hotel, {"--json"});
  EXPECT_EQ(ran.code, 1);
  const Json answer = Json::parse(ran.out);
  EXPECT_EQ(grade_of(answer, "capacitance", "C01"), "pass");
  EXPECT_EQ(grade_of(answer, "capacitance", "C02"), "fail");
  EXPECT_EQ(grade_of(answer, "insulation-resistance", "C03"), "fail");
  EXPECT_EQ(grade_of(answer, "supply-voltage", "C04"), "fail");
  EXPECT_EQ(grade_of(answer, "current", "C01"), "fail");
  ASSERT_EQ(answer.at("trends").size(), 1U);
  EXPECT_EQ(answer.at("trends")[0].at("what"), "insulation-resistance");
  EXPECT_THAT(judged(hotel).out,
              AllOf(HasSubstr("240 V supply"), HasSubstr("overdue"), HasSubstr("What moves")));
}

TEST(CliTests, JsonKeepsItsSchemas) {
  const Json answer = Json::parse(judged(hotel, {"--json"}).out);
  EXPECT_EQ(validate_text(answer.dump(), "tests"), "");
  Json body{{"readings", Json::array()}};
  for (const Json& verdict : answer.at("verdicts")) body["readings"].push_back(verdict.at("reading"));
  EXPECT_EQ(validate_text(body.dump(), "readings"), "");
  body["readings"][0]["what"] = "curent";
  EXPECT_NE(validate_text(body.dump(), "readings"), "");
  Json spoilt = answer;
  spoilt["verdicts"][0]["grade"] = "good";
  EXPECT_NE(validate_text(spoilt.dump(), "tests"), "");
  spoilt = answer;
  spoilt["due"][0].erase("reading");
  EXPECT_NE(validate_text(spoilt.dump(), "tests"), "");
}

TEST(CliTests, TheSheetIsReadBackAndDueNeedsNoReadings) {
  const Folder folder;
  const std::string sheet = folder.path("sheet.csv");
  EXPECT_EQ(firstdraw({"tests", clinic, "--sheet", sheet}).code, 0);
  EXPECT_THAT(read_file(sheet), AllOf(HasSubstr("what,circuit"), HasSubstr("insulation-resistance,C01")));
  const Ran empty = firstdraw({"tests", clinic, "--readings", sheet, "--json"});
  EXPECT_EQ(empty.code, 0);
  EXPECT_TRUE(Json::parse(empty.out).at("verdicts").empty());
  const Ran due = firstdraw({"tests", clinic, "--due", "--store", folder.path("none.db")});
  EXPECT_EQ(due.code, 0);
  EXPECT_THAT(due.out, AllOf(HasSubstr("on-receipt"), HasSubstr("periodic"), Not(HasSubstr("Readings of"))));
}

TEST(CliTests, WhatGoesWrongIsSaidWithItsPlace) {
  const Folder folder;
  const std::string file = folder.path("readings.csv");
  write_file(file, "what,circuit,value\ncurent,C01,4 A\ncurrent,C99,4 V\n");
  const Ran ran = firstdraw({"tests", clinic, "--readings", file});
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("readings.csv:2"), HasSubstr("\"current\""),
                             HasSubstr("readings.csv:3"), HasSubstr("C99")));
  EXPECT_EQ(firstdraw({"tests", clinic, "--readings", folder.path("none.csv")}).code, 3);
  EXPECT_EQ(firstdraw({"tests", clinic, "--store", folder.path("none.db")}).code, 3);
  EXPECT_EQ(
      firstdraw({"tests", clinic, "--sheet", folder.path("no/such/folder\n/x.csv"), "--readings", file}).code,
      2);
}

}  // namespace
}  // namespace firstdraw::golden
