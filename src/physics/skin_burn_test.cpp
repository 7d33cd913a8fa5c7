#include "physics/skin_burn.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>
#include <vector>

namespace firstdraw::physics {
namespace {

TEST(SkinBurn, ConstantsBelongTogether) {
  EXPECT_EQ(henriques().rate_per_s, 3.1e98);
  EXPECT_EQ(henriques().activation_k, 75000);
  EXPECT_EQ(henriques().first_degree, 0.53);
  EXPECT_LT(lag_range().low_s, usual_skin().lag_s);
  EXPECT_GT(lag_range().high_s, usual_skin().lag_s);
}

TEST(SkinBurn, NoneAtOrBelowTheThreshold) {
  EXPECT_EQ(burn_rate_per_s(henriques(), 44), 0);
  EXPECT_EQ(burn_rate_per_s(henriques(), std::nan("")), 0);
  EXPECT_TRUE(std::isinf(burn_time_s(henriques(), usual_skin(), 44, 1)));
  EXPECT_TRUE(std::isfinite(burn_time_s(henriques(), usual_skin(), 44.0001, 1)));
  EXPECT_EQ(burn_damage(henriques(), usual_skin(), std::vector<WaterAt>{{0, 44}, {1e6, 20}}), 0);
}

TEST(SkinBurn, HotterDeeperAndMilderTakeTheirOrder) {
  double last = burn_time_s(henriques(), usual_skin(), 44.5, 1);
  for (double water_c = 45; water_c <= 99; water_c += 0.5) {
    const double now = burn_time_s(henriques(), usual_skin(), water_c, 1);
    EXPECT_LT(now, last) << water_c;
    EXPECT_LT(burn_time_s(henriques(), usual_skin(), water_c, henriques().first_degree), now);
    EXPECT_GT(burn_time_s(henriques(), {34, lag_range().high_s}, water_c, 1), now);
    last = now;
  }
}

// Water held: the damage of the course that lasts as long as the burn takes is the damage asked for.
TEST(SkinBurn, TimeAndDamageAreInverse) {
  for (const double water_c : {46.0, 49.0, 55.0, 60.0, 75.0}) {
    for (const double lag_s : {0.0, 0.05, 0.11, 0.33}) {
      const Skin skin{34, lag_s};
      const double time_s = burn_time_s(henriques(), skin, water_c, 1);
      const std::vector<WaterAt> held{{10, water_c}, {10 + time_s / 3, water_c}, {10 + time_s, water_c}};
      EXPECT_NEAR(burn_damage(henriques(), skin, held), 1, 1e-6) << water_c << " " << lag_s;
    }
  }
}

TEST(SkinBurn, ACourseCutFinerIsTheSame) {
  const std::vector<WaterAt> whole{{0, 40}, {8, 60}};
  std::vector<WaterAt> cut;
  for (int i = 0; i <= 16; ++i) cut.push_back({0.5 * i, 40 + 1.25 * i});
  const double damage = burn_damage(henriques(), usual_skin(), whole);
  EXPECT_NEAR(burn_damage(henriques(), usual_skin(), cut) / damage, 1, 1e-6);
  EXPECT_GT(damage, burn_damage(henriques(), usual_skin(), std::vector<WaterAt>{{0, 40}, {8, 59.9}}));
}

// After the water has gone cold the layer is hot for a moment longer.
TEST(SkinBurn, DamageGoesOnForAMoment) {
  const std::vector<WaterAt> hot{{0, 60}, {1, 60}}, then_cold{{0, 60}, {1, 60}, {1.001, 20}, {3, 20}};
  EXPECT_GT(burn_damage(henriques(), usual_skin(), then_cold), burn_damage(henriques(), usual_skin(), hot));
}

TEST(SkinBurn, NonsenseThrows) {
  EXPECT_THROW(burn_time_s(henriques(), {45, 0.1}, 60, 1), std::invalid_argument);
  EXPECT_THROW(burn_time_s(henriques(), {34, -0.1}, 60, 1), std::invalid_argument);
  EXPECT_THROW(burn_time_s(henriques(), usual_skin(), 60, 0), std::invalid_argument);
  EXPECT_THROW(burn_damage(henriques(), usual_skin(), std::vector<WaterAt>{{1, 50}, {1, 50}}),
               std::invalid_argument);
}

}  // namespace
}  // namespace firstdraw::physics
