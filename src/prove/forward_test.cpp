// The forward model on a small invented building: healthy state against the plan, derivatives, what faults
// show, priors.
#include "prove/forward.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "plan/sections.hpp"
#include "prove/hypotheses.hpp"
#include "prove/posterior.hpp"
#include "prove/small_diagnosed.hpp"
#include "prove/surface_rise.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

/// Loss 3 % below the plan's is the model's mean (the gap only lowers it): within that of the plan.
TEST(Forward, HealthyStateIsThePlans) {
  const SmallModel model;
  const auto& [scope, forward] = model;
  const Now now = forward.now({}, {}, {}, {1});
  for (std::size_t r = 0; r < scope.runs.size(); ++r)
    EXPECT_NEAR(now.runs[r].water_c.v, small().plan.runs[at(scope.runs[r].job_run)].at_maintain_c, 0.1);
  EXPECT_NEAR(now.circuits[0].amps.v, small().circuit().working_a, 0.003 * small().circuit().working_a);
  EXPECT_NEAR(now.circuits[0].feed_v.v, small().circuit().feed_v, 0.05);
  EXPECT_NEAR(now.groups[0].called.v, 0.97 * small().plan.groups[0].duty, 2e-3);
}

/// Derivatives by all tolerances against differences of whole solutions: air of the ceiling by hand.
TEST(Forward, DerivativesAreThoseOfTheState) {
  const SmallModel model;
  const auto& [scope, forward] = model;
  const Now usual = forward.now({}, {}, {}, {1});
  for (const double by_k : {0.25}) {
    Fault colder;
    colder.cause = Cause::colder_air;
    colder.level = Fault::Level::space;
    colder.place = 0;
    colder.value = by_k;
    const Now cold = forward.now(colder, {}, {}, {1});
    const auto& space = scope.spaces[0];
    for (std::size_t r = 0; r < scope.runs.size(); ++r) {
      const double slope = usual.runs[r].water_c.g[at(space.slot)] / space.sigma_k;
      EXPECT_NEAR((usual.runs[r].water_c.v - cold.runs[r].water_c.v) / by_k, slope, 0.015) << r;
    }
    const double slope_a = usual.circuits[0].amps.g[at(space.slot)] / space.sigma_k;
    EXPECT_NEAR((usual.circuits[0].amps.v - cold.circuits[0].amps.v) / by_k, slope_a,
                0.1 * std::abs(slope_a) + 1e-3);
  }
}

/// Once the pipe is known to be 5 K colder than it should be, more current is expected, and more surely.
TEST(Outcome, AColderPipeExplainsAHigherCurrent) {
  const SmallModel model;
  const auto& [scope, forward] = model;
  const Now now = forward.now({}, {}, {}, {1});
  const Outcome amps = outcome(forward, {}, {}, now, {What::current, 0, 0});
  std::vector<Outcome> pipe{outcome(forward, {}, {}, now, {What::pipe_temperature, 0, 0})};
  Observation cold;
  cold.value = pipe[0].mean.v - 5;
  cold.error_var = 1;
  cold.high = 95;
  std::vector<std::size_t> taken;
  const Gaussian known = numbers_of(std::span(&cold, 1), pipe, taken);
  const double variance = covariance(amps, amps) + amps.own_var;
  const std::vector<double> with{covariance(amps, pipe[0])};
  EXPECT_GT(known.rest(with, variance).shift, 0);
  EXPECT_LT(known.rest(with, variance).variance, variance);
}

/// By hand: away from the sensor a wet run gets what its cable gives at the group's duty, dry or wet: its
/// pipe goes cold and its jacket stays little warmer. At the sensor the controller makes up for the loss: its
/// pipe stays, and its jacket takes twice the heat or more.
TEST(Outcome, AWetRunShowsOnItsPipeAndAtTheSensorOnItsJacket) {
  const SmallModel model;
  const auto& [scope, forward] = model;
  const int away = scope.run_of(2), sensor = scope.groups[0].sensor;
  ASSERT_NE(away, sensor);
  const auto value = [&](const Fault& fault, What what, int run) {
    return outcome(forward, fault, {}, forward.now(fault, {}, {}, {1}), {what, 0, 0, run}).mean.v;
  };
  const auto rise_k = [&](const Fault& fault, int run) {
    return value(fault, What::surface_temperature, run) - scope.runs[at(run)].air_c;
  };
  EXPECT_LT(value(wet(away, 5), What::pipe_temperature, away), value({}, What::pipe_temperature, away) - 8);
  EXPECT_GT(rise_k(wet(away, 5), away), rise_k({}, away));
  EXPECT_LT(rise_k(wet(away, 5), away), 1.7 * rise_k({}, away));
  EXPECT_NEAR(value(wet(sensor, 2), What::pipe_temperature, sensor),
              value({}, What::pipe_temperature, sensor), 1);
  EXPECT_GT(rise_k(wet(sensor, 2), sensor), 1.4 * rise_k({}, sensor));
}

/// Share of equally likely places of the sensor along its run that have the controller ask for full output,
/// its cable dead from this share of the run on. By hand: 0.1 to 0.9 of the run, so all, half, none.
TEST(Forward, ASensorOnARunThatIsDeadInPartSitsOnEitherPart) {
  const SmallModel model;
  const auto& [scope, forward] = model;
  const int run = scope.groups[0].sensor, stretch = scope.runs[at(run)].stretch;
  const auto full = [&](double live_frac) {
    Fault dead;
    dead.cause = Cause::dead_length;
    dead.level = Fault::Level::run;
    dead.place = run;
    dead.value = scope.circuits[0].start_m[at(stretch)] +
                 live_frac * scope.circuits[0].stretches[at(stretch)].length_m;
    int count = 0;
    for (int i = 0; i < 200; ++i) {
      const Now now = forward.now(dead, {0, 0, (i + 0.5) / 200}, {}, {1});
      const bool on_dead = now.groups[0].duty.v >= 1;
      count += on_dead;
      EXPECT_EQ(now.groups[0].reading_c.v < scope.groups[0].set_c - 5, on_dead) << live_frac << ' ' << i;
    }
    return count / 200.0;
  };
  EXPECT_EQ(full(0.05), 1);
  EXPECT_NEAR(full(0.5), 0.5, 0.02);
  EXPECT_EQ(full(0.95), 0);
}

/// The jacket by the loss that drives it, against the section solved with its film, layer by layer.
TEST(SurfaceRise, IsTheSolvedSections) {
  plan::Sections sections;
  const job::Run& run = small().job.runs[2];
  const plan::RunPlan& planned = small().plan.runs[2];
  const hold::LossCurve& curve = sections.loss(run, planned.insulation);
  const auto section = plan::section_of(run, sections.insulation(run), planned.insulation);
  const SurfaceRise surface(curve, 20);
  for (const double water_c : {45.0, 60.0, 80.0}) {
    const auto solved = physics::pipe_loss(section, water_c, plan::surroundings_of(run, 20));
    ASSERT_GT(solved.surface_c, 21);
    EXPECT_NEAR(surface.at(solved.loss_w_per_m).rise_k, solved.surface_c - 20, 0.03 * (solved.surface_c - 20))
        << water_c;
  }
}

TEST(Hypotheses, PriorsAndPlacesAddUp) {
  const std::vector<Reading> readings{of_circuit(What::current, 1)};
  const Scope scope(small().job, small().plan, readings);
  double sum = 0;
  for (const Hypothesis& one : hypotheses(scope, 0.03)) {
    sum += one.prior;
    double places = 0;
    for (const Candidate& place : one.places) places += place.weight;
    EXPECT_NEAR(places, 1, 1e-12);
    EXPECT_NE(one.cause, Cause::wrong_ambient);  // a group with a sensor does not go by it
  }
  EXPECT_NEAR(sum, 0.97, 1e-12);
}

}  // namespace
}  // namespace firstdraw::prove
