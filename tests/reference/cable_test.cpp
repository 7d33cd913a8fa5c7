// The self-regulating cable against exact relations evaluated elsewhere.
#include <gtest/gtest.h>

#include <cmath>

#include "physics/heating_cable.hpp"
#include "published.hpp"
#include "within.hpp"

namespace firstdraw::physics {
namespace {

using reference::published;
using reference::within_frac;

// p = W(beta Rc V^2/R0)/(beta Rc) with Lambert's W, by scipy (computed; printed to 8 decimals of a value near
// 30: 1e-8, the ratios to 8 digits).
TEST(HeatingCable, LambertCases) {
  int checked = 0;
  for (const auto& row : published("selfreg_lambertw").rows()) {
    const double pipe_c = row.number("T_pipe_C"), voltage_v = row.number("V_V");
    const CableModel model{.reference_c = 10,
                           .core_ohm_m = row.number("R10_ohm_m"),
                           .beta_per_k = row.number("beta_per_K"),
                           .core_to_pipe_m_k_per_w = row.number("Rc_Km_per_W")};
    EXPECT_TRUE(within_frac(model.power_w_per_m(pipe_c, voltage_v), row.number("p_steady_W_per_m"), 1e-8));
    EXPECT_NEAR(model.core_c(pipe_c, voltage_v), row.number("T_core_C"), 1e-6);
    EXPECT_TRUE(within_frac(model.inrush_ratio(pipe_c, voltage_v), row.number("inrush_ratio"), 1e-8));
    EXPECT_TRUE(within_frac(model.voltage_exponent(pipe_c, voltage_v), row.number("voltage_exponent"), 1e-8));
    ++checked;
  }
  EXPECT_EQ(checked, 8);
}

// The defining equations, without Lambert's function: what the core gives at its own temperature is what
// flows to the pipe. 1e-12 is rounding.
TEST(HeatingCable, ModelClosesItsOwnBalance) {
  const CableModel model{
      .reference_c = 10, .core_ohm_m = 900, .beta_per_k = 0.035, .core_to_pipe_m_k_per_w = 1.3};
  for (const double pipe_c : {-30.0, 10.0, 55.0, 90.0}) {
    for (const double voltage_v : {110.0, 208.0, 277.0}) {
      const double core_ohm_m = 900 * std::exp(0.035 * (model.core_c(pipe_c, voltage_v) - 10));
      EXPECT_TRUE(
          within_frac(model.power_w_per_m(pipe_c, voltage_v), voltage_v * voltage_v / core_ohm_m, 1e-12));
      const double h = 1e-4 * voltage_v;  // central difference of second order: 1e-7
      const double exponent =
          std::log(model.power_w_per_m(pipe_c, voltage_v + h) / model.power_w_per_m(pipe_c, voltage_v - h)) /
          std::log((voltage_v + h) / (voltage_v - h));
      EXPECT_NEAR(model.voltage_exponent(pipe_c, voltage_v), exponent, 1e-7);
    }
  }
}

// A sheet made from the published Lambert case must give its parameters back: the fit is exact when the sheet
// is.
TEST(HeatingCable, FitFindsThePublishedCase) {
  const CableModel made{
      .reference_c = 10, .core_ohm_m = 1440, .beta_per_k = 0.02, .core_to_pipe_m_k_per_w = 0.5};
  CableSheet sheet;
  sheet.rated_voltage_v = 240;
  for (const double pipe_c : {-20.0, 0.0, 10.0, 30.0, 50.0, 65.0})
    sheet.output.push_back({pipe_c, made.power_w_per_m(pipe_c, 240)});
  const CableFit fit = fit_cable(sheet);
  EXPECT_TRUE(within_frac(fit.model.core_ohm_m, 1440, 1e-6));
  EXPECT_TRUE(within_frac(fit.model.beta_per_k, 0.02, 1e-6));
  EXPECT_TRUE(within_frac(fit.model.core_to_pipe_m_k_per_w, 0.5, 1e-5));
  EXPECT_LT(fit.worst_output_error_frac, 1e-9);
}

}  // namespace
}  // namespace firstdraw::physics
