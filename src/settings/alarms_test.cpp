// Alarms of a small building: what they promise must hold in weeks they were not set on.
#include "settings/alarms.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>

#include "settings/alarm_choice.hpp"
#include "settings/current_alarm.hpp"
#include "settings/cut_out.hpp"
#include "settings/small_settings_job.hpp"

namespace firstdraw::settings {
namespace {

using forecast::FaultKind;
using Kind = Alarm::Kind;

constexpr int weeks = 13;

/// Held at 55 by day and at 50 from 22:00 to 05:00; four false alarms a year allowed, so one in a quarter.
struct AlarmCase {
  job::Job job = washing_job();
  plan::Plan plan = plan::make_plan(job, {.samples = 0});
  Timetable timetable{"", {{"main", {{0x7f, 5 * 3600.0, 55}, {0x7f, 22 * 3600.0, 50}}}}};
  ProofOptions options;

  AlarmCase() { job.week.false_alarms_per_year = 4; }
  std::vector<GroupAlarms> set() const { return set_alarms(job, plan, timetable, options, weeks); }
};

const AlarmCase& small() {
  static const AlarmCase made;
  return made;
}
const GroupAlarms& small_alarms() {
  static const std::vector<GroupAlarms> made = small().set();
  return made.at(0);
}

const Alarm& alarm_of(Kind kind, bool follows = false) {
  return *std::ranges::find_if(small_alarms().alarms, [&](const Alarm& alarm) {
    return alarm.kind == kind && alarm.follows_set_point == follows;
  });
}
const Planted& planted_as(const std::string& text) {
  return *std::ranges::find(small_alarms().planted, text, &Planted::text);
}

OrdinaryYear year_of(std::uint64_t seed) {
  ProofOptions options = small().options;
  options.seed = seed;
  const Lab lab(small().job, small().plan, small().timetable, options);
  forecast::SharedProgress progress({}, weeks);
  return live_ordinary(lab, options, weeks, progress);
}

/// Beyond the limit at every reading of the delay, by the words of alarms.hpp.
bool is_beyond(const Alarm& alarm, double reading_c, double time_s) {
  if (alarm.kind == Kind::high_temperature) return reading_c > alarm.limit + 1e-6;
  if (!alarm.follows_set_point) return reading_c < alarm.limit - 1e-6;
  const auto set_c = set_point_c(small().timetable.groups[0], time_s);
  return set_c && reading_c < *set_c + alarm.limit - 1e-6;
}

int counted(const Alarm& alarm, const OrdinaryYear& year) {
  int count = 0;
  for (const auto& week : year.groups[0].reading_c) {
    double since_s = -1;
    bool raised = false;
    for (std::size_t i = 0; i < week.size(); ++i) {
      const double now_s = static_cast<double>(i) * alarm_step_s;
      if (!is_beyond(alarm, static_cast<double>(week[i]), now_s)) {
        since_s = -1;
        raised = false;
        continue;
      }
      if (since_s < 0) since_s = now_s;
      if (!raised && now_s - since_s >= alarm.delay_s) raised = ++count > 0;
    }
  }
  return count;
}

TEST(Alarms, EveryTemperatureAlarmIsThere) {
  EXPECT_EQ(small_alarms().group, "main");
  EXPECT_EQ(small_alarms().simulated_weeks, weeks);
  ASSERT_EQ(small_alarms().alarms.size(), 3U) << "low, high, low that follows; current is not measured";
  EXPECT_LT(alarm_of(Kind::low_temperature).limit, 50) << "below the set-back, or it would trip every night";
  EXPECT_GT(alarm_of(Kind::high_temperature).limit, 56);
  EXPECT_LT(alarm_of(Kind::low_temperature, true).limit, 0);
}

TEST(Alarms, LimitsAreStepsOfTheController) {
  for (const Alarm& alarm : small_alarms().alarms) {
    if (alarm.follows_set_point) continue;
    const double steps = (alarm.limit + 160.0 / 9) / small().job.controller.step_k;  // from 0 degF
    EXPECT_NEAR(steps, std::round(steps), 1e-6);
  }
}

TEST(Alarms, FalseAlarmsRecountedOnTheReadings) {
  const OrdinaryYear year = year_of(small().options.seed);
  for (const Alarm& alarm : small_alarms().alarms) {
    EXPECT_EQ(counted(alarm, year) * 52.0 / weeks, alarm.events_per_year);
    EXPECT_LE(alarm.events_per_year, small().job.week.false_alarms_per_year);
  }
}

// Promised 4 a year, hence 1 in these weeks: more than 4 would happen to 1 in 270 (Poisson).
TEST(Alarms, OtherWeeksDoNotTripThemMuchMoreOften) {
  const OrdinaryYear other = year_of(4711);
  for (const Alarm& alarm : small_alarms().alarms) EXPECT_LE(counted(alarm, other), 4);
}

// Other draws, and other times of the week than those the promise was made on.
TEST(Alarms, PlantedFaultsAreCaughtAsPromisedInOtherWeeks) {
  const Lab lab(small().job, small().plan, small().timetable, small().options);
  Planting planting{{}, 86400 * 2, 2, 99, 2};
  for (const double begin_s : fault_begins_s(lab, small().timetable, 7))
    planting.begins_s.push_back(std::fmod(begin_s + 5400, draw::week_s));
  const std::size_t tasks = planting_tasks(lab, planting);
  forecast::SharedProgress progress({}, tasks);
  const auto courses = plant_faults(lab, planting, progress, 0);
  ASSERT_EQ(courses.size(), tasks);
  int promised = 0;
  for (const FaultCourse& course : courses) {
    const Planted& planted = *std::ranges::find_if(small_alarms().planted, [&](const Planted& one) {
      return forecast::read_fault(one.text, small().job, small().plan)->kind == course.kind;
    });
    if (!planted.in_time) continue;
    ++promised;
    double after_s = std::numeric_limits<double>::infinity();
    for (const Alarm& alarm : small_alarms().alarms) {
      if (alarm.follows_set_point) continue;
      const AlarmView view{alarm.kind, false, small().timetable.groups[0]};
      after_s = std::min(after_s, caught_after_s(view, alarm, course));
    }
    EXPECT_LE(after_s, small().job.week.catch_within_s) << planted.fault << " at " << course.begin_s;
  }
  EXPECT_GT(promised, 0);
}

TEST(Alarms, WhatNoReadingTellsIsSaid) {
  const Planted& lost = planted_as("sensor-lost:main");
  EXPECT_FALSE(lost.caught_by);
  EXPECT_FALSE(lost.in_time);
  EXPECT_THAT(lost.otherwise, testing::HasSubstr("broken or shorted sensor"));
  EXPECT_TRUE(planted_as("contactor-stuck-off:main").caught_by == Kind::low_temperature);
  EXPECT_TRUE(planted_as("sensor-off-pipe:main").caught_by == Kind::low_temperature);
  for (const Planted& planted : small_alarms().planted) {
    EXPECT_EQ(planted.otherwise.empty(), planted.in_time) << planted.fault;
    EXPECT_TRUE(forecast::read_fault(planted.text, small().job, small().plan)) << planted.text;
  }
}

TEST(Alarms, TheSameForAnyNumberOfThreads) {
  AlarmCase made;
  const auto set = [&made](int threads) {
    made.options.threads = threads;
    return set_alarms(made.job, made.plan, made.timetable, made.options, 3).at(0);
  };
  const GroupAlarms alone = set(1), together = set(3);
  ASSERT_EQ(alone.alarms.size(), together.alarms.size());
  for (std::size_t a = 0; a < alone.alarms.size(); ++a) {
    EXPECT_EQ(alone.alarms[a].limit, together.alarms[a].limit);
    EXPECT_EQ(alone.alarms[a].delay_s, together.alarms[a].delay_s);
    EXPECT_EQ(alone.alarms[a].worst_ordinary, together.alarms[a].worst_ordinary);
  }
  for (std::size_t p = 0; p < alone.planted.size(); ++p)
    EXPECT_EQ(alone.planted[p].after_s, together.planted[p].after_s);
}

TEST(Alarms, StoppedIsEmpty) {
  AlarmCase stopped;
  stopped.options.progress = [](double) { return false; };
  EXPECT_TRUE(set_alarms(stopped.job, stopped.plan, stopped.timetable, stopped.options, 2).empty());
}

TEST(Alarms, TooFewWeeksAllowNoneAndSaySo) {
  AlarmCase few;
  const auto alarms = set_alarms(few.job, few.plan, few.timetable, few.options, 4).at(0);
  for (const Alarm& alarm : alarms.alarms) EXPECT_EQ(alarm.events_per_year, 0);
  EXPECT_THAT(alarms.notes, testing::Contains(testing::HasSubstr("cannot promise fewer than 13 a year")));
}

// By hand: 10 A at least; without circuit 0 at most 6 A, without circuit 1 at most 12 A.
TEST(CurrentAlarm, HalfWayWhereTheRangesDoNotOverlap) {
  const GroupCurrent current{{0, 1}, 10, {6, 12}};
  const Alarm alarm = *current_alarm(current);
  EXPECT_EQ(alarm.limit, 8);
  EXPECT_TRUE(tells_lost(current, alarm, 0));
  EXPECT_FALSE(tells_lost(current, alarm, 1));
}

TEST(CurrentAlarm, TellsOnlyNoneWhereAllOverlap) {
  const GroupCurrent current{{0, 1}, 10, {11, 12}};
  const Alarm alarm = *current_alarm(current);
  EXPECT_EQ(alarm.limit, 5);
  EXPECT_FALSE(tells_lost(current, alarm, 0));
  EXPECT_FALSE(current_alarm({{0}, std::nan(""), {0}}));
}

TEST(CurrentAlarm, MeasuredCurrentTellsALostOnlyCircuit) {
  AlarmCase measured;
  measured.job.controller.current = true;
  const auto alarms = set_alarms(measured.job, measured.plan, measured.timetable, measured.options, 2).at(0);
  ASSERT_EQ(measured.plan.circuits.size(), 1U);
  const Planted& lost = alarms.planted.at(0);
  EXPECT_EQ(lost.text, "breaker-open:" + measured.plan.circuits[0].id);
  EXPECT_TRUE(lost.caught_by.has_value());
  const Alarm& low = alarms.alarms.back();
  EXPECT_TRUE(low.kind == Kind::low_current);
  EXPECT_LT(low.limit, low.worst_ordinary);
}

TEST(CutOut, BetweenOrdinaryWeeksAndWhatIsBorne) {
  const double top_c = alarm_of(Kind::high_temperature).worst_ordinary;
  EXPECT_GE(small_alarms().cutout_c, top_c + 3 - 1e-6);
  EXPECT_LE(small_alarms().cutout_c, 85) << "the invented sheet's highest powered temperature";
  EXPECT_THAT(small_alarms().cutout_because, testing::HasSubstr("own contactor cannot help"));
}

TEST(CutOut, TheJobsOwnIsKeptAndJudged) {
  AlarmCase own;
  own.job.groups[0].high_cutout_c = 90;
  OrdinaryGroup ordinary{{{50, 58}}, 40, 60, 0};
  const CutOut cut = cut_out(own.job, own.plan, 0, ordinary);
  EXPECT_EQ(cut.limit_c, 90);
  EXPECT_THAT(cut.because, testing::HasSubstr("too high"));
  EXPECT_TRUE(std::isnan(cut_out(own.job, own.plan, 0, {}).limit_c)) << "no readings";
}

}  // namespace
}  // namespace firstdraw::settings
