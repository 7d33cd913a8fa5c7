// Voltage and current along the cable against closed forms and boundary value problems solved elsewhere.
// Sources: the tables ladder_*.csv, each row with its own (closed form of the two-wire line; scipy's
// solve_bvp and shooting); scripts/reference/ladder_by_bvp.py for trees of self-regulating cable.
#include "power/ladder.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "published.hpp"
#include "within.hpp"

namespace firstdraw::power {
namespace {

using reference::published;
using reference::within_frac;

LadderResult solve_one(double feed_v, double loop, double length_m, OutputLaw law,
                       const LadderOptions& options = {}) {
  const LadderStretch cable{piping::none, length_m, loop, std::move(law)};
  return solve_ladder(std::span(&cable, 1), feed_v, options);
}

// Printed to eight decimals; powers to six, so the small one of the bus wires agrees to half its last digit.
TEST(LadderExact, ConstantConductanceAgreesWithTheClosedForm) {
  for (const auto& row : published("ladder_closed_form").rows()) {
    const double v = row.number("V0_V");
    const auto result = solve_one(v, row.number("r_loop_ohm_per_m"), row.number("L_m"),
                                  power_law(row.number("p0_W_per_m_at_V0"), v, 2));
    EXPECT_TRUE(within_frac(result.total_a, row.number("I0_A"), 1e-9)) << row.text("case");
    EXPECT_TRUE(within_frac(result.lowest_v, row.number("Vend_V"), 1e-9)) << row.text("case");
    EXPECT_TRUE(within_frac(result.heater_w, row.number("P_heater_W"), 1e-9)) << row.text("case");
    EXPECT_NEAR(result.bus_w, row.number("P_bus_W"), 5.01e-7) << row.text("case");
  }
}

TEST(LadderExact, ExponentsAgreeWithSolveBvpAndShooting) {
  for (const auto& row : published("ladder_voltage_exponent").rows()) {
    const double v = row.number("V0_V"), n = row.number("n");
    const auto result = solve_one(v, row.number("r_loop_ohm_per_m"), row.number("L_m"),
                                  power_law(row.number("p0_W_per_m_at_V0"), v, n));
    EXPECT_TRUE(within_frac(result.total_a, row.number("I0_A"), 1e-9)) << n;
    EXPECT_TRUE(within_frac(result.lowest_v, row.number("Vend_V"), 1e-9)) << n;
    EXPECT_TRUE(within_frac(result.heater_w, row.number("P_heater_W"), 2e-9)) << n;
  }
}

// Stretches from one printed place to the next: voltage and current at every place, L1 and L3.
TEST(LadderExact, ProfilesAgreeWithTheClosedForm) {
  std::map<std::string, std::vector<tables::Row>> profiles;
  for (const auto& row : published("ladder_profiles").rows())
    profiles[std::string(row.text("case"))].push_back(row);
  for (const auto& [name, rows] : profiles) {
    std::vector<LadderStretch> chain;
    for (std::size_t i = 1; i < rows.size(); ++i)
      chain.push_back({static_cast<int>(i) - 2, rows[i].number("x_m") - rows[i - 1].number("x_m"), 0.027,
                       power_law(30, 240, 2)});
    const auto result = solve_ladder(chain, 240);
    for (std::size_t i = 1; i < rows.size(); ++i) {
      EXPECT_NEAR(result.stretches[i - 1].far_v, rows[i].number("V_V"), 1e-8) << name << i;
      EXPECT_NEAR(result.stretches[i - 1].entering_a, rows[i - 1].number("I_A"), 1e-8) << name << i;
    }
  }
}

TEST(LadderExact, FloatingPipeAgreesWithSolveBvpAndShooting) {
  for (const auto& row : published("ladder_coupled").rows()) {
    const FloatingPipe pipe{row.number("p_ref_W_per_m"), row.number("Vn_V"),   row.number("n"),
                            row.number("Tref_C"),        row.number("Tmax_C"), row.number("U_W_per_mK"),
                            row.number("Ta_C")};
    const double v = row.number("V0_V");
    const auto result = solve_one(v, row.number("r_loop_ohm_per_m"), row.number("L_m"), floating_law(pipe));
    EXPECT_TRUE(within_frac(result.total_a, row.number("I0_A"), 1e-9)) << row.text("case");
    EXPECT_TRUE(within_frac(result.lowest_v, row.number("Vend_V"), 1e-9)) << row.text("case");
    EXPECT_TRUE(within_frac(result.heater_w, row.number("P_heater_W"), 5e-8)) << row.text("case");
    EXPECT_NEAR(pipe.pipe_c(v), row.number("T_near_C"), 1e-6);
    EXPECT_NEAR(pipe.pipe_c(result.lowest_v), row.number("T_far_C"), 1e-6);
  }
}

// Three lines in closed form: each branch has the input conductance (k/r) tanh(kl), the stem ends in their
// sum. Textbook, computed here.
TEST(LadderExact, ATeeAgreesWithTheClosedFormOfThreeLines) {
  constexpr double v = 208, loop = 0.02, stem_m = 40, long_m = 60, short_m = 25;
  const double k = std::sqrt(loop * 20) / v, y = k / loop;
  const double end_s = y * (std::tanh(k * long_m) + std::tanh(k * short_m));
  const double tee_v = v / (std::cosh(k * stem_m) + end_s / y * std::sinh(k * stem_m));
  const auto law = power_law(20, v, 2);
  const std::vector<LadderStretch> tree{
      {piping::none, stem_m, loop, law}, {0, long_m, loop, law}, {0, short_m, loop, law}};
  const auto result = solve_ladder(tree, v);
  EXPECT_TRUE(within_frac(result.stretches[0].far_v, tee_v, 1e-10));
  EXPECT_TRUE(within_frac(result.stretches[1].far_v, tee_v / std::cosh(k * long_m), 1e-10));
  EXPECT_TRUE(within_frac(result.stretches[2].entering_a, y * tee_v * std::tanh(k * short_m), 1e-10));
}

// Constant power, V'' = r p/V: with V0/V_end = exp(T^2), L = V0 sqrt(2/(r p)) D(T), D Dawson's integral. Its
// largest value, 0.5410442246 (memory), gives the longest cable that has a steady state: 204.04 m here.
TEST(LadderExact, ConstantPowerHasALongestCable) {
  const double longest_m = 240 * std::sqrt(2 / (0.027 * 30)) * 0.5410442246;
  EXPECT_TRUE(solve_one(240, 0.027, 0.999 * longest_m, power_law(30, 240, 0)).converged);
  EXPECT_FALSE(solve_one(240, 0.027, 1.01 * longest_m, power_law(30, 240, 0)).converged);
}

// Order 8 at the ends of elements: half the length, 256 times less error. 1 500 m of L1's cable, far too
// long, so that the error is not rounding. Closed form V0/cosh(kL).
TEST(LadderExact, ConvergesWithTheEighthOrder) {
  const double exact = 240 / std::cosh(0.00375 * 1500);
  const auto error = [&](double element_kl) {
    const auto result = solve_one(240, 0.027, 1500, power_law(30, 240, 2), {.element_kl = element_kl});
    return std::abs(result.lowest_v - exact);
  };
  const double order = std::log2(error(5.625 / 6) / error(5.625 / 12));
  EXPECT_GT(order, 7.7);
  EXPECT_LT(order, 8.3);
}

// Trees of self-regulating cable on pipes of different temperatures, scipy's collocation.
TEST(LadderExact, TreesOfSelfRegulatingCableAgreeWithSolveBvp) {
  std::map<std::string, std::vector<tables::Row>> cases;
  for (const auto& row : published("ladder_scipy").rows())
    cases[std::string(row.text("case"))].push_back(row);
  for (const auto& [name, rows] : cases) {
    std::vector<LadderStretch> tree;
    for (const auto& row : rows) {
      const physics::CableModel model{10, row.number("core_ohm_m"), row.number("beta_per_k"),
                                      row.number("core_k_m_per_w")};
      tree.push_back({static_cast<int>(row.number("parent")), row.number("length_m"),
                      row.number("loop_ohm_per_m"), model_law(model, row.number("pipe_c"))});
    }
    const auto result = solve_ladder(tree, rows.front().number("feed_v"));
    for (std::size_t s = 0; s < rows.size(); ++s) {
      EXPECT_TRUE(within_frac(result.stretches[s].far_v, rows[s].number("far_v"), 1e-8)) << name << s;
      EXPECT_TRUE(within_frac(result.stretches[s].entering_a, rows[s].number("entering_a"), 1e-8)) << name;
      EXPECT_TRUE(within_frac(result.stretches[s].heater_w, rows[s].number("heater_w"), 1e-8)) << name << s;
    }
  }
}

// A lead that heats nothing before one line of constant conductance: it feeds (k/r) tanh(kl), so the voltage
// is divided between R and r/(k tanh(kl)). Textbook, computed here.
TEST(LadderExact, ALeadDividesTheVoltageWithTheInputOfTheLine) {
  constexpr double v = 240, loop = 0.027, lead_ohm = 0.6;
  for (const double length_m : {20.0, 90.0, 300.0}) {
    const double k = std::sqrt(loop * 30) / v, line_s = k / loop * std::tanh(k * length_m);
    const double feed_v = v / (1 + lead_ohm * line_s);
    const std::vector<LadderStretch> tree{{piping::none, 30, lead_ohm / 30, takes_nothing()},
                                          {0, length_m, loop, power_law(30, v, 2)}};
    const auto result = solve_ladder(tree, v);
    EXPECT_TRUE(within_frac(result.stretches[0].far_v, feed_v, 1e-10)) << length_m;
    EXPECT_TRUE(within_frac(result.total_a, feed_v * line_s, 1e-10)) << length_m;
    EXPECT_TRUE(within_frac(result.lowest_v, feed_v / std::cosh(k * length_m), 1e-10)) << length_m;
    EXPECT_TRUE(within_frac(result.stretches[0].bus_w, lead_ohm * std::pow(feed_v * line_s, 2), 1e-10));
  }
}

/// The curve of ladder_by_bvp.py.
physics::HeatingCable sheet_cable() {
  physics::CableSheet sheet;
  sheet.rated_voltage_v = 240;
  sheet.output = {{10, 32}, {40, 22}, {60, 13}};
  sheet.voltage = {{190, 0.66}, {208, 0.77}, {218, 0.85}, {230, 0.93}, {240, 1}, {264, 1.16}};
  return physics::HeatingCable(sheet);
}

LadderStretch behind_lead(const tables::Row& row, const physics::HeatingCable& cable) {
  LadderStretch stretch{
      static_cast<int>(row.number("parent")) + 1, row.number("length_m"), row.number("loop_ohm_per_m"), {}};
  if (!row.text("core_ohm_m").empty()) {
    const physics::CableModel model{10, row.number("core_ohm_m"), row.number("beta_per_k"),
                                    row.number("core_k_m_per_w")};
    stretch.law = model_law(model, row.number("pipe_c"));
  } else {
    stretch.law = sheet_law(cable, row.number("pipe_c"));
    stretch.bends_v = sheet_bends_v(cable);
  }
  return stretch;
}

// Wiring and cable of one circuit, alone, at a tee, fed inside. Smooth cores by collocation (its tolerance
// 1e-9), the data sheet's curve over its bends and below its lowest voltage by integration from bend to bend.
TEST(LadderExact, CableBehindALeadAgreesWithScipyAlsoWhereTheSheetBends) {
  const physics::HeatingCable cable = sheet_cable();
  std::map<std::string, std::vector<tables::Row>> cases;
  for (const auto& row : published("ladder_lead_scipy").rows())
    cases[std::string(row.text("case"))].push_back(row);
  ASSERT_EQ(cases.size(), 7U);
  for (const auto& [name, rows] : cases) {
    const double frac = name.starts_with("sheet") ? 1e-9 : 1e-8;
    std::vector<LadderStretch> tree{
        {piping::none, rows[0].number("lead_m"), rows[0].number("lead_ohm_per_m"), takes_nothing()}};
    for (const auto& row : rows) tree.push_back(behind_lead(row, cable));
    const auto result = solve_ladder(tree, rows[0].number("feed_v"));
    EXPECT_LT(result.balance_frac, 1e-12) << name;
    for (std::size_t s = 0; s < rows.size(); ++s) {
      const LadderFlow& flow = result.stretches[s + 1];
      EXPECT_TRUE(within_frac(flow.far_v, rows[s].number("far_v"), frac)) << name << s;
      EXPECT_TRUE(within_frac(flow.entering_a, rows[s].number("entering_a"), frac)) << name << s;
      EXPECT_TRUE(within_frac(flow.heater_w, rows[s].number("heater_w"), frac)) << name << s;
    }
  }
}

}  // namespace
}  // namespace firstdraw::power
