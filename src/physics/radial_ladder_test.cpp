#include "physics/radial_ladder.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace firstdraw::physics {
namespace {

Layer layer(const Insulation& insulation, double inner_m, double outer_m) {
  return {insulation, inner_m, outer_m};
}

void expect_positive(const RadialLadder& ladder) {
  EXPECT_GT(ladder.wall_to_inner_w_per_m_k, 0);
  EXPECT_GT(ladder.inner_to_outer_w_per_m_k, 0);
  EXPECT_GT(ladder.outer_to_air_w_per_m_k, 0);
  EXPECT_GT(ladder.inner_j_per_m_k, 0);
  EXPECT_GT(ladder.outer_j_per_m_k, 0);
}

/// Both admittances in the slow range where five moments say everything: rate up to 3 % of what the layers
/// take.
void expect_same_when_slow(const std::vector<Layer>& layers, double surface, const RadialLadder& ladder) {
  const auto moments = admittance_moments(layers, 40, surface);
  const double slow_per_s = -0.03 * moments[1] / moments[2];
  for (const double rate : {0.0, 0.1 * slow_per_s, slow_per_s}) {
    const double exact = exact_admittance_w_per_m_k(layers, 40, surface, rate);
    EXPECT_NEAR(admittance_w_per_m_k(ladder, rate), exact, 1e-6 * exact) << rate;
  }
}

TEST(RadialLadder, AnyInsulationOfAnySizeHasItsLadder) {
  for (const Insulation& insulation : all_insulations()) {
    for (const double inner_m : {0.012, 0.028, 0.09}) {
      for (const double thick_m : {0.0005, 0.006, 0.03, 0.12}) {
        SCOPED_TRACE(insulation.id);
        const std::vector<Layer> layers{layer(insulation, inner_m, inner_m + 2 * thick_m)};
        const double surface = 9 * std::numbers::pi * layers.back().outer_diameter_m;
        const RadialLadder ladder = radial_ladder(layers, 40, surface);
        expect_positive(ladder);
        expect_same_when_slow(layers, surface, ladder);
      }
    }
  }
}

TEST(RadialLadder, LayersOfDifferentKinds) {
  const auto insulations = all_insulations();
  for (const Insulation& inner : insulations) {
    for (const Insulation& outer : insulations) {
      const std::vector<Layer> layers{layer(inner, 0.035, 0.06), layer(outer, 0.06, 0.11)};
      const RadialLadder ladder = radial_ladder(layers, 40, 3);
      expect_positive(ladder);
      expect_same_when_slow(layers, 3, ladder);
    }
  }
}

TEST(RadialLadder, BarePipeStoresNothing) {
  const RadialLadder ladder = radial_ladder({}, 40, 0.7);
  EXPECT_TRUE(is_bare(ladder));
  EXPECT_NEAR(ladder.steady_w_per_m_k(), 0.7, 1e-11);
  EXPECT_NEAR(admittance_w_per_m_k(ladder, 1e-2), 0.7, 1e-11);
  EXPECT_EQ(exact_admittance_w_per_m_k({}, 40, 0.7, 1e-2), 0.7);
}

TEST(RadialLadder, LayerWithoutMassOnlyResists) {
  Insulation light = find_insulation("glass-fibre").value();
  light.density_kg_per_m3 = 0;
  const std::vector<Layer> layers{layer(light, 0.03, 0.08)};
  const RadialLadder ladder = radial_ladder(layers, 40, 2);
  EXPECT_TRUE(is_bare(ladder));
  EXPECT_NEAR(ladder.steady_w_per_m_k(), exact_admittance_w_per_m_k(layers, 40, 2, 0.5), 1e-10);
}

TEST(RadialLadder, WetInsulationConductsMoreAndStoresTheSame) {
  std::vector<Layer> layers{layer(find_insulation("mineral-wool").value(), 0.03, 0.08)};
  const double dry = admittance_moments(layers, 40, 1e9)[1];
  layers.front().conductivity_factor = 3;
  EXPECT_NEAR(admittance_moments(layers, 40, 1e9)[1], dry, 1e-6 * dry);
  EXPECT_GT(radial_ladder(layers, 40, 2).steady_w_per_m_k(),
            exact_admittance_w_per_m_k({{layers.front().insulation, 0.03, 0.08}}, 40, 2, 0));
}

TEST(RadialLadder, ExactAdmittanceHoldsAtAnyRate) {
  const std::vector<Layer> layers{layer(find_insulation("glass-fibre").value(), 0.03, 0.08)};
  double last = exact_admittance_w_per_m_k(layers, 40, 2, 0);
  for (double rate = 1e-15; rate < 1e12; rate *= 3) {
    const double now = exact_admittance_w_per_m_k(layers, 40, 2, rate);
    EXPECT_GE(now, last * (1 - 1e-9)) << rate;  // the Bessel functions change method at 600
    EXPECT_LE(now, 2 * last) << rate;
    last = now;
  }
}

}  // namespace
}  // namespace firstdraw::physics
