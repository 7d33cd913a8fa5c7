// The diagnosis on a small invented building: healthy state against the plan, faults that readings leave no
// doubt of, and doubt where physics leaves it.
#include "prove/diagnosis.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numeric>

#include "plan/sections.hpp"
#include "plan/small_job.hpp"
#include "prove/hypotheses.hpp"
#include "prove/observe.hpp"
#include "prove/posterior.hpp"
#include "prove/surface_rise.hpp"

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

Reading position(const char* text) {
  Reading reading = of_group(What::sensor_position, 0);
  reading.text = text;
  return reading;
}

/// By hand: of 100 visits 6 have it beside the cable and nearly all of these are seen; of the other 94 one in
/// a hundred is mistaken for it. The current fits either.
TEST(Diagnosis, ALookAtTheSensorNamesWhereItSits) {
  const Reading amps = of_circuit(What::current, small().circuit().working_a);
  const auto before = diagnosed({amps});
  const auto beside = diagnosed({amps, position("beside cable")});
  EXPECT_EQ(beside.suspects.front().cause, Cause::sensor_beside_cable);
  EXPECT_GT(beside.suspects.front().probability, 0.75);
  EXPECT_LT(odds(diagnosed({amps, position("as planned")}), Cause::sensor_beside_cable),
            0.1 * odds(before, Cause::sensor_beside_cable));
  const auto off = diagnosed({amps, position("off pipe")});
  EXPECT_GT(odds(off, Cause::sensor_off_pipe), odds(off, Cause::sensor_beside_cable));
}

/// Pipes held 3 K too cold are within what thermometers and insulation leave open: only a look can tell, so
/// it must be among what is proposed once the cheap readings are made.
TEST(Diagnosis, ALookAtTheSensorIsProposedWhereNothingElseTells) {
  const auto found = diagnosed({of_circuit(What::current, small().circuit().working_a),
                                of_circuit(What::supply_voltage, small().circuit().feed_v),
                                of_group(What::sensor_reading, small().job.groups[0].maintain_c),
                                of_group(What::duty, 0.05 * std::round(20 * small().plan.groups[0].duty))});
  const bool asked =
      std::ranges::any_of(found.next, [](const Proposal& one) { return one.what == What::sensor_position; });
  EXPECT_TRUE(asked);
}

/// A walk that finds all dry: dry insulation passes in 97 of 100, wet in 25, missing in 3.
TEST(Diagnosis, AWalkThatFindsAllDryRulesOutWhatItWouldHaveSeen) {
  const Reading amps = of_circuit(What::current, small().circuit().working_a);
  const auto before = diagnosed({amps}), after = diagnosed({amps, of_circuit(What::insulation_walked, 1)});
  const auto against_nothing = [](const Diagnosis& found, Cause cause) {
    return odds(found, cause) / odds(found, Cause::nothing);
  };
  EXPECT_NEAR(against_nothing(after, Cause::wet_insulation) / against_nothing(before, Cause::wet_insulation),
              0.25 / 0.97, 0.02);
  EXPECT_NEAR(
      against_nothing(after, Cause::missing_insulation) / against_nothing(before, Cause::missing_insulation),
      0.03 / 0.97, 0.004);
}

/// Of a cause at its likeliest place, against nothing.
double here_against_nothing(const Diagnosis& found, Cause cause) {
  const auto one = std::ranges::find(found.suspects, cause, &Suspect::cause);
  return one->probability * one->at_place / odds(found, Cause::nothing);
}

/// The walk's "no" and the run that it found are one look, which errs in 3 of 100 about any of four runs; a
/// look at one run errs as often about that one. By hand: against nothing, missing insulation there gains
/// four times as much from the walk.
TEST(Diagnosis, AWalkAndTheRunItFoundAreOneLook) {
  const Reading amps = of_circuit(What::current, small().circuit().working_a);
  const Reading run = of_run(What::insulation_seen, "R3", 0), walk = of_circuit(What::insulation_walked, 0);
  ASSERT_EQ(small().circuit().runs.size(), 4U);
  const auto both = diagnosed({amps, walk, run}), once = diagnosed({amps, run});
  for (const Diagnosis* found : {&both, &once})
    EXPECT_EQ(std::ranges::find(found->suspects, Cause::missing_insulation, &Suspect::cause)->place, "R3");
  EXPECT_NEAR(here_against_nothing(both, Cause::missing_insulation) /
                  here_against_nothing(once, Cause::missing_insulation),
              4, 0.4);
}

Fault wet(int run, double factor) {
  Fault fault;
  fault.cause = Cause::wet_insulation;
  fault.level = Fault::Level::run;
  fault.place = run;
  fault.value = factor;
  return fault;
}

/// By hand: away from the sensor a wet run gets what its cable gives at the group's duty, dry or wet: its
/// pipe goes cold and its jacket stays little warmer. At the sensor the controller makes up for the loss: its
/// pipe stays, and its jacket takes twice the heat or more.
TEST(Outcome, AWetRunShowsOnItsPipeAndAtTheSensorOnItsJacket) {
  const std::vector<Reading> readings{of_circuit(What::current, 1)};
  const Scope scope(small().job, small().plan, readings);
  const Forward forward(scope, {});
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

/// A cold pipe under a jacket that is no colder, at full voltage and current: the heat is there, and goes.
TEST(Diagnosis, AColdPipeWithAWarmJacketIsInsulation) {
  const std::vector<Reading> readings{of_circuit(What::current, 1)};
  const Scope scope(small().job, small().plan, readings);
  const Forward forward(scope, {});
  const int run = scope.run_of(2);
  const Fault soaked = wet(run, 5);
  const Now now = forward.now(soaked, {}, {}, {1});
  const auto value = [&](What what) { return outcome(forward, soaked, {}, now, {what, 0, 0, run}).mean.v; };
  const auto found = diagnosed({of_circuit(What::current, now.circuits[0].amps.v),
                                of_circuit(What::supply_voltage, small().circuit().feed_v),
                                of_run(What::air_temperature, "R3", scope.runs[at(run)].air_c),
                                of_run(What::pipe_temperature, "R3", value(What::pipe_temperature)),
                                of_run(What::surface_temperature, "R3", value(What::surface_temperature))});
  EXPECT_EQ(found.suspects.front().cause, Cause::wet_insulation);
  EXPECT_EQ(found.suspects.front().place, "R3");
  EXPECT_LT(found.suspects.front().value->low, 5);
  EXPECT_GT(found.suspects.front().value->high, 5);
}

/// By hand: of a cable whose both wires are parted at 0.4 of its length (22 m, well inside R2) capacitance is
/// left in that share, good to 5 % (farads per metre), 2 % (as laid) and 1.5 % (meter), together 5.6 %; the
/// current is good to some 10 %; both to 4.9 %. One wire parted would leave more than half. 90 % of a normal
/// distribution are 3.29 sigma wide: 0.16 of where it is.
TEST(Diagnosis, HowSurelyADeadEndIsPlacedFollowsFromItsTolerances) {
  const double cable_m = small().circuit().cable_length_m, dead_m = 0.4 * cable_m;
  const std::vector<Reading> readings{of_circuit(What::current, 0.4 * small().circuit().working_a),
                                      of_circuit(What::supply_voltage, small().circuit().feed_v),
                                      of_circuit(What::capacitance, 300e-12 * dead_m)};
  std::vector<double> widths;
  for (const int samples : {300, 3000}) {
    DiagnosisOptions options;
    options.samples = samples;
    options.proposals = 0;
    const auto found = diagnose(small().job, small().plan, readings, options);
    ASSERT_EQ(found.suspects.front().cause, Cause::dead_length);
    const Interval& value = *found.suspects.front().value;
    EXPECT_LT(value.low, dead_m);
    EXPECT_GT(value.high, dead_m);
    widths.push_back((value.high - value.low) / dead_m);
  }
  EXPECT_NEAR(widths[1], 0.16, 0.05);
  EXPECT_NEAR(widths[0] / widths[1], 1, 0.35);  // few samples make it no narrower
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
