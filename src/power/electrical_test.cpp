#include "power/electrical.hpp"

#include <gtest/gtest.h>

namespace firstdraw::power {
namespace {

TEST(StandingLeakage, GrowsWithEachOfItsFactors) {
  const double base_a = standing_leakage_a(0.3e-9, 100, 208, 60);
  EXPECT_NEAR(standing_leakage_a(0.6e-9, 100, 208, 60), 2 * base_a, 1e-15);
  EXPECT_NEAR(standing_leakage_a(0.3e-9, 200, 208, 60), 2 * base_a, 1e-15);
  EXPECT_NEAR(standing_leakage_a(0.3e-9, 100, 104, 60), base_a / 2, 1e-15);
  EXPECT_NEAR(standing_leakage_a(0.3e-9, 100, 208, 50), base_a * 50 / 60, 1e-15);
}

}  // namespace
}  // namespace firstdraw::power
