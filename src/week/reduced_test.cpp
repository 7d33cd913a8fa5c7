#include "week/reduced.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "week/optimise_scenes.hpp"

namespace firstdraw::week {
namespace {

const LinearPipe pipe{
    .air_c = 20, .cooling_s = 36000, .heating_k_per_s = 0.0018, .fade_per_k = 0, .power_w = 3000};

TEST(ReducedFollow, CoolsByTheExponential) {
  EXPECT_NEAR(follow(pipe.law(), 55, cable_off_c, 1800).end_c, 20 + 35 * std::exp(-0.05), 1e-9);
  EXPECT_EQ(follow(pipe.law(), 55, cable_off_c, 1800).energy_j, 0);
}

TEST(ReducedFollow, HeatsByTheExponentialAtFullPower) {
  const LawStep step = follow(pipe.law(), 40, 60, 1800);
  const double limit_k = 0.0018 * 36000;
  EXPECT_NEAR(step.end_c, 20 + limit_k - (limit_k - 20) * std::exp(-0.05), 1e-9);
  EXPECT_NEAR(step.energy_j, 3000 * 1800, 1e-3);
}

TEST(ReducedFollow, HoldsWithTheDutyThatBalances) {
  const double duty = 30 / 36000.0 / 0.0018;
  EXPECT_NEAR(follow(pipe.law(), 50, 50, 1800).energy_j, duty * 3000 * 1800, 1e-6);
  EXPECT_EQ(follow(pipe.law(), 50, 50, 1800).end_c, 50);
}

TEST(ReducedFollow, PartsOfAStep) {
  // Falls from 50.5 to 50, then is held.
  const double fall_s = 36000 * std::log(30.5 / 30);
  const double duty = 30 / 36000.0 / 0.0018;
  EXPECT_NEAR(follow(pipe.law(), 50.5, 50, 1800).energy_j, duty * 3000 * (1800 - fall_s), 1e-3);
  // Rises to 50, then is held.
  const double limit_k = 0.0018 * 36000, rise_s = 36000 * std::log((limit_k - 29.5) / (limit_k - 30));
  EXPECT_NEAR(follow(pipe.law(), 49.5, 50, 1800).energy_j, 3000 * (rise_s + duty * (1800 - rise_s)), 1e-3);
}

TEST(ReducedFollow, ACableThatIsTooWeakSettlesBelow) {
  const LinearPipe weak{.heating_k_per_s = 25 / 36000.0, .fade_per_k = 0};
  const LawStep step = follow(weak.law(), 55, 50, 36000 * 8);
  EXPECT_LT(step.end_c, 50);
  EXPECT_GE(step.end_c, 45);
}

TEST(Reduced, IsNeverWarmerThanTheLawAndKeepsOrder) {
  const Automaton made = reduce(pipe.law(), {20, 0.5, 81}, 1800, {cable_off_c, 40, 50, 60});
  for (int s = 0; s < 4; ++s)
    for (int t = 0; t < 81; ++t) {
      const auto place = static_cast<std::size_t>(made.place(s, t));
      ASSERT_GE(made.to[place], 0);
      EXPECT_LE(made.grid.at_c(made.to[place]), made.end_c[place] + 1e-6);
      EXPECT_GT(made.grid.at_c(made.to[place]), made.end_c[place] - 0.5);
      if (t > 0) {
        EXPECT_GE(made.to[place], made.to[place - 1]);
      }
      if (t > 0) {
        EXPECT_LE(made.energy_j[place], made.energy_j[place - 1] + 1e-6);
      }
    }
}

TEST(Reduced, JudgesWhatItIsGiven) {
  EXPECT_THROW(reduce(pipe.law(), {20, 0.5, 81}, 1800, {40.2}), std::invalid_argument);
  EXPECT_THROW(reduce(pipe.law(), {20, 0.5, 81}, 1800, {50, 40}), std::invalid_argument);
  EXPECT_THROW(reduce(pipe.law(), {20, 0.5, 81}, 0, {40}), std::invalid_argument);
  EXPECT_THROW(reduce(pipe.law(), {20, 0.5, 1}, 1800, {20}), std::invalid_argument);
}

TEST(ScheduleReplay, TheLawStaysAtOrAboveTheModel) {
  for (unsigned seed = 0; seed < 20; ++seed) {
    const LinearPipe drawn{.cooling_s = 20000 + 1000.0 * seed, .heating_k_per_s = 0.002};
    GroupTask group;
    group.automaton = reduce(drawn.law(), {20, 0.5, 81}, 1800, {cable_off_c, 40, 50, 60});
    std::mt19937 random(seed);
    std::vector<int> set_points;
    for (int k = 0; k < 96; ++k)
      set_points.push_back(k % 6 == 0 ? std::uniform_int_distribution(0, 3)(random) : set_points.back());
    const auto run = settle(group.automaton, set_points, 0);
    ASSERT_TRUE(run);
    const auto course_c = replay(drawn.law(), group.automaton, set_points, 20);
    for (std::size_t k = 0; k < course_c.size(); ++k)
      EXPECT_GE(course_c[k], group.automaton.grid.at_c(run->temperature[k]) - 1e-4);
  }
}

TEST(ReducedOpenLoop, FollowsTheExponentialToItsBalance) {
  const double duty = 0.4, limit_k = duty * 0.0018 * 36000;
  const LawStep step = follow_open_loop(pipe.law(), 40, duty, 1800);
  EXPECT_NEAR(step.end_c, 20 + limit_k - (limit_k - 20) * std::exp(-0.05), 1e-9);
  EXPECT_NEAR(step.energy_j, duty * 3000 * 1800, 1e-3);
}

TEST(ReducedOpenLoop, IsNeverWarmerThanTheLaw) {
  const Automaton made = reduce_open_loop(pipe.law(), {18, 0.5, 81}, 1800, {40, 45.3}, {0, 0.5});
  for (int s = 0; s < 2; ++s)
    for (int t = 4; t < 76; ++t) {
      const auto place = static_cast<std::size_t>(made.place(s, t));
      ASSERT_GE(made.to[place], 0);
      EXPECT_LE(made.grid.at_c(made.to[place]), made.end_c[place] + 1e-6);
      EXPECT_EQ(made.energy_j[place] > 0, s == 1);
    }
  EXPECT_THROW(reduce_open_loop(pipe.law(), {18, 0.5, 81}, 1800, {40, 45.3}, {0}), std::invalid_argument);
}

}  // namespace
}  // namespace firstdraw::week
