// Circuits of heating cable against closed forms and worked examples.
// Sources: NFPA 70 (NEC) 2017/2023 rules and tables as read in transcriptions, with branch circuits computed
// from them by hand; IEC 60228 resistances. Each case names its own.
#include "power/circuits.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "power/electrical.hpp"
#include "rules/conductor_tables.hpp"

namespace firstdraw::power {
namespace {

// leakage_capacitance (computed from 2 pi f C L V, half of it line to neutral of a symmetric cable;
// textbook).
TEST(LeakageReference, LineToNeutralOfASymmetricCable) {
  EXPECT_NEAR(1000 * standing_leakage_a(0.45e-9, 100, 120, 60), 1.017876, 5e-7);
  EXPECT_NEAR(1000 * standing_leakage_a(0.45e-9, 100, 208, 60), 1.764318, 5e-7);
  EXPECT_NEAR(1000 * standing_leakage_a(0.45e-9, 150, 277, 60), 3.524396, 5e-7);
  EXPECT_NEAR(1000 * standing_leakage_a(0.45e-9, 100, 230, 50), 1.625774, 5e-7);
  EXPECT_NEAR(1000 * standing_leakage_a(1.0e-9, 100, 230, 50), 3.612832, 5e-7);
}

// Lengths for 9 mA standing, the 30 % of BS 7671:2018 531.3.2 (read in a quotation): 553.6 m at 230 V 50 Hz,
// 884.2 m at 120 V 60 Hz, 383.0 m at 277 V 60 Hz (computed, one decimal printed).
TEST(LeakageReference, LengthsForThirtyPercentOfThirtyMilliamperes) {
  EXPECT_NEAR(0.009 / standing_leakage_a(0.45e-9, 1, 230, 50), 553.6, 0.05);
  EXPECT_NEAR(0.009 / standing_leakage_a(0.45e-9, 1, 120, 60), 884.2, 0.05);
  EXPECT_NEAR(0.009 / standing_leakage_a(0.45e-9, 1, 277, 60), 383.0, 0.05);
}

// Two phases of a wye, one bus wire on each: |V1 + V2| = V/sqrt(3), a phasor sum done here independently of
// the code; the formula in use is above it.
TEST(LeakageReference, TwoPhasesOfAWyeLeakLessThanTaken) {
  constexpr double f = 60, c = 0.45e-9, length_m = 100, line_v = 208;
  const double phase_v = line_v / std::sqrt(3.0), third = 2 * std::numbers::pi / 3;
  const double re = phase_v * (1 + std::cos(third)), im = phase_v * std::sin(third);
  const double residual_a = 2 * std::numbers::pi * f * c / 2 * length_m * std::hypot(re, im);
  EXPECT_NEAR(residual_a / standing_leakage_a(c, length_m, line_v, f), 1 / std::sqrt(3.0), 1e-12);
}

// IEC 60228: R20 = R_T/(1 + 0.00393 (T - 20)), same as 254.5/(234.5 + T) (textbook).
TEST(CopperReference, ResistanceAgainstTemperature) {
  for (const double temp_c : {0.0, 50.0, 65.0, 75.0})
    EXPECT_NEAR(copper_resistance_at(1, temp_c), (234.5 + temp_c) / 254.5, 2e-4);
}

/// One run of 1 m whose data sheet gives the wanted currents.
Circuit circuit_with(rules::RuleSet rules, double volts, double settled_a, double working_a,
                     double feeder_m) {
  job::Job job;
  job.requirements.rules = rules;
  job.requirements.start_c = 10;
  job.supply.node = "heater";
  job.wiring.max_drop_frac = 0.2;  // the examples do not enlarge for the fall of voltage
  if (rules == rules::RuleSet::intl) {
    job.wiring.insulation = "PVC";
    job.wiring.method = "B2";
    job.wiring.make = "class 2";
  }
  job::Panel panel;
  panel.id = "P";
  panel.voltage_v = volts;
  panel.feeder_length_m = feeder_m;
  job.panels.push_back(panel);
  job::ControlGroup group;
  group.id = "G";
  group.panel = "P";
  job.groups.push_back(group);
  job::Run run;
  run.id = "R";
  run.from = "heater";
  run.to = "end";
  run.group = "G";
  run.length_m = 1;
  job.runs.push_back(run);
  physics::CableSheet sheet;
  sheet.id = "invented";
  sheet.rated_voltage_v = volts;
  sheet.output = {{10, 20}, {60, 10}};
  sheet.cold_start = {{10, settled_a, settled_a}};
  for (const double breaker_a : rules::standard_ratings_a(rules, true))
    sheet.max_length.push_back({breaker_a, volts, 10, 2});
  const auto layout = lay_out(job, piping::build_network(job), {physics::HeatingCable(sheet)},
                              {{0, 1, 1.0, working_a * volts}});
  return layout.circuits.at(0);
}

struct Branch {
  const char* name;
  double load_a, breaker_a;
  const char *conductor, *earth;
};

// branch_circuit_examples: load times 1.25 (427.4, 210.20(A)), 60 degC column and 240.4(D), EGC of Table
// 250.122 (computed from rules read in NEC 2023 and 2017). 25 and 35 A devices of the examples are left out
// of the list offered, because 210.18 does not have them for circuits of several heaters; there the next
// rating is expected.
TEST(BranchCircuitReference, BreakerConductorAndEarth) {
  const Branch branches[] = {
      {"B1", 11.945, 15, "14 AWG", "14 AWG"},
      {"B2", 16.0, 20, "12 AWG", "12 AWG"},
      {"B3, 25 A in the example", 16.2, 30, "10 AWG", "10 AWG"},
      {"B5", 24.0, 30, "10 AWG", "10 AWG"},
      {"B7, 35 A in the example", 24.5, 40, "8 AWG", "10 AWG"},
  };
  for (const Branch& branch : branches) {
    const Circuit circuit = circuit_with(rules::RuleSet::us, 240, branch.load_a, branch.load_a, 0);
    EXPECT_EQ(circuit.breaker_a, branch.breaker_a) << branch.name;
    EXPECT_EQ(circuit.wiring.conductor, branch.conductor) << branch.name;
    EXPECT_EQ(circuit.wiring.earth, branch.earth) << branch.name;
  }
}

/// Fall of voltage in the branch circuit's wiring while `load_a` flows, share of the panel's voltage.
double wiring_drop_frac(const Circuit& circuit, double load_a, double volts) {
  return circuit.wiring.loop_ohm_per_m * circuit.wiring.one_way_m * load_a / volts;
}

// voltage_drop_examples VD5: 240 V, 24 A, 60 m of 10 AWG stranded, NEC chapter 9 Table 8 (read): 4.884 %.
TEST(FeederReference, TenGaugeByTableEight) {
  const Circuit circuit = circuit_with(rules::RuleSet::us, 240, 24, 24, 60);
  EXPECT_EQ(circuit.wiring.conductor, "10 AWG");
  EXPECT_NEAR(wiring_drop_frac(circuit, 24, 240), 0.04884, 5e-6);
}

// VD4: 120 V, 20 A, 100 ft of 12 AWG stranded, Table 8 (read): 6.6 %. The circuit's own load is 16 A, for
// which the rules give the example's 12 AWG.
TEST(FeederReference, TwelveGaugeByTableEight) {
  const Circuit circuit = circuit_with(rules::RuleSet::us, 120, 16, 16, 30.48);
  EXPECT_EQ(circuit.wiring.conductor, "12 AWG");
  EXPECT_NEAR(wiring_drop_frac(circuit, 20, 120), 0.066, 5e-5);
}

// VD6: 230 V, 16 A, 30 m of 2.5 mm2 at 70 degC, IEC 60228 7.41 ohm/km at 20 degC (read), alpha
// 0.00393: 3.70062 %.
TEST(FeederReference, TwoAndAHalfSquareByIec60228) {
  const Circuit circuit = circuit_with(rules::RuleSet::intl, 230, 16.5, 16, 30);
  EXPECT_EQ(circuit.wiring.conductor, "2.5 mm2");
  EXPECT_NEAR(wiring_drop_frac(circuit, 16, 230), 0.0370062, 5e-7);
}

}  // namespace
}  // namespace firstdraw::power
