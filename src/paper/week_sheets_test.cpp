// The sheets of the week: what is keyed in stands on one page, in both units, and nothing of the plan's sheet
// is lost.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

#include "paper/install.hpp"
#include "paper/test_paper.hpp"
#include "paper/test_week.hpp"
#include "paper/week_settings.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::paper {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

TEST(WeekWords, DaysAreNamedInStretches) {
  EXPECT_EQ(days_text(0x7f), "every day");
  EXPECT_EQ(days_text(0x1f), "Mon–Fri");
  EXPECT_EQ(days_text(0x60), "Sat, Sun");
  EXPECT_EQ(days_text(0x45), "Mon, Wed, Sun");
  EXPECT_EQ(days_text(0), "");
}

TEST(WeekWords, TimesAreOfTwentyFourHours) {
  EXPECT_EQ(clock_text(0), "00:00");
  EXPECT_EQ(clock_text(16.5 * 3600), "16:30");
  EXPECT_EQ(elapsed_text(90), "90 s");
  EXPECT_EQ(elapsed_text(45 * 60), "45 min");
  EXPECT_EQ(elapsed_text(5.5 * 3600), "5.5 h");
  EXPECT_EQ(elapsed_text(INFINITY), "never");
  EXPECT_EQ(day_of_year(10, 1), "1 October");
}

// A day without an entry goes on as the one before: it must not be missing from the program.
TEST(WeekWords, EveryDayOfTheWeekIsInAProgram) {
  const settings::GroupTimetable timetable{"g", {{0x1f, 6 * 3600.0, 55}, {0x1f, 22 * 3600.0, std::nullopt}}};
  const auto programs = programs_of(timetable);
  ASSERT_EQ(programs.size(), 2U);
  EXPECT_EQ(programs[0].weekdays, 0x1f);
  EXPECT_EQ(programs[1].weekdays, 0x60);
  EXPECT_TRUE(programs[1].entries.empty());
  unsigned days = 0;
  for (const WeekProgram& each : programs_of({"g", {{0x10, 0, 50}, {0x02, 60, 40}}})) days |= each.weekdays;
  EXPECT_EQ(days, 0x7fU);
}

class WeekSheets : public testing::Test {
 protected:
  void SetUp() override { with({}); }
  void with(const TestWeek& wanted) {
    job_ = plan::small_job();
    add_taps(job_);
    job_.groups.front().high_cutout_c = 60;
    if (units_) job_.units = *units_;
    plan_ = plan::make_plan(job_, {.samples = 0});
    week_ = test_week(job_, plan_, wanted);
    drawing_ = draw_riser(job_, plan_.network);
  }
  Pack pack() const { return {job_, plan_, drawing_, Show(job_), nullptr, {}, &week_}; }
  int pages_of(const std::string& name, const char* paper, auto set) {
    TestBook book(name, paper);
    const int pages = book.with(set);
    text_ = std::regex_replace(std::regex_replace(book.text(), std::regex("\u00A0"), " "), std::regex("\\s+"),
                               " ");
    return pages;
  }

  std::optional<units::System> units_;
  job::Job job_;
  plan::Plan plan_;
  settings::WeekAnswer week_;
  RiserDrawing drawing_;
  std::string text_;
};

TEST_F(WeekSheets, AGroupsSettingsAreOnePage) {
  for (const auto system : {units::System::us, units::System::metric})
    for (const char* paper : {"letter", "a4"})
      for (const int seasons : {1, 2}) {
        units_ = system;
        with({.seasons = seasons});
        // Two seasons that differ do not fit one letter page yet: cautions and signature go to a second.
        const int most = seasons > 1 && std::string(paper) == "letter" ? 2 : 1;
        EXPECT_LE(pages_of("settings", paper, [&](Book& book) { settings_sheets(book, pack()); }), most)
            << paper << ", " << seasons << " seasons";
        EXPECT_THAT(text_, HasSubstr("Signature"));
      }
}

TEST_F(WeekSheets, BothUnitsStandOnThePage) {
  pages_of("both", "letter", [&](Book& book) { settings_sheets(book, pack()); });
  // 46 °C = 114.8 °F and 38 °C = 100.4 °F by the definition of the Fahrenheit scale.
  for (const char* words : {"114.8 °F · 46 °C",
                            "100.4 °F · 38 °C",
                            "04:30",
                            "16:30",
                            "22:00",
                            "Mon–Fri",
                            "Sat, Sun",
                            "off",
                            "America/Chicago",
                            "Daylight-saving rule",
                            "Sensor, °F",
                            "Sensor, °C",
                            "Low current alarm",
                            "2.4 A, after 15 min",
                            "149 °F · 65 °C",
                            "5 K below it",
                            "What you should read",
                            "What this sheet cannot know",
                            "Legionella",
                            "scald"})
    EXPECT_THAT(text_, HasSubstr(words));
}

// Energy Policy Act of 2005, section 110: second Sunday of March to first Sunday of November.
TEST_F(WeekSheets, TheClocksChangesAreDated) {
  pages_of("clock", "letter", [&](Book& book) { settings_sheets(book, pack()); });
  EXPECT_THAT(text_, HasSubstr("forward Sun 8 March"));
  EXPECT_THAT(text_, HasSubstr("back Sun 1 November 2026"));
}

TEST_F(WeekSheets, NoLineOfThePlansOwnSheetIsLost) {
  plan_.settings.push_back({"main", "Address on the bus", "17", "of the invented kind"});
  plan_.circuits.front().start.delay_s = 45;
  pages_of("lost", "letter", [&](Book& book) { settings_sheets(book, pack()); });
  EXPECT_THAT(text_, HasSubstr("Address on the bus"));
  EXPECT_THAT(text_, HasSubstr("45"));
  EXPECT_THAT(text_, HasSubstr("on about"));
  EXPECT_THAT(text_, HasSubstr("mean power"));
  for (const power::Circuit& circuit : plan_.circuits) {
    EXPECT_THAT(text_, HasSubstr(circuit.id));
    EXPECT_THAT(text_, HasSubstr(count(circuit.peak_a, 1)));
    EXPECT_THAT(text_, HasSubstr(count(circuit.working_a, 1)));
    EXPECT_THAT(text_, HasSubstr(count(circuit.settled_a, 1)));
  }
}

TEST_F(WeekSheets, SeasonsThatDifferEachHaveTheirProgram) {
  with({.seasons = 2});
  pages_of("seasons", "letter", [&](Book& book) { settings_sheets(book, pack()); });
  for (const char* words :
       {"Season: heating season", "Season: summer", "heating season from 1 October", "summer from 1 May"})
    EXPECT_THAT(text_, HasSubstr(words));
}

TEST_F(WeekSheets, AConstantSetPointNeedsNoProgramAndNoClock) {
  with({.constant = true});
  pages_of("constant", "letter", [&](Book& book) { settings_sheets(book, pack()); });
  EXPECT_THAT(text_, HasSubstr("day and night, no program"));
  EXPECT_THAT(text_, Not(HasSubstr("Daylight-saving")));
  EXPECT_THAT(text_, Not(HasSubstr("Period 1")));
}

TEST_F(WeekSheets, EveryDaysOwnProgramIsWhole) {
  with({.each_day = true});
  EXPECT_LE(pages_of("each-day", "letter", [&](Book& book) { settings_sheets(book, pack()); }), 2);
  for (const char* words : {"1: Mon", "7: Sun", "08:00"}) EXPECT_THAT(text_, HasSubstr(words));
}

TEST_F(WeekSheets, AProgramWithManyPeriodsGoesOnInTheNextRow) {
  settings::GroupTimetable timetable{"main", {}};
  for (int hour = 0; hour < 6; ++hour) timetable.entries.push_back({0x7f, hour * 3600.0, 50.0 + hour});
  const Table table = program_table(pack(), timetable);
  EXPECT_EQ(table.columns.size(), 6U);
  ASSERT_EQ(table.rows.size(), 2U);
  EXPECT_THAT(table.rows[1].cells[0], HasSubstr("periods from 5"));
  EXPECT_THAT(table.rows[1].cells[3], HasSubstr("05:00"));
}

TEST_F(WeekSheets, TheSheetsSayWhatIsInTheAnswer) {
  pages_of("week", "letter", [&](Book& book) { the_week(book, pack()); });
  for (const char* words : {"These settings",
                            "Pumped return line",
                            "Invented time-of-use rate",
                            "job.toml, week.comfort",
                            "! missed",
                            "drift alone",
                            "Second-degree burn",
                            "! above its limit",
                            "Why not cheaper",
                            "none asked",
                            "not possible at 0.5 h",
                            "asked by this job",
                            "never less than",
                            "Where the sensor sits best",
                            "Insulation that pays",
                            "1-1/2 in",
                            "sensor off the pipe",
                            "! not in time",
                            "clock 3 h ahead",
                            "growth band",
                            "set-point"})
    EXPECT_THAT(text_, HasSubstr(words));
}

TEST_F(WeekSheets, TheWeeksFindingsAreShownOnce) {
  pages_of("findings", "letter", [&](Book& book) { findings(book, pack()); });
  EXPECT_THAT(text_, HasSubstr("week-run-cold"));
  const std::size_t all = all_findings(pack()).size();
  EXPECT_EQ(all, plan_.findings.size() + 1);
  plan_.findings.push_back(week_.findings.front());  // as a caller that merged them
  EXPECT_EQ(all_findings(pack()).size(), all);
}

TEST_F(WeekSheets, TheCautionsNameTheLowestSetPointOfTheWeek) {
  pages_of("cautions", "letter", [&](Book& book) { cautions(book, pack()); });
  EXPECT_THAT(text_, HasSubstr("Group main is off at times"));
  with({.constant = true});
  pages_of("cautions", "letter", [&](Book& book) { cautions(book, pack()); });
  EXPECT_THAT(text_, HasSubstr("The lowest set-point in this job is 114.8"));
}

TEST_F(WeekSheets, WithoutAWeekThePlansOwnSettingsStand) {
  week_.seasons.clear();
  week_.unmet = {"Group main cannot reach 55 °C."};
  pages_of("unmet", "letter", [&](Book& book) {
    settings_sheets(book, pack());
    the_week(book, pack());
  });
  for (const char* words : {"Setback temperature", "No week of settings keeps", "cannot reach"})
    EXPECT_THAT(text_, HasSubstr(words));
}

}  // namespace
}  // namespace firstdraw::paper
