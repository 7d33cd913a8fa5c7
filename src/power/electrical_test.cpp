#include "power/electrical.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace firstdraw::power {
namespace {

TEST(FarDrop, OfNothingIsNothing) { EXPECT_EQ(far_drop_v({}, 0.02), 0); }

TEST(FarDrop, DoesNotDependOnHowAStretchIsDivided) {
  const std::vector<Stretch> whole{{piping::none, 90, 0.1}};
  const std::vector<Stretch> parts{{piping::none, 20, 0.1}, {0, 30, 0.1}, {1, 40, 0.1}};
  EXPECT_NEAR(far_drop_v(parts, 0.02), far_drop_v(whole, 0.02), 1e-12);
}

TEST(FarDrop, OfATeeTakesTheCurrentOfBothBranchesThroughTheStem) {
  // Stem 10 m, branches 20 m and 5 m, 0.1 A/m, 0.02 ohm/m: stem 0.02 * 10 * (2.5 + 0.5) = 0.6 V, long branch
  // 0.02 * 20 * 1 = 0.4 V.
  const std::vector<Stretch> tree{{piping::none, 10, 0.1}, {0, 20, 0.1}, {0, 5, 0.1}};
  EXPECT_NEAR(far_drop_v(tree, 0.02), 1.0, 1e-12);
}

TEST(FarDrop, OfBranchesFromTheFeedIsThatOfTheWorse) {
  const std::vector<Stretch> both{{piping::none, 10, 0.1}, {piping::none, 20, 0.1}};
  const std::vector<Stretch> longer{{piping::none, 20, 0.1}};
  EXPECT_EQ(far_drop_v(both, 0.02), far_drop_v(longer, 0.02));
}

TEST(StandingLeakage, GrowsWithEachOfItsFactors) {
  const double base_a = standing_leakage_a(0.3e-9, 100, 208, 60);
  EXPECT_NEAR(standing_leakage_a(0.6e-9, 100, 208, 60), 2 * base_a, 1e-15);
  EXPECT_NEAR(standing_leakage_a(0.3e-9, 200, 208, 60), 2 * base_a, 1e-15);
  EXPECT_NEAR(standing_leakage_a(0.3e-9, 100, 104, 60), base_a / 2, 1e-15);
  EXPECT_NEAR(standing_leakage_a(0.3e-9, 100, 208, 50), base_a * 50 / 60, 1e-15);
}

}  // namespace
}  // namespace firstdraw::power
