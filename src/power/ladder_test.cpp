#include "power/ladder.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <stdexcept>
#include <vector>

namespace firstdraw::power {
namespace {

constexpr double feed_v = 240, loop = 0.027;

LadderStretch stretch(int parent, double length_m, double exponent = 1.5, double w_per_m = 30) {
  return {parent, length_m, loop, power_law(w_per_m, feed_v, exponent)};
}

double far_v(double length_m, double exponent) {
  const LadderStretch cable = stretch(piping::none, length_m, exponent);
  return solve_ladder(std::span(&cable, 1), feed_v).lowest_v;
}

std::vector<LadderStretch> random_tree(std::mt19937& random) {
  std::uniform_real_distribution<double> length_m(0.3, 40), exponent(1, 2), watts(2, 40);
  const int count = std::uniform_int_distribution<int>(1, 25)(random);
  std::vector<LadderStretch> tree;
  for (int s = 0; s < count; ++s)
    tree.push_back(stretch(std::uniform_int_distribution<int>(-1, s - 1)(random), length_m(random),
                           exponent(random), watts(random)));
  return tree;
}

TEST(SolveLadder, ClosesTheEnergyBalanceOfRandomTrees) {
  std::mt19937 random(7);
  for (int trial = 0; trial < 200; ++trial) {
    const auto result = solve_ladder(random_tree(random), feed_v);
    ASSERT_TRUE(result.converged) << trial;
    EXPECT_LT(result.balance_frac, 1e-11) << trial;
    EXPECT_GT(result.lowest_v, 0) << trial;
  }
}

// The same tree written down breadth first or with the branches of each tee exchanged.
TEST(SolveLadder, DoesNotDependOnTheOrderOfStretches) {
  const std::vector<LadderStretch> one{stretch(-1, 40), stretch(0, 60), stretch(0, 25, 1.2), stretch(1, 10),
                                       stretch(2, 30)};
  const std::vector<LadderStretch> other{stretch(-1, 40), stretch(0, 25, 1.2), stretch(1, 30), stretch(0, 60),
                                         stretch(3, 10)};
  const auto a = solve_ladder(one, feed_v), b = solve_ladder(other, feed_v);
  EXPECT_NEAR(a.total_a, b.total_a, 1e-11);
  EXPECT_NEAR(a.stretches[3].far_v, b.stretches[4].far_v, 1e-9);
  EXPECT_NEAR(a.stretches[4].far_v, b.stretches[2].far_v, 1e-9);
}

TEST(SolveLadder, DoesNotDependOnHowAStretchIsDivided) {
  const std::vector<LadderStretch> whole{stretch(-1, 90)};
  const std::vector<LadderStretch> parts{stretch(-1, 20), stretch(0, 33), stretch(1, 37)};
  const auto a = solve_ladder(whole, feed_v), b = solve_ladder(parts, feed_v);
  EXPECT_NEAR(a.total_a, b.total_a, 1e-9 * a.total_a);
  EXPECT_NEAR(a.lowest_v, b.lowest_v, 1e-9 * feed_v);
}

// Two like branches side by side are one of half the resistance and twice the output.
TEST(SolveLadder, LikeBranchesAreOneOfDoubleConductance) {
  const std::vector<LadderStretch> two{stretch(-1, 50), stretch(0, 70), stretch(0, 70)};
  const std::vector<LadderStretch> one{stretch(-1, 50), {0, 70, loop / 2, power_law(60, feed_v, 1.5)}};
  const auto a = solve_ladder(two, feed_v), b = solve_ladder(one, feed_v);
  EXPECT_NEAR(a.total_a, b.total_a, 1e-10 * a.total_a);
  EXPECT_NEAR(a.lowest_v, b.lowest_v, 1e-10 * feed_v);
  EXPECT_NEAR(a.stretches[1].entering_a, b.stretches[1].entering_a / 2, 1e-10 * a.total_a);
}

TEST(SolveLadder, FarVoltageFallsWithLength) {
  for (const double exponent : {1.0, 1.4, 2.0})
    for (double length_m = 10; length_m < 150; length_m += 10)
      EXPECT_LT(far_v(length_m + 10, exponent), far_v(length_m, exponent)) << length_m;
}

// kL = 37.5: the far end is dead, the current (V0/r) k for ever (textbook: tanh of a large number).
TEST(SolveLadder, StaysSoundOnACableFarTooLong) {
  const LadderStretch cable = stretch(piping::none, 10000, 2);
  const auto result = solve_ladder(std::span(&cable, 1), feed_v);
  ASSERT_TRUE(result.converged);
  EXPECT_NEAR(result.total_a, std::sqrt(loop * 30) / loop, 1e-9 * result.total_a);
  EXPECT_LT(result.lowest_v, 1e-6);
}

// 10 000 stretches of 15 mm are one of 150 m: short elements must not drown in rounding.
TEST(SolveLadder, KeepsItsDigitsOnVeryShortStretches) {
  std::vector<LadderStretch> chain;
  for (int s = 0; s < 10000; ++s) chain.push_back(stretch(s - 1, 0.015));
  const LadderStretch whole = stretch(piping::none, 150);
  const auto a = solve_ladder(chain, feed_v), b = solve_ladder(std::span(&whole, 1), feed_v);
  ASSERT_TRUE(a.converged);
  EXPECT_NEAR(a.lowest_v, b.lowest_v, 1e-9 * feed_v);
  EXPECT_NEAR(a.total_a, b.total_a, 1e-9 * a.total_a);
}

TEST(SolveLadder, RefusesABrokenPromise) {
  EXPECT_THROW((void)solve_ladder({}, 0), std::logic_error);
  EXPECT_THROW((void)solve_ladder(std::vector{stretch(0, 10)}, feed_v), std::logic_error);
  EXPECT_THROW((void)solve_ladder(std::vector{stretch(-1, 0)}, feed_v), std::logic_error);
}

TEST(SettledPipe, AgreesWithTheClosedFormOfALineOfOutput) {
  const FloatingPipe pipe{36, 240, 1.4, 10, 100, 0.35, 20};
  const OutputByPipe output = [](double pipe_c, double volts) {
    return 36 * std::pow(volts / 240, 1.4) * (100 - pipe_c) / 90;
  };
  const auto law = settled_law(output, 0.35, 20);
  for (const double volts : {150.0, 200.0, 240.0}) {
    EXPECT_NEAR(settled_pipe_c(output, 0.35, 20, volts), pipe.pipe_c(volts), 1e-10);
    EXPECT_NEAR(law(volts).w_per_m, pipe.output(volts).w_per_m, 1e-10);
    EXPECT_NEAR(law(volts).w_per_m_v, pipe.output(volts).w_per_m_v, 1e-6);
  }
}

}  // namespace
}  // namespace firstdraw::power
