#include "draw/simulate.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstring>

#include "draw/test_scene.hpp"

namespace firstdraw::draw {
namespace {

Options one_day() {
  Options options;
  options.end_s = day_s;
  options.keep_draws = true;
  return options;
}

TEST(Simulate, BalanceClosesToRounding) {
  TestScene t = small_building();
  const Result result = t.run(one_day());
  const Balance& b = result.balance;
  EXPECT_GT(b.cable_j, 0);
  EXPECT_GT(b.drawn_j, 0);
  EXPECT_LT(std::abs(b.residual_j), 1e-9 * b.supply_j);
  EXPECT_LT(b.worst_step_frac, 1e-7);
}

TEST(Simulate, SameBitsAgain) {
  TestScene t = small_building();
  const Result a = t.run(one_day()), b = t.run(one_day());
  ASSERT_EQ(a.draws.size(), b.draws.size());
  for (std::size_t i = 0; i < a.draws.size(); ++i)
    EXPECT_EQ(0, std::memcmp(&a.draws[i].opening_c, &b.draws[i].opening_c, 4 * sizeof(double)));
  EXPECT_EQ(a.balance.drawn_j, b.balance.drawn_j);
}

/// The same building with its two floors named the other way round.
TEST(Simulate, OrderOfRunsAndTapsChangesNothing) {
  TestScene t = small_building();
  TestScene turned;
  const std::vector<int> order{0, 5, 6, 7, 1, 2, 3, 4};  // any order in which a run follows its feed
  // Runs of small_building: main, riser, branch 0, two runouts, branch 1, two runouts.
  const std::vector<int> other{0, 2, 3, 4, 1, 5, 6, 7};
  std::vector<int> place(8);
  turned.scene.runs.clear();
  for (const int old : other) {
    place[at(old)] = static_cast<int>(turned.scene.runs.size());
    SceneRun run = t.scene.runs[at(old)];
    if (run.upstream != none) run.upstream = place[at(run.upstream)];
    turned.scene.runs.push_back(run);
  }
  turned.scene.groups[0].sensor_run = place[at(t.scene.groups[0].sensor_run)];
  for (int tap = 3; tap >= 0; --tap) {
    turned.scene.taps.push_back(t.scene.taps[at(tap)]);
    turned.scene.taps.back().run = place[at(t.scene.taps[at(tap)].run)];
  }
  turned.draws = t.draws;
  for (Draw& draw : turned.draws) draw.tap = 3 - draw.tap;
  const Result a = t.run(one_day()), b = turned.run(one_day());
  for (int tap = 0; tap < 4; ++tap) {
    EXPECT_EQ(a.taps[at(tap)].draws, b.taps[at(3 - tap)].draws);
    EXPECT_NEAR(a.taps[at(tap)].heat_j, b.taps[at(3 - tap)].heat_j, 1e-9 * a.taps[at(tap)].heat_j);
    EXPECT_EQ(a.taps[at(tap)].hot_after_s, b.taps[at(3 - tap)].hot_after_s);
  }
}

TEST(Simulate, HeldPipesStayNearTheSetPointAndTheColdRunoutComesFirst) {
  TestScene t = small_building();
  t.scene.groups[0].sensor_run =
      2;  // a branch: the main, warmed by the supply, would let the branches go cold
  const Result result = t.run(one_day());
  EXPECT_GT(result.runs[2].min_c, 48);  // cooler water from the main passes through
  EXPECT_LT(result.runs[2].max_c, 63);
  EXPECT_GT(result.groups[0].lowest_reading_c, 49);
  for (const DrawRecord& draw : result.draws) {
    if (draw.open_s < 7 * hour_s) continue;
    EXPECT_LE(draw.opening_c, draw.end_c + 1);
  }
  EXPECT_LT(result.draws.front().opening_c, 25);  // stood all night
  EXPECT_GT(result.draws.front().end_c, 45);
}

TEST(Simulate, NoCableMeansColdPipesByMorning) {
  TestScene t = small_building();
  t.scene.groups[0].contactor = SceneGroup::Contactor::stuck_off;
  const Result result = t.run(one_day());
  EXPECT_NEAR(result.balance.cable_j, 0, 1e-3);  // J a day: rounding
  EXPECT_LT(result.runs[2].min_c, 25);
}

TEST(Simulate, StuckOnSettlesWhereOutputMeetsLoss) {
  TestScene t;
  const int run = t.pipe(none, 5);
  t.tap(run);
  t.scene.groups[0].contactor = SceneGroup::Contactor::stuck_on;
  Options options = one_day();
  options.end_s = 4 * day_s;
  const Result result = t.run(options);
  const double u = t.scene.runs[0].loss_u0;
  const double balance_c = (20 + u * 20) / (u + 0.2);  // 20 - 0.2 T = u (T - 20)
  EXPECT_NEAR(result.runs[0].max_c, balance_c, 1e-6);
}

TEST(Simulate, CutOutStopsAStuckContactorsHeatOnlyWhereItCan) {
  TestScene t = small_building();
  t.scene.groups[0].control.cutout_c = 52;  // below the set-point: always cut out again
  const Result result = t.run(one_day());
  EXPECT_LT(result.groups[0].highest_reading_c, 61);
  EXPECT_LT(result.groups[0].on_frac, 0.5);
}

TEST(Simulate, PulsesInTheMeanHeatAsOftenShortOnes) {
  TestScene t = small_building();
  t.scene.groups[0].control.mode = ControlMode::open_loop;
  t.scene.groups[0].control.open_loop_at_c = {55};
  t.scene.groups[0].control.open_loop_duty = {0.5};
  t.scene.groups[0].control.cycle_s = 600;
  t.draws.clear();
  Options options = one_day();
  options.end_s = 4 * day_s;
  const Result result = t.run(options);
  EXPECT_NEAR(result.groups[0].on_frac, 0.5, 0.01);
  const double u = t.scene.runs[2].loss_u0;
  EXPECT_NEAR(result.runs[2].time_at.mean_c(), (10 + u * 20) / (u + 0.1), 1.5);
}

TEST(Simulate, SetbackLowersTheReadingAtNight) {
  TestScene t = small_building();
  t.draws.clear();
  t.scene.groups[0].control.periods.push_back({0x7f, 20 * hour_s, 5 * hour_s, 42});
  Options options = one_day();
  options.end_s = 3 * day_s;
  options.record_every_s = 600;
  const Result result = t.run(options);
  EXPECT_LT(result.groups[0].lowest_reading_c, 45);
  EXPECT_GT(result.groups[0].highest_reading_c, 54);
  EXPECT_EQ(result.records.time_s.size(), 3 * 144 + 1u);
}

/// Temperatures bit by bit: NaN is the same as NaN.
bool begins_with(const std::vector<float>& whole, const std::vector<float>& part) {
  return part.size() <= whole.size() &&
         (part.empty() || std::memcmp(whole.data(), part.data(), part.size() * sizeof(float)) == 0);
}

TEST(Simulate, LookingOnChangesNoBitAndShowsWhatIsRecordedSoFar) {
  TestScene t = small_building();
  Options options = one_day();
  options.record_every_s = 600;
  const Result alone = t.run(options);
  std::vector<Records> seen;
  options.look = [&seen](const Records& so_far) { seen.push_back(so_far); };
  const Result watched = t.run(options);
  ASSERT_EQ(seen.size(), 25u) << "once an hour from the first, not in the day before";
  for (std::size_t hour = 0; hour < seen.size(); ++hour) {
    EXPECT_EQ(seen[hour].time_s.back(), static_cast<double>(hour) * hour_s);
    EXPECT_TRUE(begins_with(alone.records.run_c, seen[hour].run_c)) << hour;
    EXPECT_TRUE(begins_with(alone.records.tap_c, seen[hour].tap_c)) << hour;
    EXPECT_TRUE(begins_with(alone.records.group_w, seen[hour].group_w)) << hour;
  }
  EXPECT_EQ(alone.records.run_c, watched.records.run_c);
  EXPECT_EQ(alone.balance.drawn_j, watched.balance.drawn_j);
  EXPECT_EQ(alone.balance.loss_j, watched.balance.loss_j);
  options.record_every_s = 0;
  seen.clear();
  t.run(options);
  EXPECT_TRUE(seen.empty()) << "nothing is recorded";
}

TEST(Simulate, MixingValveTempersAndTakesLessFromTheHeater) {
  TestScene t;
  const int hot = t.pipe(none, 2, false), mixed = t.pipe(hot, 4, false);
  const int tap = t.tap(mixed);
  t.scene.supply.stored_c = 70.0;
  t.scene.supply.delivered_c = 50;
  t.scene.supply.valve_run = hot;
  t.draw(tap, 1000, 1500, 6);
  Options options = one_day();
  options.run_in_s = 0;
  options.start = Start::cold;
  options.end_s = 2 * hour_s;
  const Result result = t.run(options);
  EXPECT_LE(result.runs[at(mixed)].max_c, 50 + 1e-9);
  EXPECT_NEAR(result.draws.front().end_c, 50, 0.2);
  const double share = result.runs[at(hot)].litres / result.runs[at(mixed)].litres;
  EXPECT_NEAR(share, (50.0 - 10) / (70 - 10), 0.02);
  EXPECT_LT(std::abs(result.balance.residual_j), 1e-9 * result.balance.supply_j);
}

TEST(Simulate, ASmallTankRunsShort) {
  TestScene t;
  const int tap = t.tap(t.pipe(none, 4, false));
  t.scene.supply.tank_m3 = 0.1;
  t.scene.supply.heater_w = 3000;
  t.draw(tap, 1000, 1800, 8);  // 240 litres
  Options options = one_day();
  options.run_in_s = 0;
  const Result result = t.run(options);
  EXPECT_LT(result.lowest_supply_c, 30);
  EXPECT_LT(result.draws.front().end_c, 30);
  // The tank recovers at the heater's power.
  EXPECT_GT(result.heater_j, 0);
}

TEST(Simulate, StopsWhenToldAndKeepsWhatIsDone) {
  TestScene t = small_building();
  Options options = one_day();
  options.progress = [](double done) { return done < 0.75; };
  const Result result = t.run(options);
  EXPECT_TRUE(result.stopped);
  EXPECT_LT(result.end_s, day_s);
  EXPECT_GT(result.end_s, 0.4 * day_s);
  EXPECT_FALSE(result.draws.empty());
}

TEST(Simulate, ANewDrawAtAnOpenTapEndsTheOld) {
  TestScene t;
  const int tap = t.tap(t.pipe(none, 4));
  t.draw(tap, 100, 60, 6);
  t.draw(tap, 130, 60, 3);
  Options options = one_day();
  options.run_in_s = 0;
  const Result result = t.run(options);
  ASSERT_EQ(result.draws.size(), 2u);
  EXPECT_DOUBLE_EQ(result.draws[0].duration_s, 30);
  EXPECT_DOUBLE_EQ(result.draws[1].duration_s, 60);
}

TEST(Simulate, WaterAgesWhereNobodyDraws) {
  TestScene t = small_building();
  std::erase_if(t.draws, [](const Draw& draw) { return draw.tap == 3; });
  const Result result = t.run(one_day());
  const auto runout = at(t.scene.taps[3].run), used = at(t.scene.taps[0].run);
  EXPECT_GT(result.runs[runout].oldest_s, 1.9 * day_s);
  EXPECT_LT(result.runs[used].mean_age_s, result.runs[runout].mean_age_s);
  EXPECT_NEAR(result.runs[runout].longest_standing_s, day_s, 1);
}

TEST(Simulate, BrokenPromisesAreTold) {
  TestScene t = small_building();
  t.scene.runs[1].upstream = 5;
  EXPECT_THROW(t.run(one_day()), std::logic_error);
  TestScene shared = small_building();
  shared.scene.taps[1].run = shared.scene.taps[0].run;
  EXPECT_THROW(shared.run(one_day()), std::logic_error);
  TestScene unsorted = small_building();
  std::swap(unsorted.draws[0], unsorted.draws[20]);
  EXPECT_THROW(simulate(unsorted.scene, unsorted.draws, one_day()), std::logic_error);
}

/// How warm a pipe gets in an hour from cold, with a loss and a cable that are far from linear.
double warmed_c(double step_s) {
  TestScene t;
  t.tap(t.pipe(none, 5));
  t.scene.groups[0].contactor = SceneGroup::Contactor::stuck_on;
  t.scene.groups[0].sensor_run = none;  // nobody looks: steps are as long as they may be
  t.scene.runs[0].loss_u1 = 0.003;
  t.scene.runs[0].cable_share = 3;
  t.scene.runs[0].linear_about_c = 90;
  for (double& power : t.scene.cables[0].power_w_per_m) power = power * power / 20;
  Options options = one_day();
  options.run_in_s = 0;
  options.start = Start::cold;
  options.end_s = hour_s;
  options.longest_step_s = step_s;
  return t.run(options).runs[0].max_c;
}

/// Second order where steps are long; in short ones the first, in which the wall runs ahead, is what is left.
TEST(Simulate, StandingStepsAreSecondOrder) {
  const double truth_c = warmed_c(2);
  const double long_k = std::abs(warmed_c(900) - truth_c), short_k = std::abs(warmed_c(300) - truth_c);
  EXPECT_GT(long_k / short_k, 7);
  EXPECT_LT(long_k / short_k, 11);
  EXPECT_NEAR(warmed_c(60), truth_c, 0.005);
}

double rms_of_ends(const Result& a, const Result& b) {
  double sum = 0;
  for (std::size_t i = 0; i < a.draws.size(); ++i) sum += std::pow(a.draws[i].end_c - b.draws[i].end_c, 2);
  return std::sqrt(sum / static_cast<double>(a.draws.size()));
}

Result with_cells(double cell_m) {
  TestScene t = small_building();
  for (SceneRun& run : t.scene.runs) run.cells = static_cast<int>(std::ceil(run.length_m / cell_m - 1e-9));
  t.scene.groups[0].contactor =
      SceneGroup::Contactor::stuck_on;  // a thermostat's moment could tip either way
  Options options = one_day();
  options.tick_s = 2;
  options.longest_step_s = 60;
  return t.run(options);
}

/// A front that meets walls spreads by a variance in proportion to the cell: first order.
TEST(Simulate, ErrorFallsWithTheCell) {
  const Result fine = with_cells(0.04);
  const double coarse_k = rms_of_ends(with_cells(0.5), fine), half_k = rms_of_ends(with_cells(0.25), fine),
               quarter_k = rms_of_ends(with_cells(0.125), fine);
  EXPECT_LT(half_k, 0.65 * coarse_k);
  EXPECT_LT(quarter_k, 0.65 * half_k);
}

/// A stay below a temperature is one in the band from far below to just under it.
TEST(Simulate, StayBelowIsAStayInAnOpenBand) {
  TestScene t = small_building();
  t.scene.groups[0].control.periods = {{0x7f, 0, 5 * hour_s, {}}};  // off in the night: pipes cool
  Options options = one_day();
  options.below_c = 45;
  options.band_low_c = -100;
  options.band_high_c = std::nextafter(options.below_c, 0.0);
  const Result result = t.run(options);
  double longest_s = 0;
  for (const RunResult& run : result.runs) {
    EXPECT_EQ(run.longest_below_s, run.longest_in_band_s);
    longest_s = std::max(longest_s, run.longest_below_s);
  }
  EXPECT_GT(longest_s, hour_s);
  options.below_c = -std::numeric_limits<double>::infinity();
  for (const RunResult& run : t.run(options).runs) EXPECT_EQ(run.longest_below_s, 0);
}

TEST(Simulate, HottestWaterAtATapIsNoColderThanAnyRecord) {
  TestScene t = small_building();
  const Result result = t.run(one_day());
  for (const DrawRecord& draw : result.draws) {
    EXPECT_GE(result.taps[at(draw.tap)].hottest_c, draw.end_c);
    EXPECT_LE(result.taps[at(draw.tap)].hottest_c, 60 + 1e-9) << "nothing is hotter than the supply";
  }
}

}  // namespace
}  // namespace firstdraw::draw
