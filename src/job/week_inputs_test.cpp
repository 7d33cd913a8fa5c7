// What a week of settings needs of a folder: prices and calendar, seasons, controller, wishes, comfort, and
// the use that a space names.
#include <gmock/gmock.h>

#include "job/describe_week.hpp"
#include "job/test_folder.hpp"
#include "job/week_defaults.hpp"

namespace firstdraw::job {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

const char* const tariff = R"(
[tariff]
zone = "America/Chicago"
year = 2026
file = "tariff.csv"
holidays = ["2026-07-03", "2026-12-25"]
holidays_as_weekend = false
demand_window = "15 min"
ratchet_months = 11
other_load = "40 kW"
)";
const char* const seasons = R"(
[[season]]
name = "summer"
from = "06-01"

[[season]]
name = "winter"
from = "10-01"
)";
const char* const controller = R"(
[controller]
clock = "set-points"
programs = "each-day"
periods_a_day = 6
set_points = 3
setting_step = "1 °F"
least_setback = "5 °F"
clock_step = "15 min"
lowest = "100 °F"
highest = "150 °F"
off = false
current = true
)";
const char* const week = R"(
[week]
confidence = "95 %"
band_time = "8 h"
hot_hold = true
hot_hold_at = "140 °F"
hot_hold_log = 4
false_alarms_per_year = 0.5
catch_within = "24 h"
)";
const char* const comfort = R"(
[[comfort]]
fixture = "lavatory"
share = "80 %"
within = "20 s"

[[comfort]]
fixture = "*"
)";

void append(const TestFolder& folder, const std::string& sections) {
  folder.put("job.toml", folder.text("job.toml") + sections);
}

Job job_with(const TestFolder& folder, const std::string& sections) {
  append(folder, sections);
  const auto job = read_job(folder.path);
  EXPECT_TRUE(job) << texts(job.error());
  return job.value_or(Job{});
}

std::string replaced(std::string text, const std::string& old, const std::string& now) {
  const auto at = text.find(old);
  EXPECT_NE(at, std::string::npos) << old;
  return at == std::string::npos ? text : text.replace(at, old.size(), now);
}

/// Fields of the assumptions that begin so.
std::vector<std::string> assumed(const Job& job, const std::string& begins) {
  std::vector<std::string> fields;
  for (const auto& assumption : job.assumptions)
    if (assumption.field.starts_with(begins)) fields.push_back(assumption.field);
  return fields;
}

TEST(WeekInputs, AJobWithoutThemIsAskedNothing) {
  const TestFolder folder;
  const Job job = job_with(folder, "");
  EXPECT_EQ(job.tariff, Tariff{});
  EXPECT_EQ(job.week, WeekWishes{});
  EXPECT_EQ(job.controller, usual_controller(System::us));
  for (const char* section : {"tariff", "season", "controller", "week", "comfort"})
    EXPECT_THAT(assumed(job, section), IsEmpty());
}

TEST(WeekInputs, ReadTheTariffWithItsFile) {
  const TestFolder folder;
  folder.put("tariff.csv", "charge,price\r\n,0.15\n");
  const Job job = job_with(folder, std::string(tariff) + seasons);
  EXPECT_EQ(job.tariff, (Tariff{"America/Chicago",
                                2026,
                                "tariff.csv",
                                "charge,price\r\n,0.15\n",
                                {"2026-07-03", "2026-12-25"},
                                false,
                                900,
                                11,
                                40000,
                                {{"summer", 6, 1}, {"winter", 10, 1}}}));
  EXPECT_THAT(assumed(job, "tariff"), IsEmpty());
}

TEST(WeekInputs, OfATariffFileSayWhatIsAssumed) {
  const TestFolder folder;
  folder.put("tariff.json", "{}");
  const Job job = job_with(folder, "[tariff]\nfile = \"tariff.json\"\n");
  EXPECT_THAT(assumed(job, "tariff"),
              ElementsAre("tariff.holidays", "tariff.ratchet_months", "tariff.other_load"));
}

TEST(WeekInputs, ReadTheController) {
  const TestFolder folder;
  const Job job = job_with(folder, controller);
  using Limits = ControllerLimits;
  EXPECT_EQ(job.controller.clock, Limits::Clock::set_points);
  EXPECT_EQ(job.controller.programs, Limits::Programs::each_day);
  EXPECT_EQ(job.controller.periods_a_day, 6);
  EXPECT_EQ(job.controller.set_points, 3);
  EXPECT_DOUBLE_EQ(job.controller.step_k, 1 / 1.8);
  EXPECT_DOUBLE_EQ(job.controller.least_setback_k, 5 / 1.8);
  EXPECT_EQ(job.controller.clock_step_s, 900);
  EXPECT_DOUBLE_EQ(job.controller.lowest_c, 68 / 1.8);
  EXPECT_DOUBLE_EQ(job.controller.highest_c, 118 / 1.8);
  EXPECT_FALSE(job.controller.off);
  EXPECT_TRUE(job.controller.current);
  EXPECT_THAT(assumed(job, "controller"), IsEmpty());
}

TEST(WeekInputs, AssumeOnlyWhatTheClockLooksAt) {
  const TestFolder folder;
  const Job plain = job_with(folder, "[controller]\nclock = \"none\"\n");
  EXPECT_THAT(assumed(plain, "controller"), ElementsAre("controller.setting_step", "controller.lowest",
                                                        "controller.highest", "controller.current"));
  folder.change("job.toml", "clock = \"none\"", "clock = \"on-off\"");
  const auto on_off = read_job(folder.path);
  ASSERT_TRUE(on_off) << texts(on_off.error());
  EXPECT_TRUE(on_off->controller.off);
  EXPECT_THAT(
      assumed(*on_off, "controller"),
      ElementsAre("controller.programs", "controller.periods_a_day", "controller.setting_step",
                  "controller.clock_step", "controller.lowest", "controller.highest", "controller.current"));
}

TEST(WeekInputs, ReadWishesAndComfort) {
  const TestFolder folder;
  const Job job = job_with(folder, std::string(week) + comfort);
  EXPECT_EQ(job.week.confidence_frac, 0.95);
  EXPECT_EQ(job.week.band_h, 8);
  EXPECT_TRUE(job.week.hot_hold);
  EXPECT_DOUBLE_EQ(job.week.hot_hold_c, 60);
  EXPECT_EQ(job.week.hot_hold_log, 4);
  EXPECT_EQ(job.week.false_alarms_per_year, 0.5);
  EXPECT_EQ(job.week.catch_within_s, 86400);
  EXPECT_EQ(job.week.comfort, (std::vector<ComfortTarget>{{"lavatory", 0.8, 20}, {"*", 0.9, 30}}));
  EXPECT_THAT(assumed(job, "week"), IsEmpty());
  EXPECT_THAT(assumed(job, "comfort"), ElementsAre("comfort.share", "comfort.within"));
}

TEST(WeekInputs, WithoutAHotHoldAssumeNothingAboutIt) {
  const TestFolder folder;
  const Job job = job_with(folder, "[week]\n");
  EXPECT_EQ(job.week, WeekWishes{});
  EXPECT_THAT(assumed(job, "week"), ElementsAre("week.confidence", "week.hot_hold",
                                                "week.false_alarms_per_year", "week.catch_within"));
}

TEST(WeekInputs, ThatAreLeftOutCanBeAskedFor) {
  const TestFolder folder;
  Job job = job_with(folder, "");
  const auto taken = week_defaults(job);
  ASSERT_EQ(taken.size(), 15u);  // all keys of both but those of a hot hold and the time in the band
  EXPECT_EQ(taken[0].field, "controller.clock");
  EXPECT_EQ(taken[4].value, "1 °F");
  EXPECT_EQ(taken[11].field, "week.confidence");
  job.assumptions.push_back(taken[0]);
  EXPECT_EQ(week_defaults(job).size(), 14u);
  const TestFolder other;
  EXPECT_THAT(week_defaults(job_with(other, std::string(controller) + week)), IsEmpty());
}

TEST(WeekInputs, BandTimeMayBeMinutes) {
  const TestFolder folder;
  const Job job = job_with(folder, replaced(week, "8 h", "90 min"));
  EXPECT_EQ(job.week.band_h, 1.5);
}

TEST(WeekInputs, ComeBackWhenWritten) {
  for (const std::string& sections :
       {std::string(tariff) + seasons + controller + week + comfort, std::string("[controller]\n[week]\n"),
        std::string("[controller]\nclock = \"none\"\n"),
        std::string("[tariff]\nzone = \"Europe/Berlin\"\n")}) {
    const TestFolder folder;
    folder.put("tariff.csv", "charge,price\r\n,0.15\n");
    const Job job = job_with(folder, sections);
    const auto elsewhere = folder.path / "elsewhere";
    const auto written = write_job(job, elsewhere);
    ASSERT_TRUE(written) << texts(written.error());
    const auto again = read_job(elsewhere);
    ASSERT_TRUE(again) << texts(again.error());
    EXPECT_TRUE(*again == job) << sections;
  }
}

TEST(WeekInputs, AnyTimeInTheBandComesBack) {
  for (const double time_h : {0.1, 1.0 / 3, 7.3, 11.0 / 7, 168.0, 1e-3}) {
    const auto again = hours.read(hours.write(time_h, System::us));
    ASSERT_TRUE(again) << again.error();
    EXPECT_EQ(*again, time_h);
  }
}

TEST(SpaceUse, MayBeAUseOfTheJobOrAPublishedOne) {
  const TestFolder folder;
  folder.change("job.toml", "name = \"Plant room\"\n", "name = \"Plant room\"\nuse = \"exam\"\n");
  folder.change("job.toml", "name = \"Ceiling void\"\n", "name = \"Ceiling void\"\nuse = \"hospital\"\n");
  const Job job = job_with(folder, "\n[[use]]\nid = \"exam\"\nlike = \"office\"\n");
  ASSERT_GE(job.spaces.size(), 2u);
  EXPECT_EQ(job.spaces[0].use, "exam");
  EXPECT_EQ(job.spaces[1].use, "hospital");
}

TEST(SpaceUse, ThatLeadsNowhereIsASlip) {
  const TestFolder folder;
  folder.change("job.toml", "name = \"Plant room\"\n", "name = \"Plant room\"\nuse = \"hopsital\"\n");
  EXPECT_THAT(folder.problems(), AllOf(HasSubstr("job.toml:"),
                                       HasSubstr("space.plant.use: there is no use profile \"hopsital\" (did "
                                                 "you mean \"hospital\"?)")));
}

// ---- Slips

struct Slip {
  const char* name;
  std::string sections;
  const char* says;
};
void PrintTo(const Slip& slip, std::ostream* out) { *out << slip.name; }

class SlipInTheWeek : public testing::TestWithParam<Slip> {};

TEST_P(SlipInTheWeek, IsTheOnlyProblemAndSaysWhere) {
  const TestFolder folder;
  folder.put("tariff.csv", "");
  append(folder, GetParam().sections);
  const auto job = read_job(folder.path);
  ASSERT_FALSE(job);
  EXPECT_EQ(job.error().size(), 1u) << texts(job.error());
  EXPECT_THAT(texts(job.error()), AllOf(HasSubstr("job.toml:1"), HasSubstr(GetParam().says)));
}

Slip slip(const char* name, const char* section, const char* old, const char* now, const char* says) {
  return {name, replaced(section, old, now), says};
}

INSTANTIATE_TEST_SUITE_P(
    Tariff, SlipInTheWeek,
    testing::Values(
        slip("Key", tariff, "zone", "zoen", "tariff.zoen: is not a known key (did you mean \"zone\"?)"),
        slip("Year", tariff, "2026\n", "2038\n", "tariff.year: must be a year from 1970 to 2037"),
        slip("YearAsText", tariff, "2026\n", "\"2026\"\n", "tariff.year: a whole number"),
        slip("File", tariff, "\"tariff.csv\"", "\"tarif.csv\"",
             "tariff.file: the job folder has no file \"tarif.csv\" (did you mean \"tariff.csv\"?)"),
        slip("Outside", tariff, "\"tariff.csv\"", "\"../tariff.csv\"",
             "tariff.file: must be the plain name of a file in the job folder"),
        slip("Absolute", tariff, "\"tariff.csv\"", "\"/etc/tariff.csv\"", "must be the plain name of a file"),
        slip("Kind", tariff, "\"tariff.csv\"", "\"tariff.txt\"", "tariff.file: must end in .csv or .json"),
        slip("OurOwn", tariff, "\"tariff.csv\"", "\"runs.csv\"", "runs.csv is a table of the job itself"),
        slip("Date", tariff, "2026-12-25", "25.12.2026",
             "tariff.holidays: \"25.12.2026\" is no date: write year, month and day such as \"2026-12-25\""),
        slip("NoSuchDate", tariff, "2026-12-25", "2026-02-29", "there is no \"2026-02-29\""),
        slip("BareDate", tariff, "\"2026-12-25\"", "2026-12-25", "text in quotes was expected"),
        slip("DateTwice", tariff, "2026-12-25", "2026-07-03", "\"2026-07-03\" is there twice"),
        slip("OtherYear", tariff, "\"2026-07-03\", \"2026-12-25\"", "\"2025-07-04\"",
             "tariff.holidays: none of them lies in 2026"),
        slip("Window", tariff, "15 min", "7 min", "tariff.demand_window: must divide an hour"),
        slip("LongWindow", tariff, "15 min", "2 h", "tariff.demand_window: must be between 1 min and 1 h"),
        slip("Ratchet", tariff, "ratchet_months = 11", "ratchet_months = 0",
             "tariff.ratchet_months: must be"),
        slip("Load", tariff, "40 kW", "40 kWh", "tariff.other_load: \"40 kWh\": unknown unit")),
    [](const auto& one) { return std::string(one.param.name); });

INSTANTIATE_TEST_SUITE_P(
    Season, SlipInTheWeek,
    testing::Values(
        slip("From", seasons, "06-01", "6/1", "season.from: \"6/1\" is no day of the year"),
        slip("NoSuchDay", seasons, "06-01", "06-31", "season.from: there is no \"06-31\" in a year"),
        slip("LeapDay", seasons, "06-01", "02-29", "season.from: 29 February is not in every year"),
        slip("SameDay", seasons, "10-01", "06-01", "season.from: the season \"summer\" begins on this day"),
        slip("SameName", seasons, "winter", "summer", "season.name: the season \"summer\" is there twice"),
        slip("NoName", seasons, "name = \"winter\"\n", "", "season.name: is missing")),
    [](const auto& one) { return std::string(one.param.name); });

INSTANTIATE_TEST_SUITE_P(
    Controller, SlipInTheWeek,
    testing::Values(
        slip("Clock", controller, "\"set-points\"", "\"set-point\"", "did you mean \"set-points\"?"),
        slip("Programs", controller, "\"each-day\"", "\"daily\"",
             "controller.programs: \"daily\" is not known; expected one, workdays-weekend or each-day"),
        slip("Periods", controller, "periods_a_day = 6", "periods_a_day = 13",
             "controller.periods_a_day: must be between 1 and 12"),
        slip("SetPoints", controller, "set_points = 3", "set_points = 0",
             "controller.set_points: must be between 1 and 12"),
        slip("Step", controller, "\"1 °F\"", "\"0 °F\"", "controller.setting_step: must be more than zero"),
        slip("ClockStep", controller, "15 min", "25 min", "controller.clock_step: must divide an hour"),
        slip("QuickClock", controller, "15 min", "1 min", "controller.clock_step: must be between 5 min"),
        slip("Order", controller, "100 °F", "160 °F", "controller.lowest: must be below highest"),
        slip("OnOff", controller, "\"set-points\"", "\"on-off\"", "controller.off: must be true"),
        slip("Flag", controller, "current = true", "current = \"yes\"", "controller.current: true or false")),
    [](const auto& one) { return std::string(one.param.name); });

INSTANTIATE_TEST_SUITE_P(
    Week, SlipInTheWeek,
    testing::Values(
        slip("Confidence", week, "95 %", "99.9 %", "week.confidence: must be between 50 % and 99 %"),
        slip("Band", week, "8 h", "200 h", "week.band_time: must be more than zero and at most a week"),
        slip("NoBand", week, "8 h", "0 h", "week.band_time: must be more than zero and at most a week"),
        slip("BandUnit", week, "8 h", "8", "week.band_time: \"8\" has no unit"),
        slip("LukewarmHold", week, "140 °F", "120 °F", "week.hot_hold_at: must be between 50 °C and 80 °C"),
        slip("Log", week, "hot_hold_log = 4", "hot_hold_log = 0", "week.hot_hold_log: must be more than 0"),
        slip("Alarms", week, "0.5", "-1", "week.false_alarms_per_year: must be zero or more"),
        slip("Catch", week, "24 h", "0 h", "week.catch_within: must be more than zero"),
        slip("List", week, "[week]", "[[week]]", "week: a section was expected (write [week])")),
    [](const auto& one) { return std::string(one.param.name); });

INSTANTIATE_TEST_SUITE_P(
    Comfort, SlipInTheWeek,
    testing::Values(slip("Fixture", comfort, "\"lavatory\"", "\"lavatry\"", "did you mean \"lavatory\"?"),
                    slip("Twice", comfort, "\"lavatory\"", "\"*\"", "comfort.fixture: \"*\" is there twice"),
                    slip("Share", comfort, "80 %", "0 %", "comfort.share: must be more than 0 and at most 1"),
                    slip("Within", comfort, "20 s", "20", "comfort.within: \"20\" has no unit"),
                    Slip{"AList", "[comfort]\nfixture = \"*\"\n",
                         "comfort: a list of sections was expected"}),
    [](const auto& one) { return std::string(one.param.name); });

}  // namespace
}  // namespace firstdraw::job
