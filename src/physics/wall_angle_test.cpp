#include "physics/wall_angle.hpp"

#include <gtest/gtest.h>

#include <numbers>

namespace firstdraw::physics {
namespace {

using std::numbers::pi;

WallProfile copper_wall() { return wall_profile(find_pipe("copper L 1").value(), 400, 1.5, 50, 20, 12); }

TEST(WallProfile, FallsAwayFromTheCableOnBothSides) {
  const WallProfile wall = copper_wall();
  EXPECT_GT(wall.at(0), wall.at(1));
  EXPECT_GT(wall.at(1), wall.at(pi));
  EXPECT_NEAR(wall.at(1), wall.at(-1), 1e-12);
  EXPECT_NEAR(wall.at(1), wall.at(2 * pi - 1), 1e-9);
  EXPECT_GT(wall.at(0), wall.under_cable_c);
}

TEST(WallProfile, CopperIsEvenPlasticIsNot) {
  EXPECT_LT(copper_wall().under_cable_c - copper_wall().at(pi), 0.5);
  const WallProfile plastic = wall_profile(find_pipe("cpvc 1").value(), 400, 1.5, 50, 20, 12);
  EXPECT_GT(plastic.under_cable_c - plastic.at(pi), 10);
}

TEST(Sensor, BesideTheCableReadsHighOppositeReadsTheWall) {
  const WallProfile wall = copper_wall();
  SensorMount mount;
  EXPECT_NEAR(sensor_reading_c(wall, mount, 70), wall.at(pi), 1e-9);
  mount.angle_rad = 0;
  EXPECT_NEAR(sensor_reading_c(wall, mount, 70), wall.at(0) + 0.35 * (70 - wall.at(0)), 1e-9);
  EXPECT_EQ(water_from_reading_c(53, 52.5, 50), 50.5);
}

TEST(Derating, MetalNearlyNonePlasticMuch) {
  const auto share = [](const char* name, double slope) {
    return cable_derating_frac(find_pipe(name).value(), 400, 1.5, 50, 20, 15, slope);
  };
  EXPECT_GT(share("copper L 1", -0.25), 0.98);
  EXPECT_LT(share("cpvc 1", -0.25), 0.8);
  EXPECT_LT(share("cpvc 1", -0.25), share("pex 1", -0.25));
  EXPECT_EQ(share("cpvc 1", 0), 1);  // constant wattage
}

}  // namespace
}  // namespace firstdraw::physics
