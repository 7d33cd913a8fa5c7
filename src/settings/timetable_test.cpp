// Timetables by hand, lived through by the controller of the network in time, and read back from job.toml.
#include "settings/timetable.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "draw/control.hpp"
#include "forecast/scene.hpp"
#include "job/folder.hpp"
#include "job/test_folder.hpp"
#include "plan/small_job.hpp"
#include "week/reduced.hpp"

namespace firstdraw::settings {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr double day_s = 86400, hour_s = 3600;
constexpr std::uint8_t all = 0x7f, workdays = 0x1f, weekend = 0x60;

double at(int day, double hour) { return day * day_s + hour * hour_s; }

Timetable one(std::vector<Entry> entries) { return {"winter", {{"main", std::move(entries)}}}; }

job::Period period(std::uint8_t days, double from_h, double to_h, double hold_c) {
  return {"main", days, from_h * hour_s, to_h * hour_s, job::Period::Setting::temperature, hold_c};
}

TEST(Timetable, EntriesRunOnUntilTheNext) {
  const GroupTimetable group{
      "main", {{workdays, 5 * hour_s, 52}, {workdays, 22 * hour_s, 45}, {weekend, 8 * hour_s, {}}}};
  EXPECT_EQ(set_point_c(group, at(0, 5)), 52);
  EXPECT_EQ(set_point_c(group, at(0, 21.99)), 52);
  EXPECT_EQ(set_point_c(group, at(1, 4.99)), 45) << "Monday's night runs into Tuesday";
  EXPECT_EQ(set_point_c(group, at(5, 7)), 45) << "Friday's night runs on until Saturday 08:00";
  EXPECT_EQ(set_point_c(group, at(6, 12)), std::nullopt);
  EXPECT_EQ(set_point_c(group, at(0, 4)), std::nullopt) << "Sunday runs on into Monday";
  EXPECT_EQ(set_point_c(group, at(7, 5)), 52) << "the next week";
  EXPECT_EQ(set_point_c(group, at(-1, 12)), std::nullopt) << "the week before";
  EXPECT_EQ(highest_c(group), 52);
  EXPECT_EQ(lowest_c(group), week::cable_off_c);
  const std::vector<double> steps = by_step(group, 1800);
  ASSERT_EQ(steps.size(), 336u);
  EXPECT_EQ(steps[9], week::cable_off_c);
  EXPECT_EQ(steps[10], 52);
  // Monday begins off and the other working days at 45: programs of their own.
  EXPECT_EQ(from_steps("main", steps, 1800).entries, (std::vector<Entry>{{1, 5 * hour_s, 52},
                                                                         {1, 22 * hour_s, 45},
                                                                         {0b11110, 5 * hour_s, 52},
                                                                         {0b11110, 22 * hour_s, 45},
                                                                         {1 << 5, 8 * hour_s, {}}}));
}

TEST(Timetable, AConstantWeekIsOneEntry) {
  const GroupTimetable constant = from_steps("main", std::vector<double>(336, 50), 1800);
  EXPECT_EQ(constant.entries, (std::vector<Entry>{{all, 0, 50}}));
  EXPECT_TRUE(constant.constant());
  EXPECT_EQ(highest_c(constant), 50);
  EXPECT_EQ(lowest_c(constant), 50);
  const GroupTimetable off = from_steps("main", std::vector<double>(336, week::cable_off_c), 1800);
  EXPECT_EQ(off.entries, (std::vector<Entry>{{all, 0, {}}}));
  EXPECT_EQ(highest_c(off), week::cable_off_c);
}

TEST(Timetable, StepsThatDoNotFillAWeekAreRefused) {
  EXPECT_THROW(from_steps("main", std::vector<double>(335, 50), 1800), std::invalid_argument);
  EXPECT_THROW(from_steps("main", {}, 1800), std::invalid_argument);
}

// Nights of working days: Monday has no early morning of the kind, Saturday no late evening, Sunday neither.
TEST(Timetable, OfTheJobsOwnPeriods) {
  job::Job job = plan::small_job();
  job.groups[0].maintain_c = 52;
  job.groups[0].setback_c = 44;
  job.periods = {{"main", workdays, 22 * hour_s, 5 * hour_s, job::Period::Setting::setback, 0}};
  EXPECT_EQ(timetable_of(job).groups.at(0).entries, (std::vector<Entry>{{1, 22 * hour_s, 44},
                                                                        {0b11110, 5 * hour_s, 52},
                                                                        {0b11110, 22 * hour_s, 44},
                                                                        {0b100000, 5 * hour_s, 52}}));
  job.periods[0].weekdays = all;
  EXPECT_EQ(timetable_of(job).groups.at(0).entries,
            (std::vector<Entry>{{all, 5 * hour_s, 52}, {all, 22 * hour_s, 44}}));
}

TEST(Timetable, LaterPeriodsOfTheJobWin) {
  job::Job job = plan::small_job();
  job.periods = {period(all, 6, 18, 50),
                 period(weekend, 8, 12, 48),
                 {"main", 1 << 6, 10 * hour_s, 11 * hour_s, job::Period::Setting::off, 0}};
  const GroupTimetable group = timetable_of(job).groups.at(0);
  EXPECT_EQ(set_point_c(group, at(0, 9)), 50);
  EXPECT_EQ(set_point_c(group, at(5, 9)), 48);
  EXPECT_EQ(set_point_c(group, at(6, 10.5)), std::nullopt);
  EXPECT_EQ(set_point_c(group, at(6, 11)), 48);
  EXPECT_EQ(set_point_c(group, at(6, 12)), 50);
  EXPECT_EQ(set_point_c(group, at(6, 18)), job.groups[0].maintain_c);
}

TEST(Timetable, BecomesFewPlainPeriods) {
  const job::Job job = with_timetable(
      plan::small_job(), one({{workdays, 5 * hour_s, 52}, {workdays, 22 * hour_s, 45}, {weekend, 0, 45}}));
  EXPECT_EQ(job.groups[0].maintain_c, 52);
  EXPECT_EQ(job.groups[0].setback_c, 45);
  EXPECT_THAT(job.periods,
              testing::UnorderedElementsAre(period(0b01111, 22, 5, 45),   // nights between working days
                                            period(0b10000, 22, 24, 45),  // Friday's evening
                                            period(weekend, 0, 24, 45), period(1, 0, 5, 45)));
}

TEST(Timetable, OneSetPointNeedsNoPeriod) {
  job::Job job = plan::small_job();
  job.periods = {period(all, 22, 5, 40)};
  const job::Job constant = with_timetable(job, one({{all, 0, 51}}));
  EXPECT_THAT(constant.periods, IsEmpty());
  EXPECT_EQ(constant.groups[0].maintain_c, 51);
  EXPECT_EQ(constant.groups[0].setback_c, 51);
  EXPECT_THAT(with_timetable(job, always_on(job)).periods, IsEmpty());
  EXPECT_EQ(with_timetable(job, always_on(job)).groups[0].maintain_c, job.groups[0].maintain_c);
}

TEST(Timetable, AlwaysOffIsOnePeriod) {
  const job::Job off = with_timetable(plan::small_job(), one({{all, 0, {}}}));
  EXPECT_EQ(off.periods, (std::vector<job::Period>{{"main", all, 0, day_s, job::Period::Setting::off, 0}}));
}

TEST(Timetable, AGroupWithoutOneIsRefused) {
  EXPECT_THROW(with_timetable(plan::small_job(), {"", {}}), std::invalid_argument);
  EXPECT_THROW(with_timetable(plan::small_job(), one({})), std::invalid_argument);
}

/// Up to eight entries, overlapping in days, at `step_s`; a tenth of them off.
std::vector<Entry> any_entries(std::mt19937& dice, double step_s, double step_k) {
  const auto below = [&](int end) { return std::uniform_int_distribution(0, end - 1)(dice); };
  std::vector<Entry> entries;
  const int count = 1 + below(8);
  const std::vector<std::uint8_t> programs{all, workdays, weekend};
  for (int i = 0; i < count; ++i) {
    Entry entry;
    const int which = below(5);
    entry.weekdays =
        which < 3 ? programs[static_cast<std::size_t>(which)] : static_cast<std::uint8_t>(1 + below(127));
    entry.begin_s = below(4) == 0 ? 0 : step_s * below(static_cast<int>(day_s / step_s));
    if (below(10) > 0) entry.hold_c = 42 + step_k * below(8);
    entries.push_back(entry);
  }
  return entries;
}

// The true way: the job's periods compiled into the scene, its controller asked what is in force.
TEST(Timetable, IsWhatTheControllerOfTheSceneHolds) {
  const job::Job job = plan::small_job();
  plan::Options quick;
  quick.samples = 0;
  const plan::Plan plan = plan::make_plan(job, quick);
  std::mt19937 dice(1);
  for (int round = 0; round < 200; ++round) {
    const Timetable timetable = one(any_entries(dice, round % 2 == 0 ? 1800 : 60, 1));
    const draw::Scene scene = forecast::make_scene(with_timetable(job, timetable), plan, {});
    const draw::ControlSettings& control = scene.groups.at(0).control;
    std::uniform_real_distribution<double> any_time(0, 3 * 7 * day_s);
    for (int sample = 0; sample < 500; ++sample) {
      const double time_s = sample % 2 == 0 ? any_time(dice) : std::floor(any_time(dice) / 1800) * 1800;
      ASSERT_EQ(draw::set_point_c(control, time_s), set_point_c(timetable.groups[0], time_s))
          << "round " << round << " at " << time_s;
    }
  }
}

TEST(Timetable, AndItsPeriodsAreInverse) {
  const job::Job job = plan::small_job();
  std::mt19937 dice(2);
  for (int round = 0; round < 300; ++round) {
    const GroupTimetable group{"main", any_entries(dice, 900, 0.5)};
    const GroupTimetable plain = from_steps("main", by_step(group, 900), 900);
    const GroupTimetable back = timetable_of(with_timetable(job, {"", {group}})).groups.at(0);
    ASSERT_EQ(back, plain) << "round " << round;
    ASSERT_EQ(by_step(plain, 900), by_step(group, 900));
    ASSERT_EQ(from_steps("main", by_step(group, 900), 900), plain);
  }
}

/// What stands between `key = ` and the end of its value in quotes, quotes included.
std::string quoted_after(const std::string& text, const std::string& key) {
  const auto begin = text.find(key + " = ") + key.size() + 3;
  return text.substr(begin, text.find('"', begin + 1) + 1 - begin);
}

/// As a person does it: the set-points into the group, the periods at the end.
void paste(const job::TestFolder& folder, const std::string& toml) {
  std::string text = folder.text("job.toml");
  for (const char* key : {"maintain", "setback"}) {
    const std::string old = std::string(key) + " = " + quoted_after(text, key);
    text.replace(text.find(old), old.size(), std::string(key) + " = " + quoted_after(toml, key));
  }
  folder.put("job.toml", text + "\n" + toml);
}

class Pasted : public testing::TestWithParam<const char*> {};

TEST_P(Pasted, IntoJobTomlIsTheSameWeek) {
  const bool us = std::string_view(GetParam()) == "us";
  std::mt19937 dice(3);
  for (int round = 0; round < 20; ++round) {
    const job::TestFolder folder;
    folder.change("job.toml", "show = \"us\"", std::string("show = \"") + GetParam() + "\"");
    const auto job = job::read_job(folder.path);
    ASSERT_TRUE(job) << job::texts(job.error());
    Timetable timetable = one(any_entries(dice, 1800, us ? 1 / 1.8 : 1));
    if (us)  // whole degrees Fahrenheit
      for (Entry& entry : timetable.groups[0].entries)
        if (entry.hold_c) entry.hold_c = (std::round(*entry.hold_c * 1.8 + 32) - 32) / 1.8;
    paste(folder, as_toml(*job, timetable));
    const auto back = job::read_job(folder.path);
    ASSERT_TRUE(back) << job::texts(back.error()) << as_toml(*job, timetable);
    EXPECT_EQ(by_step(timetable_of(*back).groups.at(0), 1800), by_step(timetable.groups[0], 1800))
        << as_toml(*job, timetable);
  }
}

INSTANTIATE_TEST_SUITE_P(Timetable, Pasted, testing::Values("us", "metric"));

TEST(Timetable, AsTomlIsWrittenInTheJobsUnits) {
  job::Job job = plan::small_job();
  const std::string us = as_toml(job, one({{all, 5 * hour_s, 55}, {all, 22 * hour_s, 45}}));
  EXPECT_EQ(us,
            "# Season \"winter\". Set these in the groups of job.toml:\n"
            "# [[group]] id = \"main\": maintain = \"131 °F\", setback = \"113 °F\"\n"
            "# and put what follows in the place of every [[period]] there.\n"
            "\n[[period]]\ngroup = \"main\"\ndays = \"all\"\nfrom = \"22:00\"\nto = \"05:00\"\nhold = \"113 "
            "°F\"\n");
  job.units = units::System::metric;
  EXPECT_THAT(as_toml(job, one({{all, 0, 55}})), testing::AllOf(HasSubstr("55 °C"), Not(HasSubstr("°F"))));
  Timetable odd = one({{all, 0, 55}});
  odd.season = "two\nlines";
  EXPECT_THAT(as_toml(job, odd), Not(HasSubstr("two\nlines")));
}

}  // namespace
}  // namespace firstdraw::settings
