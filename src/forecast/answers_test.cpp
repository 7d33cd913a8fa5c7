// Answers read off results that were written down by hand.
#include "forecast/answers.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace firstdraw::forecast {
namespace {

constexpr double joule_per_kwh = 3.6e6;

/// One tap, one run of the job and its runout, one group.
draw::Scene small_scene() {
  draw::Scene scene;
  scene.runs.resize(2);
  scene.runs[0].job_run = 0;
  scene.runs[0].group = 0;
  scene.taps.resize(1);
  scene.taps[0].id = "O-01";
  scene.taps[0].outlet = 0;
  scene.taps[0].run = 1;
  scene.groups.resize(1);
  return scene;
}

/// `days` in which the group takes `kw` without a break.
draw::Result steady_result(double days, double kw) {
  draw::Result result;
  result.end_s = days * draw::day_s;
  result.taps.resize(1);
  result.runs.resize(2);
  result.groups.resize(1);
  result.groups[0].energy_j.assign(static_cast<std::size_t>(days * 96), kw / 4 * joule_per_kwh);
  return result;
}

Tally tally_of(const std::vector<draw::Result>& results) {
  Tally tally;
  for (const draw::Result& result : results) tally.add(result);
  return tally;
}

/// A draw that was hot after so many seconds and closed after so many.
void add_draw(draw::TapResult& tap, double hot_after_s, double duration_s) {
  ++tap.draws;
  tap.hot_at_once += hot_after_s <= 1;
  tap.open_10_s += duration_s >= 10;
  tap.open_30_s += duration_s >= 30;
  tap.hot_in_10_s += duration_s >= 10 && hot_after_s <= 10;
  tap.hot_in_30_s += duration_s >= 30 && hot_after_s <= 30;
  if (hot_after_s > duration_s) {
    ++tap.never_hot;
  } else {
    ++tap.hot_after_s[std::min<std::size_t>(static_cast<std::size_t>(hot_after_s), 120)];
  }
}

TEST(HotAfter, IsZeroWhenHotAtOnce) {
  draw::TapResult tap;
  for (int i = 0; i < 20; ++i) add_draw(tap, 0.4, 60);
  const Spread wait = hot_after(tap);
  EXPECT_EQ(wait.p5, 0);
  EXPECT_EQ(wait.p50, 0);
  EXPECT_EQ(wait.p95, 0);
}

TEST(HotAfter, IsStraightWithinASecond) {
  draw::TapResult tap;
  for (int i = 0; i < 100; ++i) add_draw(tap, 12.3, 60);
  EXPECT_NEAR(hot_after(tap).p50, 12.5, 1e-9);
  EXPECT_NEAR(hot_after(tap).p95, 12.95, 1e-9);
}

TEST(HotAfter, IsInfinityForDrawsThatEndBefore) {
  draw::TapResult tap;
  for (int i = 0; i < 60; ++i) add_draw(tap, 5.5, 60);
  for (int i = 0; i < 40; ++i) add_draw(tap, 30, 8);
  EXPECT_NEAR(hot_after(tap).p50, 5 + 50.0 / 60, 1e-9);
  EXPECT_TRUE(std::isinf(hot_after(tap).p95));
}

TEST(HotAfter, EndsAtTwoMinutesAndIsNothingWithoutDraws) {
  draw::TapResult tap;
  EXPECT_TRUE(std::isnan(hot_after(tap).p50));
  add_draw(tap, 500, 900);
  EXPECT_EQ(hot_after(tap).p50, 120);
}

TEST(Spread, IsOfTheMembersInAnyOrder) {
  std::vector<double> values(100);
  std::iota(values.begin(), values.end(), 1.0);
  const Spread rising = spread_of(values);
  std::ranges::reverse(values);
  const Spread falling = spread_of(values);
  // Hazen's places: share * n + 1/2.
  EXPECT_DOUBLE_EQ(rising.p5, 5.5);
  EXPECT_DOUBLE_EQ(rising.p50, 50.5);
  EXPECT_DOUBLE_EQ(rising.p95, 95.5);
  EXPECT_EQ(rising.p5, falling.p5);
  EXPECT_TRUE(std::isnan(spread_of({}).p50));
}

TEST(OutletAnswer, SharesAreOfDrawsThatLastSoLong) {
  draw::Result result = steady_result(2, 1);
  draw::TapResult& tap = result.taps[0];
  add_draw(tap, 0, 5);     // hot at once, closed before 10 s
  add_draw(tap, 8, 20);    // hot in 10 s
  add_draw(tap, 15, 20);   // not in 10 s, closed before 30 s
  add_draw(tap, 25, 40);   // in 30 s
  add_draw(tap, 100, 50);  // never
  tap.litres = 30;
  tap.litres_wasted = 12;
  for (const double end_c : {50.1, 50.2, 50.3, 50.4}) tap.at_end.add(end_c);
  const OutletAnswer answer = outlet_answers(small_scene(), tally_of({result})).front();
  EXPECT_EQ(answer.tap, "O-01");
  EXPECT_DOUBLE_EQ(answer.draws_per_day, 2.5);
  EXPECT_DOUBLE_EQ(answer.hot_at_once_frac, 1.0 / 5);
  EXPECT_DOUBLE_EQ(answer.hot_in_10_s_frac, 1.0 / 4);
  EXPECT_DOUBLE_EQ(answer.hot_in_30_s_frac, 1.0 / 2);
  EXPECT_DOUBLE_EQ(answer.litres_per_day, 15);
  EXPECT_DOUBLE_EQ(answer.wasted_litres_per_day, 6);
  EXPECT_NEAR(answer.end_c.p50, 50.25, 0.25) << "to the width of a bin";
  EXPECT_TRUE(std::isnan(answer.since_open_c[3].p50)) << "nobody counted there";
}

TEST(OutletAnswer, CountsOfMembersAddUp) {
  draw::Result one = steady_result(1, 1), other = steady_result(1, 1);
  for (int i = 0; i < 30; ++i) add_draw(one.taps[0], 3, 20);
  for (int i = 0; i < 10; ++i) add_draw(other.taps[0], 15, 20);
  const OutletAnswer answer = outlet_answers(small_scene(), tally_of({one, other})).front();
  EXPECT_DOUBLE_EQ(answer.draws_per_day, 20);
  EXPECT_DOUBLE_EQ(answer.hot_in_10_s_frac, 0.75);
  EXPECT_DOUBLE_EQ(answer.hot_after_s.p50, 3 + 20.0 / 30);
}

TEST(RunAnswer, BandAgeAndEnergyArePerDayOverMembers) {
  draw::Result one = steady_result(1, 1), other = steady_result(1, 1);
  one.runs[0].time_at.add(30, 30, 6 * draw::hour_s);
  one.runs[0].time_at.add(60, 60, 18 * draw::hour_s);
  one.runs[0].min_c = 29;
  one.runs[0].mean_age_s = 100;
  one.runs[0].oldest_s = 700;
  one.runs[0].cable_j = 3 * joule_per_kwh;
  other.runs[0].time_at.add(60, 60, draw::day_s);
  other.runs[0].min_c = 59;
  other.runs[0].mean_age_s = 300;
  other.runs[0].cable_j = 1 * joule_per_kwh;
  const std::vector<RunAnswer> answers = run_answers(small_scene(), tally_of({one, other}));
  ASSERT_EQ(answers.size(), 1U) << "runouts are told by their taps";
  EXPECT_DOUBLE_EQ(answers[0].band_hours_per_day, 3);
  EXPECT_EQ(answers[0].min_c, 29);
  EXPECT_DOUBLE_EQ(answers[0].mean_age_s, 200);
  EXPECT_EQ(answers[0].oldest_s, 700);
  EXPECT_DOUBLE_EQ(answers[0].cable_kwh_per_day, 2);
}

// A day at the middle of a bin comes to a day over the published D-value there, and the answer's range holds
// every set that has a figure at or below it.
TEST(RunAnswer, LogReductionIsTimeOverPublishedDecimalTime) {
  draw::Result result = steady_result(1, 1);
  const double water_c = 57.75;
  result.runs[0].time_at.add(water_c, water_c, draw::day_s);
  const RunAnswer answer = run_answers(small_scene(), tally_of({result})).front();
  const auto sets = physics::inactivation_sets();
  EXPECT_DOUBLE_EQ(answer.log_reduction_per_day,
                   draw::day_s / physics::decimal_reduction_s(sets.front(), water_c));
  for (const physics::InactivationSet& set : sets) {
    if (set.temp_c.front() > water_c) continue;
    const double tenfolds = draw::day_s / physics::decimal_reduction_s(set, water_c);
    EXPECT_LE(answer.log_reduction_low, tenfolds) << set.id;
    EXPECT_GE(answer.log_reduction_high, tenfolds) << set.id;
  }
  EXPECT_GT(answer.log_reduction_low, 0);
  EXPECT_TRUE(answer.inactivated);
}

TEST(RunAnswer, LukewarmWaterIsNotInactivated) {
  draw::Result result = steady_result(1, 1);
  result.runs[0].time_at.add(35.25, 35.25, draw::day_s);
  const RunAnswer answer = run_answers(small_scene(), tally_of({result})).front();
  EXPECT_EQ(answer.log_reduction_per_day, 0);
  EXPECT_FALSE(answer.inactivated);
  EXPECT_DOUBLE_EQ(answer.band_hours_per_day, 24);
}

TEST(GroupAnswer, ASteadyLoadIsFlat) {
  const GroupAnswer answer = group_answers(tally_of({steady_result(7, 2)})).front();
  EXPECT_NEAR(answer.kwh_per_day, 48, 1e-9);
  EXPECT_NEAR(answer.peak_kw, 2, 1e-9);
  for (const double kwh : answer.kwh_by_hour) EXPECT_NEAR(kwh, 2, 1e-9);
  for (const double kw : answer.duration_curve_kw) EXPECT_NEAR(kw, 2, 1e-9);
}

TEST(GroupAnswer, HoursOfTheWeekAreAveragedAndOthersUnknown) {
  const Tally tally = tally_of({steady_result(1, 1), steady_result(1, 3)});
  const GroupAnswer answer = group_answers(tally).front();
  EXPECT_NEAR(answer.kwh_by_hour[23], 2, 1e-9);
  EXPECT_TRUE(std::isnan(answer.kwh_by_hour[24])) << "Tuesday was not simulated";
  EXPECT_NEAR(answer.kwh_per_day, 48, 1e-9);
  EXPECT_NEAR(answer.peak_kw, 3, 1e-9);
}

TEST(GroupAnswer, TheDurationCurveFallsFromPeakToLeast) {
  draw::Result result = steady_result(1, 0);
  for (std::size_t q = 0; q < 96; ++q)
    result.groups[0].energy_j[(q * 37) % 96] = static_cast<double>(q) / 4 * joule_per_kwh;
  const auto curve = group_answers(tally_of({result})).front().duration_curve_kw;
  EXPECT_NEAR(curve.front(), 95, 1e-9);
  EXPECT_NEAR(curve[50], 47.5, 1e-9);
  EXPECT_NEAR(curve.back(), 0, 1e-9);
  EXPECT_TRUE(std::ranges::is_sorted(curve, std::greater<>()));
}

TEST(BuildingAnswer, ThePeakIsOfAllGroupsTogether) {
  draw::Result result = steady_result(1, 1);
  result.groups.push_back(result.groups[0]);
  result.groups[0].energy_j[10] = 5 * joule_per_kwh / 4;
  result.groups[1].energy_j[20] = 7 * joule_per_kwh / 4;
  EXPECT_NEAR(building_answer(tally_of({result})).peak_kw, 8, 1e-9) << "not 5 + 7: they come at other times";
}

TEST(Tally, APartialQuarterHourIsNotAPeak) {
  draw::Result result = steady_result(1, 1);
  result.end_s = 10.5 * 900;  // stopped in the eleventh quarter hour, of which little was used
  result.groups[0].energy_j[10] = 0.001 * joule_per_kwh;
  const GroupAnswer answer = group_answers(tally_of({result})).front();
  EXPECT_NEAR(answer.duration_curve_kw.back(), 1, 1e-9);
  EXPECT_NEAR(answer.kwh_per_day, 24, 1e-9);
}

TEST(Tally, AMemberThatNeverBeganChangesNothing) {
  draw::Result stopped = steady_result(1, 1);
  stopped.end_s = -3600;
  const Tally tally = tally_of({stopped});
  EXPECT_EQ(tally.seconds, 0);
  EXPECT_TRUE(std::isnan(building_answer(tally).cable_kwh_per_day));
  EXPECT_EQ(worst_tap(outlet_answers(small_scene(), tally)), draw::none);
}

TEST(WorstTap, IsLeastOftenHotThenSlowestThenFirstByName) {
  std::vector<OutletAnswer> taps(4);
  for (OutletAnswer& tap : taps) {
    tap.draws_per_day = 5;
    tap.hot_in_10_s_frac = 0.5;
    tap.hot_after_s = {1, 9, 20};
  }
  taps[0].tap = "D";
  taps[1].tap = "C";
  taps[2].tap = "B";
  taps[3].tap = "A";
  EXPECT_EQ(worst_tap(taps), 3);
  taps[1].hot_after_s.p50 = 10;
  EXPECT_EQ(worst_tap(taps), 1);
  taps[2].hot_in_10_s_frac = 0.4;
  EXPECT_EQ(worst_tap(taps), 2);
  taps[2].draws_per_day = 0;
  EXPECT_EQ(worst_tap(taps), 1) << "nobody drew at B";
}

}  // namespace
}  // namespace firstdraw::forecast
