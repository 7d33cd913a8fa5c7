// The diagnosis on a small invented building: faults that readings leave no doubt of, and doubt where physics
// leaves it.
#include "prove/diagnosis.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numeric>

#include "prove/observe.hpp"
#include "prove/small_diagnosed.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

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

/// A cold pipe under a jacket that is no colder, at full voltage and current: the heat is there, and goes.
TEST(Diagnosis, AColdPipeWithAWarmJacketIsInsulation) {
  const SmallModel model;
  const auto& [scope, forward] = model;
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

}  // namespace
}  // namespace firstdraw::prove
