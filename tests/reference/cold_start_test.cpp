// The start of a self-regulating cable against exact relations, and against other integrators.
#include "power/cold_start.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "published.hpp"
#include "within.hpp"

namespace firstdraw::power {
namespace {

using reference::published;
using reference::within_frac;

constexpr double kept = std::numeric_limits<double>::infinity();

ColdStartModel model(double r10_ohm_m, double beta_per_k, double rc_m_k_per_w, double core_j_per_m_k) {
  return {{10, r10_ohm_m, beta_per_k, rc_m_k_per_w}, core_j_per_m_k};
}

// selfreg_inrush_transient.csv: core on a pipe kept at 10 degC (computed elsewhere; temperatures printed to
// 1e-5 K, currents to 1e-6 mA/m, shares to 1e-6).
TEST(ColdStartReference, TransientOnAKeptPipe) {
  int checked = 0;
  for (const tables::Row& row : published("selfreg_inrush_transient").rows()) {
    const ColdStart start(model(row.number("R10_ohm_m"), row.number("beta_per_K"), row.number("Rc_Km_per_W"),
                                row.number("C_J_per_mK")),
                          {kept, 0, 10, 1}, {row.number("V_V"), 10}, 300);
    const double time_s = row.number("t_s");
    EXPECT_NEAR(start.core_c(time_s), row.number("T_core_C"), 1e-5) << time_s;
    EXPECT_NEAR(1000 * start.current_a_per_m(time_s), row.number("i_mA_per_m"), 2e-6) << time_s;
    EXPECT_NEAR(start.current_a_per_m(time_s) / start.final_a_per_m(), row.number("i_over_steady"), 1e-6)
        << time_s;
    ++checked;
  }
  EXPECT_EQ(checked, 9);
}

// selfreg_lambertw.csv: where the current ends, p = W(beta Rc V^2/R)/(beta Rc), and peak over end, e^(beta Rc
// p) (scipy; printed to 8 decimals). After 50 time constants.
TEST(ColdStartReference, EndsAtLambertsOutputFromTheExactInrush) {
  for (const tables::Row& row : published("selfreg_lambertw").rows()) {
    const double pipe_c = row.number("T_pipe_C"), voltage_v = row.number("V_V");
    const ColdStart start(
        model(row.number("R10_ohm_m"), row.number("beta_per_K"), row.number("Rc_Km_per_W"), 60),
        {kept, 0, pipe_c, 1}, {voltage_v, pipe_c}, 1500);
    EXPECT_TRUE(within_frac(voltage_v * start.current_a_per_m(1500), row.number("p_steady_W_per_m"), 1e-8));
    EXPECT_TRUE(
        within_frac(start.peak_a_per_m() / start.current_a_per_m(1500), row.number("inrush_ratio"), 1e-8));
    EXPECT_NEAR(start.core_c(1500), row.number("T_core_C"), 1e-6);
  }
}

// Textbook: a core of constant resistance on a kept pipe follows T = T_pipe + p Rc (1 - e^(-t/(C Rc))).
TEST(ColdStartReference, ConstantResistanceFollowsTheExponential) {
  const ColdStart start(model(2000, 0, 0.8, 90), {kept, 0, 5, 1}, {200, 5}, 600);
  for (const double time_s : {0.0, 3.7, 20.0, 72.0, 144.0, 400.0, 600.0})
    EXPECT_NEAR(start.core_c(time_s), 5 + 20 * 0.8 * -std::expm1(-time_s / (90 * 0.8)), 1e-6);
}

// Textbook: near rest the departure dies away with tau = C Rc/(1 + beta Rc p).
TEST(ColdStartReference, SmallDeparturesDieWithTheSmallSignalTime) {
  const ColdStart start(model(1440, 0.02, 0.5, 60), {kept, 0, 10, 1}, {240, 10}, 300);
  const double rest_c = 10 + 0.5 * 29.71677507;  // selfreg_lambertw.csv
  const double early_k = rest_c - start.core_c(110), late_k = rest_c - start.core_c(133.1273);
  EXPECT_NEAR(early_k / late_k, std::exp(1.0), 0.01);  // 0.13 K off rest: second order is 0.3 % of it
}

// cold_start_scipy.csv: core and pipe by LSODA (computed, printed to 1e-6 K and 1e-9 A/m).
TEST(ColdStartReference, CoreAndPipeAgreeWithAnImplicitIntegrator) {
  int checked = 0;
  for (const tables::Row& row : published("cold_start_scipy").rows()) {
    const ColdStart start(model(row.number("r10_ohm_m"), row.number("beta_per_k"), row.number("rc_m_k_per_w"),
                                row.number("core_j_per_m_k")),
                          {row.number("pipe_j_per_m_k"), row.number("loss_w_per_m_k"), row.number("air_c"),
                           static_cast<int>(row.number("passes"))},
                          {row.number("voltage_v"), row.number("start_c")}, 40000);
    const double time_s = row.number("time_s");
    EXPECT_NEAR(start.core_c(time_s), row.number("core_c"), 2e-6) << row.text("case") << " " << time_s;
    EXPECT_NEAR(start.pipe_c(time_s), row.number("pipe_c"), 2e-6) << row.text("case") << " " << time_s;
    EXPECT_NEAR(start.current_a_per_m(time_s), row.number("current_a_per_m"), 1e-8);
    ++checked;
  }
  EXPECT_EQ(checked, 28);
}

// Exact: at rest core, pipe and air are resistances in series, Rc + passes/U, so the end is Lambert's again.
TEST(ColdStartReference, CoreAndPipeEndAtLambertsOutputThroughBothResistances) {
  const ColdStartModel cable = model(840, 0.02, 1.5, 75);
  const ColdStart start(cable, {900, 0.2, 10, 2}, {208, 4}, 400000);
  EXPECT_TRUE(within_frac(start.current_a_per_m(400000), start.final_a_per_m(), 1e-9));
  const double p = 208 * start.final_a_per_m();
  const double x = 0.02 * (1.5 + 2 / 0.2) * p;  // W e^W = beta R V^2/R(T_air), written out
  EXPECT_TRUE(within_frac(x * std::exp(x), 0.02 * (1.5 + 2 / 0.2) * 208 * 208 / 840, 1e-12));
}

// A sheet written from known cores must give them back, the transient included.
TEST(ColdStartReference, FitFindsTheCoreASheetWasWrittenFrom) {
  for (const auto& [r10, beta, rc, core] :
       {std::array{1440., 0.02, 0.5, 700.}, std::array{840., 0.02, 1.5, 300.},
        std::array{500., 0.045, 0.9, 500.}}) {
    const ColdStartModel made = model(r10, beta, rc, core);
    physics::CableSheet sheet;
    sheet.rated_voltage_v = 230;
    for (const double pipe_c : {0., 10., 25., 40., 55., 70.})
      sheet.output.push_back({pipe_c, made.cable.power_w_per_m(pipe_c, 230)});
    for (const double start_c : {-10., 0., 10., 20.}) {
      const ColdStart start(made, {kept, 0, start_c, 1}, {230, start_c}, 300);
      sheet.cold_start.push_back({start_c, start.peak_a_per_m(), start.current_a_per_m(300)});
    }
    const auto fit = fit_cold_start(sheet);
    ASSERT_TRUE(fit);
    EXPECT_TRUE(fit->capacity_determined);
    EXPECT_TRUE(within_frac(fit->model.cable.core_ohm_m, r10, 1e-5));
    EXPECT_TRUE(within_frac(fit->model.cable.beta_per_k, beta, 1e-5));
    EXPECT_TRUE(within_frac(fit->model.cable.core_to_pipe_m_k_per_w, rc, 1e-5));
    EXPECT_TRUE(within_frac(fit->model.core_j_per_m_k, core, 1e-4));
    EXPECT_LT(fit->worst_frac(), 1e-6);
  }
}

}  // namespace
}  // namespace firstdraw::power
