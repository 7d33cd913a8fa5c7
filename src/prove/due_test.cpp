// Which tests are due at which stage, what answers them, and what moves from test to test.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "plan/finding_catalogue.hpp"
#include "prove/field_test_job.hpp"
#include "prove/readings_file.hpp"

namespace firstdraw::prove {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;
using testing::SizeIs;

struct Judged {
  std::vector<Reading> readings;
  std::vector<Verdict> verdicts = us().judge(readings);
  std::vector<Due> due = due_tests(us().job, us().plan, readings, verdicts);
  std::vector<Trend> moving = trends(us().job, us().plan, readings, verdicts);

  const Due& test(std::string_view id) const { return *std::ranges::find(due, id, &Due::test); }
};

Reading insulation(double megohm, Stage stage, std::string at, std::optional<double> cable_c = 20) {
  Reading reading = us().reading(What::insulation_resistance, 1e6 * megohm, stage);
  reading.at = std::move(at);
  reading.cable_c = cable_c;
  return reading;
}

TEST(DueTests, EveryTestOfEveryStageInTheOrderOfWork) {
  const Judged none{{}};
  EXPECT_EQ(none.due.size(),
            rules::field_tests(rules::RuleSet::us).size() - 1);  // one class of supply wiring
  EXPECT_TRUE(std::ranges::is_sorted(none.due, {}, &Due::stage));
  EXPECT_TRUE(none.test("insulated-labels").looked_at);
  EXPECT_FALSE(none.test("ready-voltage").looked_at);
  for (const Due& due : none.due) EXPECT_FALSE(due.reading || due.grade) << due.test;
  EXPECT_THAT(none.due, Not(Contains(testing::Field(&Due::test, "ready-supply-wiring-600"))));
}

TEST(DueTests, TheLatestReadingOfTheStageAnswers) {
  const Judged judged{{insulation(5, Stage::fixed, "2026-05-01"), insulation(800, Stage::fixed, "2026-05-02"),
                       us().reading(What::sensor_resistance, 109.7)}};
  EXPECT_EQ(judged.test("fixed-insulation-resistance").reading, 1U);
  EXPECT_EQ(judged.test("fixed-insulation-resistance").grade, Grade::pass);
  EXPECT_FALSE(judged.test("insulated-insulation-resistance").reading);
  EXPECT_EQ(judged.test("ready-sensor").grade, Grade::doubt);  // nothing to compare with, stage left out
}

TEST(DueTests, ThePeriodicTestWantsAllItsReadingsAndTakesTheWorst) {
  std::vector<Reading> all{insulation(800, Stage::periodic, ""),
                           us().reading(What::continuity, 1, Stage::periodic),
                           us().reading(What::supply_voltage, 196.5, Stage::periodic)};
  EXPECT_FALSE((Judged{all}.test("periodic-circuit").reading));
  all.push_back(us().reading(What::trip_button, 1, Stage::periodic));
  const Judged judged{all};
  EXPECT_EQ(judged.test("periodic-circuit").reading, 3U);
  EXPECT_EQ(judged.test("periodic-circuit").grade,
            std::ranges::max(judged.verdicts, {}, &Verdict::grade).grade);
}

TEST(BlankSheet, ReadsBackToNothingUntilItIsFilledIn) {
  const std::string sheet = blank_sheet(us().job, us().plan);
  const auto empty = read_readings(sheet, "sheet.csv", us().job, us().plan);
  ASSERT_TRUE(empty);
  EXPECT_THAT(*empty, IsEmpty());
  const std::vector<Reading> rows = sheet_rows(us().job, us().plan);
  EXPECT_GT(rows.size(), 10U);
  for (const auto* what :
       {"insulation-resistance", "capacitance", "sensor-resistance", "current", "trip-button"})
    EXPECT_THAT(sheet, HasSubstr(what));
  // What was measured goes into the value column of its row.
  std::string filled = sheet;
  const std::string row = "capacitance,C01,,,,,fixed";
  const auto at = filled.find(row);
  ASSERT_NE(at, std::string::npos);
  filled.replace(at, row.size(), "capacitance,C01,,,,18 nF,fixed");
  const auto read = read_readings(filled, "sheet.csv", us().job, us().plan);
  ASSERT_TRUE(read) << read.error().front().text();
  ASSERT_THAT(*read, SizeIs(1));
  EXPECT_NEAR(read->front().value, 18e-9, 1e-21);
}

TEST(Trends, InsulationResistanceThatFallsBeyondTolerances) {
  const Judged falling{{insulation(900, Stage::fixed, "2026-05-01"),
                        insulation(600, Stage::insulated, "2026-05-09"),
                        insulation(60, Stage::periodic, "2027-05-01")}};
  ASSERT_THAT(falling.moving, SizeIs(1));
  EXPECT_EQ(falling.moving[0].what, What::insulation_resistance);
  EXPECT_THAT(falling.moving[0].readings, ElementsAre(0, 1, 2));
  EXPECT_NEAR(falling.moving[0].change_frac, 60.0 / 900 - 1, 1e-12);
  EXPECT_THAT(falling.moving[0].said, AllOf(HasSubstr("C01"), HasSubstr("900 MΩ"), HasSubstr("60 MΩ")));
  for (const Verdict& verdict : falling.verdicts) EXPECT_EQ(verdict.grade, Grade::pass);
}

// By hand: two testers of 5 % explain a ratio of 0.95/1.05 = 0.905; 40 °C against 20 °C explains a quarter of
// the value, and to a third less by the rule's spread.
TEST(Trends, WhatTolerancesExplainIsNone) {
  const auto moves = [](const Reading& first, const Reading& last) {
    return !Judged{{first, last}}.moving.empty();
  };
  const Reading first = insulation(1000, Stage::fixed, "2026-05-01");
  EXPECT_FALSE(moves(first, insulation(910, Stage::periodic, "2027-05-01")));
  EXPECT_TRUE(moves(first, insulation(900, Stage::periodic, "2027-05-01")));
  EXPECT_FALSE(moves(first, insulation(250, Stage::periodic, "2027-05-01", 40)));
  EXPECT_FALSE(moves(first, insulation(160, Stage::periodic, "2027-05-01", 40)));
  EXPECT_TRUE(moves(first, insulation(140, Stage::periodic, "2027-05-01", 40)));
  EXPECT_FALSE(moves(first, insulation(460, Stage::periodic, "2027-05-01", {})));  // temperature unknown
  EXPECT_FALSE(moves(insulation(250, Stage::fixed, ""), insulation(900, Stage::periodic, "")));  // it rose
}

TEST(Trends, BeyondTheRangeIsABound) {
  Reading first = insulation(2000, Stage::fixed, "2026-05-01"),
          last = insulation(2000, Stage::periodic, "2027-05-01");
  first.at_least = last.at_least = true;
  EXPECT_THAT((Judged{{first, last}}.moving), IsEmpty());
  EXPECT_THAT((Judged{{first, insulation(100, Stage::periodic, "2027-05-01")}}.moving), SizeIs(1));
}

TEST(Trends, CurrentAtLikeTemperatureAndLength) {
  Reading first = us().reading(What::current, 0, Stage::energised), last = first;
  first.at = "2026-06-01";
  last.at = "2028-06-01";
  last.stage = Stage::periodic;
  first.cable_c = 46;
  last.cable_c = 30;  // colder: more current is expected
  first.volts = last.volts = 207;
  const auto usual = us().judge({first, last});
  first.value = usual[0].expected.usual;
  last.value = usual[1].expected.usual;
  EXPECT_THAT((Judged{{first, last}}.moving), IsEmpty());
  last.value *= 0.7;
  const Judged aged{{first, last}};
  ASSERT_THAT(aged.moving, SizeIs(1));
  EXPECT_NEAR(aged.moving[0].change_frac, -0.3, 1e-9);

  Reading fixed = us().reading(What::capacitance, 18e-9, Stage::fixed);
  Reading later = us().reading(What::capacitance, 12e-9, Stage::periodic);
  ASSERT_THAT((Judged{{fixed, later}}.moving), SizeIs(1));
  EXPECT_THAT((Judged{{fixed, later}}.moving[0].said), HasSubstr("shorter"));
  later.value = 17.4e-9;
  EXPECT_THAT((Judged{{fixed, later}}.moving), IsEmpty());
  fixed.stage = Stage::on_receipt;  // the reel is longer than the circuit
  later.value = 12e-9;
  EXPECT_THAT((Judged{{fixed, later}}.moving), IsEmpty());
}

TEST(Findings, EveryKindIsInTheCatalogueAndAcceptedAsTheJobSays) {
  std::vector<Reading> all;
  for (const WhatHelp& help : what_help()) {
    Reading reading = us().reading(help.what, 1, Stage::energised);
    all.push_back(reading);
  }
  std::vector<Verdict> verdicts = us().judge(all);
  for (Verdict& verdict : verdicts) verdict.grade = Grade::fail;
  for (const auto& finding : findings(us().job, all, verdicts, {}))
    EXPECT_EQ(plan::catalogue_entry(finding.id).subject, plan::tests_subject) << finding.id;
  for (Verdict& verdict : verdicts) verdict.grade = Grade::doubt;
  for (const auto& finding : findings(us().job, all, verdicts, {})) EXPECT_EQ(finding.id, "test-doubt");

  job::Job job = us().job;
  job.accepted = {{"test-insulation", "C01", "reel for another job", "A. Tester", "2026-05-01"}};
  const std::vector<Reading> failed{insulation(1, Stage::fixed, "")};
  const auto found = findings(job, failed, us().judge(failed), {});
  ASSERT_THAT(found, SizeIs(1));
  EXPECT_TRUE(found[0].accepted);
  EXPECT_EQ(found[0].severity, plan::Severity::stop);
  EXPECT_EQ(found[0].place, "C01");
}

}  // namespace
}  // namespace firstdraw::prove
