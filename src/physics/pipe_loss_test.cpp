#include "physics/pipe_loss.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace firstdraw::physics {
namespace {

PipeSection copper_in_fibre() {
  const Pipe pipe = find_pipe("copper L 1 in").value();
  return insulated(pipe, find_insulation("glass-fibre").value(),
                   fit_insulation(pipe.outer_diameter_m, {0.011, 0.006}, 1, 0.0254, SizeSeries::inch_tube));
}

TEST(PipeLoss, SurfaceGivesWhatThePipeLoses) {
  const PipeSection section = copper_in_fibre();
  const Surroundings room{.air_c = 20};
  const PipeLoss at = pipe_loss(section, 60, room);
  const double taken = std::numbers::pi * section.layers.back().outer_diameter_m *
                       at.surface_film_w_per_m2_k * (at.surface_c - 20);
  EXPECT_NEAR(taken, at.loss_w_per_m, 1e-12 * at.loss_w_per_m);
  EXPECT_NEAR((60 - 20) / at.resistance_m_k_per_w, at.loss_w_per_m, 1e-12 * at.loss_w_per_m);
  EXPECT_NEAR(at.wall_c - at.loss_w_per_m * at.layer_resistance_m_k_per_w.at(0), at.surface_c, 1e-11);
  EXPECT_LT(at.iterations, 12);
  EXPECT_EQ(loss_w_per_m(section, 60, room), at.loss_w_per_m);
}

TEST(PipeLoss, NoDifferenceNoLoss) {
  const PipeLoss at = pipe_loss(copper_in_fibre(), 20, {.air_c = 20});
  EXPECT_EQ(at.loss_w_per_m, 0);
  EXPECT_EQ(at.surface_c, 20);
  EXPECT_GT(at.resistance_m_k_per_w, 0);
}

TEST(PipeLoss, ColdPipeGains) {
  const PipeLoss at = pipe_loss(copper_in_fibre(), 8, {.air_c = 26});
  EXPECT_LT(at.loss_w_per_m, 0);
  EXPECT_GT(at.surface_c, 8);
  EXPECT_LT(at.surface_c, 26);
}

// A vertical pipe of 1 m: the ISO film steps from 2.3 to 3.7 W/(m2 K) where the surface is 10 K above the
// air. The loss must rise through that without a jump down or a failure to converge.
TEST(PipeLoss, RisesThroughTheStepOfTheFilmLaw) {
  const PipeSection section = bare(find_pipe("pex 1 in").value());
  Surroundings room{.air_c = 20, .emissivity = 0.1, .orientation = Orientation::vertical, .height_m = 1};
  double last = 0;
  for (double water_c = 25; water_c < 40; water_c += 0.01) {
    const PipeLoss at = pipe_loss(section, water_c, room);
    EXPECT_GT(at.loss_w_per_m, last) << water_c;
    EXPECT_LE(at.iterations, 120) << water_c;
    last = at.loss_w_per_m;
  }
}

TEST(PipeLoss, WetInsulationLosesMore) {
  PipeSection wet = copper_in_fibre();
  wet.layers[0].conductivity_factor = 10;
  EXPECT_GT(loss_w_per_m(wet, 60, {.air_c = 20}), 2 * loss_w_per_m(copper_in_fibre(), 60, {.air_c = 20}));
}

TEST(PipeLoss, InsulationMustGoOverThePipe) {
  const Pipe pipe = find_pipe("copper L 2 in").value();
  const InsulationSize small = fit_insulation(0.022, {}, 0, 0.025, SizeSeries::metric);
  EXPECT_THROW(insulated(pipe, find_insulation("elastomeric").value(), small), std::logic_error);
}

TEST(Fittings, EveryOneHasALength) {
  for (const Fitting fitting : {Fitting::elbow, Fitting::tee, Fitting::valve_insulated, Fitting::valve_bare,
                                Fitting::flange_bare, Fitting::support}) {
    double last = 0;
    for (const double diameter_m : {0.0127, 0.028, 0.054, 0.1143, 0.1683}) {
      const double length_m = equivalent_length_m(fitting, diameter_m);
      EXPECT_GT(length_m, 0);
      EXPECT_GE(length_m, last);
      last = length_m;
    }
  }
  EXPECT_EQ(equivalent_length_m(Fitting::valve_insulated, 0.05), 1.5);
  EXPECT_EQ(equivalent_length_m(Fitting::valve_bare, 0.022), 4);
}

}  // namespace
}  // namespace firstdraw::physics
