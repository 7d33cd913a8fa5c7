#include <gmock/gmock.h>

#include <cmath>
#include <random>

#include "watch/daily.hpp"
#include "watch/estimate.hpp"

namespace firstdraw::watch {
namespace {

constexpr auto metric = units::System::metric, us = units::System::us;
constexpr std::int64_t begin_ms = 1'772'409'600'000, day_ms = 86'400'000, step_ms = 600'000;

/// A series whose daily level wanders a little, and steps by `step` at day `at`.
LoggedSeries series(const char* quantity, int days, int at, double level, double step, double wander,
                    unsigned seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal;
  LoggedSeries made{{1, "riser.sensor", quantity, "riser"}, {}};
  double off = 0;
  for (int day = 0; day < days; ++day) {
    off = 0.3 * off + wander * normal(random);
    for (std::int64_t t = 0; t < day_ms; t += step_ms)
      made.samples.push_back(
          {begin_ms + day * day_ms + t, level + off + (day >= at ? step : 0) + 0.2 * normal(random)});
  }
  return made;
}

Logged logged(LoggedSeries one) {
  Logged made{begin_ms, begin_ms + 100 * day_ms, {}};
  made.series.push_back(std::move(one));
  return made;
}

TEST(Changes, AStepIsFoundWithItsMomentAndSize) {
  const auto all = changes(logged(series("temperature", 60, 40, 52, -2, 0.4, 1)), metric);
  ASSERT_EQ(all.size(), 1u);
  const std::int64_t truth = begin_ms + 40 * day_ms;
  EXPECT_LE(all[0].earliest_ms, truth);
  EXPECT_GE(all[0].latest_ms, truth);
  EXPECT_NEAR(all[0].before - all[0].after, 2, 0.4);
  EXPECT_LT(all[0].false_alarm_prob, 0.01);
  EXPECT_THAT(all[0].said, testing::HasSubstr("2026-04-11"));
  EXPECT_THAT(all[0].said, testing::HasSubstr("fell"));
}

TEST(Changes, AreToldInTheUnitsOfTheJob) {
  const Logged one = logged(series("temperature", 60, 40, 50, -10, 0.1, 1));
  EXPECT_THAT(changes(one, metric).at(0).said,
              testing::ContainsRegex("from (49|50)[^ ]* °C to (39|40)[^ ]* °C"));
  EXPECT_THAT(changes(one, us).at(0).said, testing::ContainsRegex("from 12[12][^ ]* °F to 10[34][^ ]* °F"));
  EXPECT_EQ(changes(one, us).at(0).after, changes(one, metric).at(0).after);
}

TEST(Changes, NoneInSeriesWithoutOne) {
  int alarms = 0;
  for (unsigned seed = 0; seed < 40; ++seed)
    alarms += !changes(logged(series("temperature", 40, 99, 52, 0, 0.4, seed)), metric, 0.05).empty();
  EXPECT_LE(alarms, 6);  // 0.05 asked: 2 expected, more than 6 in one of 300 trials (binomial, computed)
}

TEST(Changes, OnShareOfASwitchedSeries) {
  std::mt19937_64 random(4);
  std::uniform_real_distribution<double> share;
  LoggedSeries current{{1, "C01.current", "current", "C01"}, {}};
  for (int i = 0; i < 50 * 144; ++i)
    current.samples.push_back(
        {begin_ms + i * step_ms, share(random) < (i < 30 * 144 ? 0.3 : 0.5) ? 4.2 : 0.0});
  const auto all = changes(logged(current), metric);
  ASSERT_EQ(all.size(), 1u);
  EXPECT_NEAR(all[0].before, 0.3, 0.02);
  EXPECT_NEAR(all[0].after, 0.5, 0.02);
  EXPECT_THAT(all[0].said, testing::HasSubstr("% of the day instead of 3"));
}

TEST(Changes, NeverChangingOrShortSeriesHaveNone) {
  EXPECT_TRUE(changes(logged(series("temperature", 4, 2, 50, 5, 0.1, 1)), metric).empty());
  LoggedSeries flat{{1, "x", "set-point", "riser"}, {}};
  for (int i = 0; i < 40 * 24; ++i) flat.samples.push_back({begin_ms + i * day_ms / 24, 55});
  EXPECT_TRUE(changes(logged(flat), metric).empty());
  EXPECT_TRUE(changes({}, metric).empty());
}

TEST(DailyRows, NightCoolingIsTheSlopeOfTheNight) {
  LoggedSeries one{{1, "x", "temperature", "riser"}, {}};
  for (int i = 0; i < 5 * 288; ++i) {
    const double hour = (i % 288) / 12.0;
    one.samples.push_back({begin_ms + i * day_ms / 288, hour < 5 ? 55 - 1.5 * hour : 55.0});
  }
  const auto rows = daily_rows(one, nullptr);
  ASSERT_EQ(rows.size(), 2u);
  ASSERT_EQ(rows[1].values.size(), 5u);
  for (const double rate : rows[1].values) EXPECT_NEAR(rate, 1.5, 1e-9);
}

TEST(DailyRows, DaysAreThoseOfTheZone) {
  const auto zone = week::read_zone("America/Chicago", 2025, 2027);
  ASSERT_TRUE(zone.has_value());
  LoggedSeries one{{1, "x", "set-point", "riser"}, {}};
  // 24 readings an hour apart from local midnight, 06:00 UTC.
  for (int i = 0; i < 48; ++i)
    one.samples.push_back({begin_ms + 6 * 3'600'000 + i * 3'600'000, i < 24 ? 1.0 : 3.0});
  const auto rows = daily_rows(one, &*zone);
  EXPECT_EQ(rows[0].values, (std::vector<double>{1, 3}));
}

}  // namespace
}  // namespace firstdraw::watch
