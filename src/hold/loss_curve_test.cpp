#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "hold/hold.hpp"
#include "hold/invented_building.hpp"
#include "hold/loss_shape.hpp"

namespace firstdraw::hold {
namespace {

using physics::FilmLaw;
using physics::Layer;
using physics::Orientation;
using physics::PipeSection;
using physics::Surroundings;

/// Worst difference from physics::pipe_loss over the promised range, as a share of the loss.
double worst_difference(PipeSection section, Surroundings around, double factor = 1) {
  const LossCurve curve(section, around);
  for (Layer& layer : section.layers) layer.conductivity_factor *= factor;
  double worst = 0;
  for (double air_c = -20; air_c <= 45; air_c += 5) {
    around.air_c = air_c;
    for (double water_c = 0.5; water_c <= 95; water_c += 3.5) {
      const double exact = physics::pipe_loss(section, water_c, around).loss_w_per_m;
      const double got = curve.loss_w_per_m(water_c, air_c, factor);
      if (exact == 0) {
        EXPECT_EQ(got, 0);
      } else {
        worst = std::max(worst, std::abs(got / exact - 1));
      }
    }
  }
  return worst;
}

TEST(LossCurve, AgreesWithPipeLossForInsulatedPipe) {
  for (const InventedKind& kind : invented_kinds()) EXPECT_LT(worst_difference(kind.section, {}), 1e-9);
}

TEST(LossCurve, AgreesForAnyConductivityFactor) {
  const PipeSection section = invented_section("copper L 1", "glass fibre", 0.0349, 0.1016);
  for (const double factor : {0.5, 0.85, 1.15, 3.0}) EXPECT_LT(worst_difference(section, {}, factor), 1e-9);
}

TEST(LossCurve, AgreesForTwoLayersInsideFilmAndBarePipe) {
  PipeSection section = invented_section("steel 40 2", "mineral wool", 0.0603, 0.1413);
  section.inner_film_w_per_m2_k = 200;
  section.layers.push_back({physics::find_insulation("elastomeric").value(), 0.1413, 0.1800, 1.2});
  EXPECT_LT(worst_difference(section, {}), 1e-9);
  EXPECT_LT(worst_difference(physics::bare(physics::find_pipe("copper L 1").value()), {}), 1e-6);
}

TEST(LossCurve, AgreesForEveryFilmLawPositionAndAir) {
  const PipeSection section = invented_section("copper L 1", "glass fibre", 0.0349, 0.1016);
  for (const FilmLaw law : {FilmLaw::iso_12241, FilmLaw::churchill_chu, FilmLaw::astm_c680_1989}) {
    for (const Orientation orientation : {Orientation::horizontal, Orientation::vertical}) {
      for (const double speed : {0.0, 0.3, 2.0}) {
        for (const double emissivity : {0.05, 0.9}) {
          Surroundings around{
              .emissivity = emissivity, .orientation = orientation, .air_speed_m_per_s = speed, .law = law};
          EXPECT_LT(worst_difference(section, around), 1e-6)
              << static_cast<int>(law) << static_cast<int>(orientation) << speed << " " << emissivity;
        }
      }
    }
  }
}

// A vertical pipe 1 m high changes branch at a rise of 10 K, with a step in the film; thin insulation gets
// there.
TEST(LossCurve, AgreesAcrossTheStepOfTheFilmLaw) {
  const PipeSection section = invented_section("copper L 1", "glass fibre", 0.0286, 0.0360);
  Surroundings around{.orientation = Orientation::vertical};
  const LossCurve curve(section, around);
  double last = 0;
  int at_step = 0;
  for (double water_c = 21; water_c < 60; water_c += 0.05) {
    const auto exact = physics::pipe_loss(section, water_c, around);
    if (std::abs(exact.surface_c - 30) < 1e-6) ++at_step;
    const double got = curve.loss_w_per_m(water_c, 20);
    EXPECT_NEAR(got, exact.loss_w_per_m, 1e-6 * exact.loss_w_per_m) << water_c;
    EXPECT_GT(got, last);
    last = got;
  }
  EXPECT_GT(at_step, 10);  // the sweep did stand on the step
}

TEST(LossCurve, IsExactlyNilWithoutDifferenceAndOddAroundIt) {
  const LossCurve curve = invented_kinds().front().loss;
  EXPECT_EQ(curve.loss_w_per_m(20, 20), 0);
  EXPECT_GT(curve.loss_w_per_m(20.001, 20), 0);
  EXPECT_LT(curve.loss_w_per_m(19.999, 20), 0);
}

TEST(LossShape, MarchCarriesItsDerivatives) {
  const auto section = invented_section("copper L 1", "glass fibre", 0.0349, 0.1016);
  const LossShape shape(section, {});
  for (const double rise_k : {0.01, 0.7, 4.0, 9.0}) {
    const double step_k = 1e-5 * rise_k;
    const auto at = shape.at_rise(rise_k, 18, 1.1);
    const auto up = shape.at_rise(rise_k + step_k, 18, 1.1), down = shape.at_rise(rise_k - step_k, 18, 1.1);
    EXPECT_NEAR(at.loss_per_rise, (up.loss_w_per_m - down.loss_w_per_m) / (2 * step_k),
                1e-6 * at.loss_per_rise);
    EXPECT_NEAR(at.water_per_rise, (up.water_c - down.water_c) / (2 * step_k), 1e-6 * at.water_per_rise);
  }
}

}  // namespace
}  // namespace firstdraw::hold
