// What electrical readings mean, against published tables and closed forms; each row of the data files names
// source and basis.
//   IEC 60751 platinum table: read at sensorsci.com/reference.htm, class limits at
//   scribd.com/document/602071032. Steinhart-Hart: coefficients read at studylibfr.com/doc/3640921, table
//   computed from them. Length from loop resistance: computed from the uniform line, outside the program.
//   Insulation and temperature: IEEE 43 rule (read, secondary), FED-STD-228A and an oil table (read).
#include "prove/instruments.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "power/ladder.hpp"
#include "prove/cable_line.hpp"
#include "published.hpp"

namespace firstdraw::prove {
namespace {

using reference::published;

// The printed digit: half of 0.01 Ω.
TEST(PlatinumReference, TwentyOnePublishedValuesToThePrintedDigit) {
  int values = 0;
  for (const tables::Row& row : published("pt100_pt1000").rows()) {
    if (row.text("published_pt100_ohm").empty()) continue;
    ++values;
    EXPECT_NEAR(*sensor_ohm("pt100", row.number("t_C")), row.number("published_pt100_ohm"), 0.005 + 1e-9)
        << row.text("t_C");
  }
  EXPECT_EQ(values, 21);
}

TEST(PlatinumReference, BackToTheTemperature) {
  for (const tables::Row& row : published("pt100_pt1000").rows()) {
    const double temp_c = row.number("t_C");
    // The columns have five decimals of an ohm: 1e-5 Ω / 0.39 Ω/K.
    EXPECT_NEAR(*sensor_c("pt100", row.number("R_pt100_ohm")), temp_c, 3e-5);
    EXPECT_NEAR(*sensor_c("pt1000", row.number("R_pt1000_ohm")), temp_c, 3e-5);
    EXPECT_NEAR(*sensor_c("pt100", *sensor_ohm("pt100", temp_c)), temp_c, 1e-6);
    EXPECT_NEAR(sensor_error_k("pt100", temp_c), row.number("class_B_tol_K"), 5e-4);
  }
}

TEST(ThermistorReference, TableAndBack) {
  for (const tables::Row& row : published("ntc10k_steinhart").rows()) {
    const double temp_c = row.number("t_C"), ohm = row.number("R_ohm_steinhart_hart");
    EXPECT_NEAR(*sensor_ohm("ntc10k", temp_c) / ohm, 1, 1e-6) << temp_c;
    EXPECT_NEAR(*sensor_c("ntc10k", ohm), temp_c, 1e-4);
  }
  EXPECT_NEAR(*sensor_c("ntc10k", 10000), 24.9997, 1e-3);
  EXPECT_NEAR(*sensor_c("ntc10k", 32650), 0.0002, 1e-3);
  EXPECT_NEAR(*sensor_c("ntc10k", 3601), 50.0003, 1e-3);
}

TEST(SensorRange, WhatNoSensorCanHaveHasNoTemperature) {
  EXPECT_FALSE(sensor_c("pt100", 0));
  EXPECT_FALSE(sensor_c("pt100", 20));
  EXPECT_FALSE(sensor_c("pt100", 1e6));
  EXPECT_FALSE(sensor_c("pt100", 1097));  // a Pt1000
  EXPECT_FALSE(sensor_c("ntc10k", 1));
  EXPECT_FALSE(sensor_c("pt500", 500));
  EXPECT_FALSE(sensor_c("pt100", std::nan("")));
}

// Computed: 20 m of 0.5 mm2, 36.0 Ω/km (IEC 60228, read): 1.44 Ω of both leads at 55 °C.
TEST(LeadReference, TwoWiresShowTooWarm) {
  for (const tables::Row& row : published("sensor_lead_error").rows()) {
    const auto* kind = row.number("R0_ohm") == 100 ? "pt100" : "pt1000";
    EXPECT_NEAR(*lead_error_k(kind, 55, row.number("loop_ohm")), row.number("error_K_at_55C"), 1e-5);
  }
  EXPECT_LT(*lead_error_k("ntc10k", 55, 1.44), 0);
}

TEST(LengthReference, FromLoopResistance) {
  for (const tables::Row& row : published("length_from_loop_resistance").rows()) {
    const double r = row.number("r_loop_ohm_per_m"), length_m = row.number("L_true_m");
    const double open = row.number("R_open_ohm"), joined = row.number("R_short_ohm");
    EXPECT_NEAR(*length_from_loop_m(joined, open, r), length_m, 1e-5);
    EXPECT_NEAR(joined / r, row.number("L_naive_Rs_over_r_m"), 1e-5);
    const LineStretch line[] = {{piping::none, length_m}};
    EXPECT_NEAR(line_ohm(line, {r, row.number("g_S_per_m")}, Ends::open), open, 1e-7);
    EXPECT_NEAR(line_ohm(line, {r, row.number("g_S_per_m")}, Ends::joined), joined, 1e-7);
    EXPECT_NEAR(*scale_from_both(line, r, joined, open), 1, 1e-7);
  }
  EXPECT_FALSE(length_from_loop_m(3, 3, 0.027));
  EXPECT_FALSE(length_from_loop_m(0, 3, 0.027));
}

/// The same tree through the program's ladder (finite elements on voltage, another method): volts over
/// amperes at the feed. A joined end is a millimetre that takes very much.
double ladder_ohm(std::span<const LineStretch> tree, const LineMetre& metre, Ends ends) {
  constexpr double volts = 10, joint_m = 0.001, joint_s_per_m = 1e10;
  std::vector<power::LadderStretch> ladder;
  std::vector<bool> is_end(tree.size(), true);
  for (const LineStretch& stretch : tree)
    if (stretch.parent >= 0) is_end[piping::at(stretch.parent)] = false;
  for (const LineStretch& stretch : tree)
    ladder.push_back({stretch.parent,
                      stretch.length_m,
                      metre.loop_ohm_per_m,
                      power::power_law(metre.core_s_per_m * volts * volts, volts, 2),
                      {}});
  for (std::size_t s = 0; s < tree.size(); ++s) {
    if (!is_end[s] || ends == Ends::open) continue;
    ladder.push_back(
        {static_cast<int>(s), joint_m, 1e-9, power::power_law(joint_s_per_m * volts * volts, volts, 2), {}});
  }
  power::LadderOptions fine;
  fine.element_kl = 0.02;
  return volts / power::solve_ladder(ladder, volts, fine).total_a;
}

TEST(LengthReference, WithTeesAgainstTheLadder) {
  const LineStretch tree[] = {{piping::none, 30}, {0, 25}, {0, 12}, {1, 40}, {1, 8}};
  const LineMetre metre{0.027, 0.0005};
  for (const Ends ends : {Ends::open, Ends::joined})
    EXPECT_NEAR(line_ohm(tree, metre, ends) / ladder_ohm(tree, metre, ends), 1, 1e-5);
  const double joined = ladder_ohm(tree, metre, Ends::joined), open = ladder_ohm(tree, metre, Ends::open);
  EXPECT_NEAR(*scale_from_both(tree, 0.027, joined, open), 1, 1e-4);
  EXPECT_NEAR(*scale_from_short(tree, metre, joined), 1, 1e-4);
}

TEST(LengthReference, WithoutCoreALoopIsItsCopper) {
  const LineStretch tree[] = {{piping::none, 50}, {0, 20}, {0, 20}};
  EXPECT_NEAR(line_ohm(tree, {0.02, 0}, Ends::joined), 1 + 0.2, 1e-12);
}

// Textbook: C = c' L; 45 nF at 0.45 nF/m are 100 m.
TEST(LengthReference, FromCapacitance) { EXPECT_NEAR(length_from_capacitance_m(45e-9, 0.45e-9), 100, 1e-9); }

// IEC 60228 form, same as (234.5 + T)/254.5 to 2e-4 (textbook).
TEST(CopperReference, AtAnotherTemperature) {
  for (const double temp_c : {0.0, 20.0, 50.0, 75.0})
    EXPECT_NEAR(copper_ohm_at(1, temp_c), (234.5 + temp_c) / 254.5, 2e-4);
}

// IEEE 43 form 0.5^((40 - T)/10), as a ratio between two temperatures; rows of the table under that name.
TEST(InsulationReference, TenKelvinRuleAndHowGoodItIs) {
  EXPECT_DOUBLE_EQ(insulation_ohm_at_20(100e6, 40), 400e6);
  EXPECT_DOUBLE_EQ(insulation_ohm_at_20(100e6, 10), 50e6);
  EXPECT_NEAR(insulation_ohm_at_20(1, 53) / insulation_ohm_at_20(1, 40), std::pow(0.5, (40.0 - 53) / 10),
              1e-12);
}

// How far the truth may lie from the rule, brought to 20 K: the factor of a table over its widest span from
// 10 °C to 40 °C against the rule's.
double truth_over_rule(std::string_view rule) {
  double low_c = 100, high_c = 0, low = 1, high = 1;
  for (const tables::Row& row : published("insulation_resistance_temperature").rows()) {
    const double temp_c = row.number("T_C"), factor = row.number("factor_multiply_reading");
    if (row.text("rule") != rule || temp_c < 10 || temp_c > 40) continue;
    if (temp_c < low_c) low_c = temp_c, low = factor;
    if (temp_c > high_c) high_c = temp_c, high = factor;
  }
  return std::pow(high / low / std::exp2((high_c - low_c) / 10), 20 / (high_c - low_c));
}

TEST(InsulationReference, TheRuleIsOffByAQuarterToAHalfOver20K) {
  for (const tables::Row& row : published("insulation_resistance_temperature").rows()) {
    if (row.text("rule") != "halving per 10 K") continue;
    EXPECT_NEAR(insulation_ohm_at_20(1, row.number("T_C")), row.number("factor_multiply_reading"), 1e-6);
  }
  EXPECT_NEAR(truth_over_rule("FED-STD-228A column 1"), 1.5, 0.03);
  EXPECT_NEAR(truth_over_rule("FED-STD-228A column 3"), 0.75, 0.03);
  for (const auto* rule : {"FED-STD-228A column 2", "oil-filled equipment table"}) {
    EXPECT_GT(truth_over_rule(rule), 0.75);
    EXPECT_LT(truth_over_rule(rule), 1.5);
  }
}

}  // namespace
}  // namespace firstdraw::prove
