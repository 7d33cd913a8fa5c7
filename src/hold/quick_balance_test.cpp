#include "hold/quick_balance.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "hold/invented_building.hpp"

namespace firstdraw::hold {
namespace {

// The promise of uncertainty(): 1e-3 K of the exact solution, far outside usual tolerances too.
TEST(QuickBalance, FollowsTheExactSolution) {
  std::mt19937 engine(7);
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(engine);
  };
  const physics::HeatingCable cable(invented_sheet("mild", 24));
  const QuickOutput output(cable);
  double worst_k = 0;
  for (const InventedKind& kind : invented_kinds()) {
    const LossShape& shape = kind.loss.shape();
    for (int i = 0; i < 300; ++i) {
      const Circumstances nominal{between(0.02, 2), between(-10, 30), 1};
      const QuickBalance quick(shape, output, nominal);
      const Circumstances now{nominal.drive * between(0.3, 2), nominal.air_c + between(-20, 20),
                              between(0.4, 2)};
      const auto exact_output = [&](double pipe_c) -> CurveSample {
        const double here = cable.power_w_per_m(pipe_c, 208);
        return {here, (cable.power_w_per_m(pipe_c + 1e-3, 208) - here) / 1e-3};
      };
      const double exact_c = settle_run(shape, now.drive, now.air_c, now.factor, 0, exact_output).water_c;
      worst_k = std::max(worst_k, std::abs(quick.water_c(now) - exact_c));
    }
  }
  EXPECT_LT(worst_k, 1e-3);
}

// Where the film law jumps the slope of the balance changes; where a data sheet ends the cable's does.
TEST(QuickBalance, FollowsTheExactSolutionAcrossKinks) {
  const auto section = invented_section("copper L 1", "glass fibre", 0.0286, 0.0360);
  const LossShape shape(section, {.orientation = physics::Orientation::vertical});
  const physics::HeatingCable cable(invented_sheet("mild", 24));
  const QuickOutput output(cable);
  const QuickBalance quick(shape, output, {1, 20, 1});
  double worst_k = 0;
  int at_step = 0;
  for (double drive = 0.3; drive < 40; drive *= 1.0003) {
    const Settled exact = settle_run(shape, drive, 20, 1, 0, output);
    worst_k = std::max(worst_k, std::abs(quick.water_c({drive, 20, 1}) - exact.water_c));
    if (std::abs(exact.rise_k - 10) < 1e-9) ++at_step;
  }
  EXPECT_LT(worst_k, 1e-3);
  EXPECT_GT(at_step, 100);
}

TEST(QuickBalance, WithoutDriveComesToTheAir) {
  const physics::HeatingCable cable(invented_sheet("mild", 24));
  const QuickOutput output(cable);
  const auto kinds = invented_kinds();
  const QuickBalance quick(kinds[0].loss.shape(), output, {0.5, 20, 1});
  EXPECT_EQ(quick.water_c({0, 17, 1}), 17);
}

TEST(QuickBalance, StartsFromNoDriveToo) {
  const physics::HeatingCable cable(invented_sheet("mild", 24));
  const QuickOutput output(cable);
  const auto kinds = invented_kinds();
  const LossShape& shape = kinds[0].loss.shape();
  const QuickBalance quick(shape, output, {0, 20, 1});
  EXPECT_NEAR(quick.water_c({0.3, 20, 1}), settle_run(shape, 0.3, 20, 1, 0, output).water_c, 1e-3);
}

TEST(QuickLoss, FollowsTheLossCurve) {
  for (const InventedKind& kind : invented_kinds()) {
    const QuickLoss quick(kind.loss.shape(), 46, 20);
    for (const double water_c : {30.0, 46.0, 60.0}) {
      for (const double air_c : {-20.0, 20.0, 45.0}) {
        for (const double factor : {0.5, 1.0, 1.6}) {
          const double exact = kind.loss.loss_w_per_m(water_c, air_c, factor);
          EXPECT_NEAR(quick.loss_w_per_m(water_c, air_c, factor), exact, 1e-5 * std::abs(exact));
        }
      }
    }
    EXPECT_EQ(quick.loss_w_per_m(20, 20, 1), 0);
  }
}

TEST(CheckedCurve, IsEmptyWhereItWouldMiss) {
  const CheckedCurve kinked(0, 10, 10, 1e-6, [](double x) { return 1 + std::abs(x - 4.5); });
  CurveSample sample;
  EXPECT_TRUE(kinked.find(3.2, sample));
  EXPECT_NEAR(sample.value, 2.3, 1e-12);
  EXPECT_NEAR(sample.slope, -1, 1e-12);
  EXPECT_FALSE(kinked.find(4.2, sample));
  EXPECT_FALSE(kinked.find(-0.1, sample));
  EXPECT_FALSE(kinked.find(10, sample));
}

TEST(FallingRoot, FindsRootsAndPlacesOfJumps) {
  const auto cubic = [](double x) -> CurveSample { return {8 - x * x * x, -3 * x * x}; };
  EXPECT_NEAR(falling_root(cubic, 0, 100, 0.01, 1e-13), 2, 1e-12);
  const auto jump = [](double x) -> CurveSample { return {x < 3 ? 1.0 : -5.0, -0.5}; };
  EXPECT_NEAR(falling_root(jump, 0, 10, 4, 1e-13), 3, 1e-9);
}

}  // namespace
}  // namespace firstdraw::hold
