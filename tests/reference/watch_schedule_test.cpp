// Clocks that are off, weekdays that are off, daylight saving not followed: planted in simulated weeks, found
// in their logs. Source: the room draw with planted clocks (computed).
#include <gtest/gtest.h>

#include <random>

#include "draw/simulate.hpp"
#include "forecast/scene.hpp"
#include "forecast/test_building.hpp"
#include "watch/schedule_check.hpp"
#include "watch_log.hpp"
#include "week/calendar.hpp"

namespace firstdraw::reference {
namespace {

constexpr std::int64_t day_ms = 86'400'000;
constexpr double minute = 60;

/// Workdays: set back at night; the weekend: all day but some hours. One week tells hour and weekday.
forecast::Planned scheduled() {
  using enum job::Period::Setting;
  return building_with({{"main", 0x1f, 21.5 * 3600, 5 * 3600.0, setback, 0},
                        {"main", 0x60, 12 * 3600.0, 8 * 3600.0, setback, 0},
                        {"main", 0x04, 13 * 3600.0, 16 * 3600.0, setback, 0}},
                       56);
}

struct Logs {
  watch::Logged set_point, sensor;
};

/// The simulation's time 0 is Monday 00:00 local; `local_to_ms` turns its time into moments. The controller's
/// clock is `off_s` ahead, weekdays included.
Logs logs_of(const forecast::Planned& building, double off_s, double days, double from_s,
             std::int64_t zero_ms, std::uint64_t seed) {
  forecast::SceneOptions options;
  options.faults = {{forecast::FaultKind::clock_off, "main", off_s}};
  const draw::Scene scene = forecast::make_scene(building.job, building.plan, options);
  draw::Options simulated;
  simulated.begin_s = from_s;
  simulated.end_s = from_s + days * draw::day_s;
  simulated.record_every_s = 300;
  simulated.record_controls_only = true;
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> share;
  std::normal_distribution<double> normal;
  std::vector<draw::Draw> draws;
  for (std::size_t tap = 0; tap < scene.taps.size(); ++tap)
    for (int i = 0; i < 6 * days; ++i)
      draws.push_back({static_cast<int>(tap),
                       from_s + (std::floor(share(random) * days) * 24 + 6 + 15 * share(random)) * 3600,
                       20 + 60 * share(random), (2 + 4 * share(random)) / 60000});
  draw::sort_draws(draws);
  const draw::Result result = draw::simulate(scene, draws, simulated);
  watch::LoggedSeries sensor{{1, "main.sensor", "temperature", "main"}, {}},
      on{{2, "main.on", "on", "main"}, {}}, set{{3, "main.set", "set-point", "main"}, {}};
  for (std::size_t i = 0; i < result.records.time_s.size(); ++i) {
    const double time_s = result.records.time_s[i];
    const std::int64_t at = zero_ms + static_cast<std::int64_t>(1000 * time_s);
    sensor.samples.push_back(
        {at,
         std::round(10 * (static_cast<double>(result.records.reading_c[i]) + 0.2 * normal(random))) / 10});
    on.samples.push_back({at, result.records.duty_frac[i] > 0.5f ? 1.0 : 0.0});
    set.samples.push_back({at, draw::set_point_c(scene.groups[0].control, time_s).value_or(0)});
  }
  const std::int64_t from = sensor.samples.front().at_ms, to = sensor.samples.back().at_ms + 1;
  return {{from, to, {set}}, {from, to, {sensor, on}}};
}

week::Zone zone_of(const char* name) { return *week::read_zone(name, 2025, 2027); }

/// 2026-02-02, a Monday, 00:00 in Chicago (UTC-6): no change of the clock near.
constexpr std::int64_t monday_ms = 1'770'012'000'000;

class Clocks : public testing::TestWithParam<double> {};

TEST_P(Clocks, AreToldFromTheSetPoint) {
  const forecast::Planned building = scheduled();
  const double off_s = GetParam() * 3600;
  const Logs logs = logs_of(building, off_s, 7, 0, monday_ms, 5);
  const auto checks =
      watch::check_schedule(building.job, building.plan, logs.set_point, zone_of("America/Chicago"));
  ASSERT_EQ(checks.size(), 1u);
  EXPECT_TRUE(checks[0].told);
  EXPECT_NEAR(checks[0].clock_off_s + 86400 * checks[0].weekday_off, off_s, 10 * minute);
  if (off_s == 0)
    EXPECT_GT(checks[0].agrees_frac, 0.99);
  else
    EXPECT_LT(checks[0].agrees_frac, 0.99);
}

TEST_P(Clocks, AreToldFromSensorAndOnTime) {
  const forecast::Planned building = scheduled();
  const double off_s = GetParam() * 3600;
  const Logs logs = logs_of(building, off_s, 14, 0, monday_ms, 6);
  const auto checks =
      watch::check_schedule(building.job, building.plan, logs.sensor, zone_of("America/Chicago"));
  ASSERT_EQ(checks.size(), 1u);
  ASSERT_TRUE(checks[0].told) << checks[0].said[0];
  EXPECT_NEAR(checks[0].clock_off_s + 86400 * checks[0].weekday_off, off_s, 30 * minute);
}

INSTANTIATE_TEST_SUITE_P(Hours, Clocks, testing::Values(-12, -6.5, -2, -1, 0, 0.5, 1, 3, 7.25, 12, 24, -24));

TEST(Schedule, DaylightSavingNotFollowedIsNamed) {
  const forecast::Planned building = scheduled();
  const week::Zone zone = zone_of("America/Chicago");
  // Monday 2 to Sunday 22 March 2026; local clocks go forward on the 8th, the controller's does not. Its own
  // time 0 is Monday 2 March 00:00 at UTC-6 throughout.
  const std::int64_t zero_ms =
      1000 *
      week::day_begin(zone, week::Date{std::chrono::year{2026}, std::chrono::March, std::chrono::day{2}});
  const Logs logs = logs_of(building, 0, 21, 0, zero_ms, 7);
  for (const watch::Logged* logged : {&logs.set_point, &logs.sensor}) {
    const auto checks = watch::check_schedule(building.job, building.plan, *logged, zone);
    ASSERT_EQ(checks.size(), 1u);
    ASSERT_TRUE(checks[0].told);
    EXPECT_NEAR(checks[0].clock_off_s, -3600, 30 * minute);
    bool named = false;
    for (const std::string& said : checks[0].said) named |= said.find("daylight saving") != std::string::npos;
    EXPECT_TRUE(named);
  }
}

TEST(Schedule, OtherSetPointsAreNoMatterOfTheClock) {
  forecast::Planned building = scheduled();
  const Logs logs = logs_of(building, 0, 7, 0, monday_ms, 8);
  building.job.groups[0].setback_c = 50;  // programmed now; the log is of 46
  const auto checks =
      watch::check_schedule(building.job, building.plan, logs.set_point, zone_of("America/Chicago"));
  ASSERT_EQ(checks.size(), 1u);
  EXPECT_EQ(checks[0].clock_off_s, 0);
  EXPECT_LT(checks[0].agrees_frac, 0.75);
  EXPECT_TRUE(checks[0].told);
}

TEST(Schedule, NothingIsToldWhereNothingCanBe) {
  forecast::Planned building = scheduled();
  const Logs logs = logs_of(building, 0, 7, 0, monday_ms, 9);
  const week::Zone zone = zone_of("America/Chicago");
  forecast::Planned constant = building;
  constant.job.periods.clear();
  EXPECT_FALSE(watch::check_schedule(constant.job, constant.plan, logs.sensor, zone)[0].told);
  const Logs day = logs_of(building, 0, 1, 0, monday_ms, 9);
  EXPECT_FALSE(watch::check_schedule(building.job, building.plan, day.sensor, zone)[0].told);
  forecast::Planned near = building;
  near.job.groups[0].setback_c = 55.5;
  EXPECT_FALSE(watch::check_schedule(near.job, near.plan, logs.sensor, zone)[0].told);
  EXPECT_TRUE(watch::check_schedule(building.job, building.plan, {}, zone).empty());
}

}  // namespace
}  // namespace firstdraw::reference
