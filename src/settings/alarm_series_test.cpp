// Counting alarms: by hand on short series, and against counting sample by sample.
#include "settings/alarm_series.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace firstdraw::settings {
namespace {

constexpr float off = -std::numeric_limits<float>::infinity();

/// As one would with a finger on the chart: how long has it been above without a break, and was this one
/// counted already.
int counted_by_finger(const Signal& signal, const Trip& trip) {
  int count = 0;
  for (const auto& piece : signal.pieces) {
    double above_since_s = -1;
    bool raised = false;
    for (std::size_t i = 0; i < piece.size(); ++i) {
      const double now_s = static_cast<double>(i) * signal.step_s;
      if (!(static_cast<double>(piece[i]) > trip.threshold)) {
        above_since_s = -1;
        raised = false;
        continue;
      }
      if (above_since_s < 0) above_since_s = now_s;
      if (!raised && now_s - above_since_s >= trip.delay_s - 1e-9) {
        ++count;
        raised = true;
      }
    }
  }
  return count;
}

Signal wandering(std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> step(0, 0.4);
  Signal signal{60, {}};
  for (int piece = 0; piece < 3; ++piece) {
    std::vector<float> values;
    double at = 0;
    for (int i = 0; i < 2000; ++i) values.push_back(static_cast<float>(at += step(random) - 0.01 * at));
    signal.pieces.push_back(values);
  }
  return signal;
}

// Above 5 at minutes 2-3, 5-8 and, after a week's break, 0-1.
const Signal toy{60, {{1, 2, 6, 7, 3, 6, 8, 6, 6, 2}, {9, 9, 1}}};

TEST(AlarmSeries, CountsByHand) {
  EXPECT_EQ(events(toy, {5, 0}), 3);
  EXPECT_EQ(events(toy, {5, 60}), 3) << "each lasts from one sample to the next";
  EXPECT_EQ(events(toy, {5, 120}), 1) << "only minutes 5 to 8";
  EXPECT_EQ(events(toy, {5, 180}), 1);
  EXPECT_EQ(events(toy, {5, 181}), 0);
  EXPECT_EQ(events(toy, {7, 0}), 2) << "8, and the second week's 9; 7 itself is not above";
  EXPECT_EQ(events(toy, {9, 0}), 0);
}

TEST(AlarmSeries, FirstAlarmByHand) {
  const auto first = [](double threshold, double delay_s) {
    return first_event_s(toy.pieces[0], 60, {threshold, delay_s});
  };
  EXPECT_EQ(first(5, 0), 120);
  EXPECT_EQ(first(5, 60), 180);
  EXPECT_EQ(first(5, 120), 7 * 60);
  EXPECT_EQ(first(7.5, 0), 6 * 60);
  EXPECT_TRUE(std::isinf(first(5, 240)));
}

TEST(AlarmSeries, SilenceBreaksAStretch) {
  const Signal signal{60, {{6, off, 6, 6}}};
  EXPECT_EQ(events(signal, {5, 60}), 1);
  EXPECT_EQ(events(signal, {5, 120}), 0);
}

TEST(AlarmSeries, AsCountedByFinger) {
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    const Signal signal = wandering(seed);
    for (const double delay_s : {0.0, 60.0, 300.0, 900.0, 3600.0})
      for (double threshold = -4; threshold <= 6; threshold += 0.5)
        EXPECT_EQ(events(signal, {threshold, delay_s}), counted_by_finger(signal, {threshold, delay_s}))
            << seed << ' ' << threshold << ' ' << delay_s;
  }
}

/// The closest limit, one step out: at the limit before it the finger counts no more than allowed, at the one
/// before that more.
TEST(AlarmSeries, ClosestIsOneStepOutOfTheClosestThatIsBearable) {
  const Grid grid{0.3, 0.5};
  for (std::uint64_t seed = 1; seed <= 5; ++seed)
    for (const double delay_s : {0.0, 300.0, 1800.0})
      for (const int most : {0, 1, 3}) {
        const Signal signal = wandering(seed);
        const Closest found = closest(signal, delay_s, grid, most);
        const double steps = (found.trip.threshold - grid.origin) / grid.step;
        EXPECT_NEAR(steps, std::round(steps), 1e-9);
        EXPECT_EQ(found.events, counted_by_finger(signal, found.trip));
        EXPECT_LE(counted_by_finger(signal, {found.trip.threshold - grid.step, delay_s}), most);
        EXPECT_GT(counted_by_finger(signal, {found.trip.threshold - 2 * grid.step, delay_s}), most);
      }
}

TEST(AlarmSeries, NothingToLookAtHasNoLimit) {
  EXPECT_TRUE(std::isnan(closest({60, {}}, 0, {0, 1}, 1).trip.threshold));
  EXPECT_TRUE(std::isnan(closest({60, {{off, off}}}, 0, {0, 1}, 1).trip.threshold));
}

}  // namespace
}  // namespace firstdraw::settings
