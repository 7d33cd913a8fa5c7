// The diagnosis on a small invented building: healthy state against the plan, faults that readings leave no
// doubt of, and doubt where physics leaves it.
#include "prove/diagnosis.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numeric>

#include "plan/small_job.hpp"
#include "prove/hypotheses.hpp"
#include "prove/observe.hpp"
#include "prove/posterior.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

struct Small {
  job::Job job = plan::small_job();
  plan::Plan plan;
  Small() {
    plan::Options unsampled;
    unsampled.samples = 0;
    plan = plan::make_plan(job, unsampled);
  }
  const power::Circuit& circuit() const { return plan.circuits.front(); }
};

const Small& small() {
  static const Small made;
  return made;
}

Reading of_circuit(What what, double value) {
  Reading reading;
  reading.what = what;
  reading.circuit = small().circuit().id;
  reading.value = value;
  return reading;
}
Reading of_group(What what, double value) {
  Reading reading;
  reading.what = what;
  reading.group = "main";
  reading.value = value;
  return reading;
}
Reading of_run(What what, const char* run, double value) {
  Reading reading;
  reading.what = what;
  reading.run = run;
  reading.value = value;
  return reading;
}

Diagnosis diagnosed(const std::vector<Reading>& readings, int threads = 1) {
  DiagnosisOptions options;
  options.samples = 600;
  options.threads = threads;
  return diagnose(small().job, small().plan, readings, options);
}

double odds(const Diagnosis& diagnosis, Cause cause) {
  for (const Suspect& suspect : diagnosis.suspects)
    if (suspect.cause == cause) return suspect.probability;
  return 0;
}

/// Loss 3 % below the plan's is the model's mean (the gap only lowers it): within that of the plan.
TEST(Forward, HealthyStateIsThePlans) {
  const std::vector<Reading> readings{of_circuit(What::current, 1)};
  const Scope scope(small().job, small().plan, readings);
  const Forward forward(scope, {});
  const Now now = forward.now({}, {}, {}, {1});
  for (std::size_t r = 0; r < scope.runs.size(); ++r)
    EXPECT_NEAR(now.runs[r].water_c.v, small().plan.runs[at(scope.runs[r].job_run)].at_maintain_c, 0.1);
  EXPECT_NEAR(now.circuits[0].amps.v, small().circuit().working_a, 0.003 * small().circuit().working_a);
  EXPECT_NEAR(now.circuits[0].feed_v.v, small().circuit().feed_v, 0.05);
  EXPECT_NEAR(now.groups[0].called.v, 0.97 * small().plan.groups[0].duty, 2e-3);
}

/// Derivatives by all tolerances against differences of whole solutions: air of the ceiling by hand.
TEST(Forward, DerivativesAreThoseOfTheState) {
  const std::vector<Reading> readings{of_circuit(What::current, 1)};
  const Scope scope(small().job, small().plan, readings);
  const Forward forward(scope, {});
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

TEST(Diagnosis, ProbabilitiesSumToOneAndTheFirstIsTheLikeliest) {
  const auto found = diagnosed({of_circuit(What::current, 0.9 * small().circuit().working_a)});
  const double sum = std::accumulate(found.suspects.begin(), found.suspects.end(), 0.0,
                                     [](double all, const Suspect& one) { return all + one.probability; });
  EXPECT_NEAR(sum, 1, 1e-9);
  EXPECT_TRUE(std::ranges::is_sorted(found.suspects, std::greater{}, &Suspect::probability));
  ASSERT_FALSE(found.next.empty());
  EXPECT_TRUE(std::ranges::is_sorted(found.next, std::greater{}, &Proposal::bit_per_minute));
}

TEST(Diagnosis, WhatAReadingShowsOutrightIsNamed) {
  Reading open = of_circuit(What::breaker, 0);
  EXPECT_EQ(diagnosed({of_circuit(What::current, 0), open}).suspects.front().cause, Cause::breaker_open);
  Reading stuck = of_group(What::contactor, 0);
  stuck.called = true;
  EXPECT_EQ(diagnosed({of_circuit(What::current, 0), stuck}).suspects.front().cause,
            Cause::contactor_stuck_off);
  const auto volts = diagnosed(
      {of_circuit(What::current, 0.85 * small().circuit().working_a), of_circuit(What::supply_voltage, 121)});
  EXPECT_EQ(volts.suspects.front().cause, Cause::wrong_voltage);
  ASSERT_TRUE(volts.suspects.front().value);
  EXPECT_NEAR(volts.suspects.front().value->usual, 121, 4);
  EXPECT_EQ(diagnosed({of_group(What::sensor_reading, -200)}).suspects.front().cause,
            Cause::sensor_unplugged);
  const double hot_c = small().plan.runs[1].stuck_on_c - 5;
  EXPECT_EQ(diagnosed({of_group(What::sensor_reading, 22), of_run(What::pipe_temperature, "R2", hot_c),
                       of_group(What::duty, 1)})
                .suspects.front()
                .cause,
            Cause::sensor_off_pipe);
}

/// Half a cable at full voltage: dead beyond, or aged all along. Current alone cannot tell, capacitance can.
TEST(Diagnosis, CurrentAloneLeavesDeadAndAgedInDoubtAndCapacitanceTells) {
  const double half_a = 0.5 * small().circuit().working_a;
  const std::vector<Reading> current{of_circuit(What::current, half_a),
                                     of_circuit(What::supply_voltage, 207)};
  const auto doubt = diagnosed(current);
  EXPECT_GT(odds(doubt, Cause::dead_length), 0.05);
  EXPECT_GT(odds(doubt, Cause::ageing_cable), 0.05);
  EXPECT_FALSE(doubt.settled);
  const double whole_f = 300e-12 * small().circuit().cable_length_m;
  auto both = current;
  both.push_back(of_circuit(What::capacitance, 0.5 * whole_f));
  const auto dead = diagnosed(both);
  EXPECT_EQ(dead.suspects.front().cause, Cause::dead_length);
  both.back().value = whole_f;
  const auto whole = diagnosed(both);
  EXPECT_LT(odds(whole, Cause::dead_length), odds(doubt, Cause::dead_length));
}

/// Once the pipe is known to be 5 K colder than it should be, more current is expected, and more surely.
TEST(Outcome, AColderPipeExplainsAHigherCurrent) {
  const std::vector<Reading> readings{of_circuit(What::current, 1)};
  const Scope scope(small().job, small().plan, readings);
  const Forward forward(scope, {});
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

TEST(Diagnosis, SameForAnyNumberOfThreads) {
  const std::vector<Reading> readings{of_circuit(What::current, 0.7 * small().circuit().working_a),
                                      of_run(What::pipe_temperature, "R3", 31)};
  const auto one = to_json(small().job, diagnosed(readings, 1)),
             three = to_json(small().job, diagnosed(readings, 3));
  EXPECT_EQ(one, three);
}

TEST(Diagnosis, ReadingsThatSayNothingAreWarnedOf) {
  const auto found = diagnosed(
      {of_circuit(What::current, small().circuit().working_a), of_circuit(What::trip_current, 0.028)});
  EXPECT_THAT(found.warnings, testing::Contains(testing::HasSubstr("trip-current")));
  const auto nowhere = diagnosed({of_run(What::pipe_temperature, "R0", 40)});
  EXPECT_TRUE(nowhere.suspects.empty());
  EXPECT_FALSE(nowhere.warnings.empty());
}

TEST(Diagnosis, FarFromEverythingIsNoneOfThese) {
  const auto found =
      diagnosed({of_circuit(What::current, 3 * small().circuit().working_a),
                 of_circuit(What::supply_voltage, 290), of_run(What::pipe_temperature, "R2", 93),
                 of_run(What::air_temperature, "R2", 52), of_group(What::sensor_reading, 10)});
  EXPECT_GT(odds(found, Cause::none_of_these), 0.5);
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
