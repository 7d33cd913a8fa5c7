// The page of an invented week: what must be said, widths, units, and the line of marks.
#include "cli/week_text.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <sstream>

#include "cli/text.hpp"
#include "cli/week_strip.hpp"
#include "settings/invented_week.hpp"

namespace firstdraw::cli {
namespace {

using settings::invented_week;
using settings::invented_week_job;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

std::string page_of(const job::Job& job, const settings::WeekAnswer& week, int width = 200,
                    std::vector<std::string> sections = usual_week_sections()) {
  Page page(width, false);
  WeekView view;
  view.sections = std::move(sections);
  view.width = width;
  add_week_answer(page, job, week, view);
  return page.text();
}

int widest(const std::string& text) {
  std::istringstream lines(text);
  int most = 0;
  for (std::string line; std::getline(lines, line);) most = std::max(most, display_width(line));
  return most;
}

TEST(WeekText, SavingsNameWhatTheyAreAgainst) {
  const std::string text = page_of(invented_week_job(), invented_week(), 200, {"key"});
  EXPECT_THAT(text, HasSubstr("900 USD a year, 7000 kWh, priced for 2026"));
  EXPECT_THAT(text, HasSubstr("Against always on  saves 300 (25 %), same draws and prices"));
  EXPECT_THAT(text, HasSubstr("saves 200 (18 %)")) << "as described: 1100";
  EXPECT_THAT(text, HasSubstr("costs 50 more (6 %)")) << "the pumped return: 850";
  EXPECT_THAT(text, HasSubstr("gap 1.0 %"));
  EXPECT_THAT(text,
              HasSubstr("Not kept           hot water in time at 1 kind of fixture; what is asked of 1 run; "
                        "the outlet's limit at 1 tap"));
}

TEST(WeekText, SettingsAreInTheJobsUnits) {
  job::Job job = invented_week_job();
  EXPECT_THAT(page_of(job, invented_week(), 80, {"settings"}),
              AllOf(HasSubstr("mon-fri  00:00   111.2 °F"), HasSubstr("05:30     122 °F"),
                    HasSubstr("21:00        off"), HasSubstr("122 °F day and night")));
  job.units = units::System::metric;
  EXPECT_THAT(page_of(job, invented_week(), 80, {"settings"}),
              AllOf(HasSubstr("50 °C"), Not(HasSubstr("°F"))));
}

TEST(WeekText, WhatIsNotKeptSaysNo) {
  const std::string text = page_of(invented_week_job(), invented_week(), 200, {"asked"});
  EXPECT_THAT(text, HasSubstr("1 of 2 heated runs keep what is asked of them in 95 % of the buildings"));
  EXPECT_LT(text.find("R-02"), text.find("R-01")) << "the worst first";
}

TEST(WeekText, EveryAlarmHasItsUnitAndItsFalseRate) {
  const std::string text = page_of(invented_week_job(), invented_week(), 200, {"alarms"});
  EXPECT_THAT(text, AllOf(HasSubstr("105.8 °F"), HasSubstr("below set-point"), HasSubstr("1.5 A")));
  EXPECT_THAT(text, HasSubstr("contactor stuck off  no alarm"));
  EXPECT_THAT(text, HasSubstr("Look at the reading each morning."));
}

TEST(WeekText, NoWeekSaysWhyAndShowsNoSettings) {
  settings::WeekAnswer none;
  none.unmet = {"Group main cannot keep 140 °F."};
  const std::string text = page_of(invented_week_job(), none);
  EXPECT_THAT(text, AllOf(HasSubstr("No week keeps what is asked"), HasSubstr("Group main cannot keep")));
  EXPECT_THAT(text, AllOf(Not(HasSubstr("Set-point")), HasSubstr("Hygiene:"), HasSubstr("Scalding:")));
}

TEST(WeekText, NothingIsWiderThanTheTerminal) {
  for (const int width : {60, 80, 120})
    EXPECT_LE(widest(page_of(invented_week_job(), invented_week(), width, week_sections())), width);
}

TEST(WeekText, CautionsStandBelow) {
  EXPECT_THAT(page_of(invented_week_job(), invented_week()),
              AllOf(HasSubstr("Hygiene:"), HasSubstr("Scalding:")));
}

TEST(WeekStrip, AMarkIsTheHighestSetPointWithinIt) {
  const WeekStrip strip = week_strip(settings::invented_timetable().groups[0], 80);
  EXPECT_EQ(strip.mark_s, 10800) << "eight marks a day in 62 columns";
  EXPECT_EQ(strip.days, "Mon      Tue      Wed      Thu      Fri      Sat      Sun");
  // 44 until 05:30, 50 until 21:00, then off; weekend 49 from 07:00 and 44 from 22:00. Three levels.
  EXPECT_EQ(strip.marks, "▁██████·│▁██████·│▁██████·│▁██████·│▁██████·│··▄▄▄▄▄▄│▁▁▄▄▄▄▄▄");
}

TEST(WeekStrip, FitsWhatItIsGiven) {
  for (const int width : {13, 20, 40, 63, 100, 200}) {
    const WeekStrip strip = week_strip(settings::invented_timetable().groups[0], width);
    EXPECT_LE(display_width(strip.marks), width);
    EXPECT_FALSE(strip.marks.empty());
  }
  EXPECT_TRUE(week_strip(settings::invented_timetable().groups[0], 12).marks.empty());
}

}  // namespace
}  // namespace firstdraw::cli
