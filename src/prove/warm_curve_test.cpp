// Against the closed form of a constant output.
#include "prove/warm_curve.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "plan/small_job.hpp"

namespace firstdraw::prove {
namespace {

/// 2.5 kJ/(m K) that lose 0.25 W/(m K) to air of 20 degC.
WarmCase pipe_from(double start_c) {
  WarmCase from;
  from.pipe.heat_j_per_m_k = 2500;
  from.pipe.loss_w_per_m_k = 0.25;
  from.pipe.air_c = 20;
  from.volts = 208;
  from.start_c = start_c;
  return from;
}

// C dT/dt = p - U (T - Ta): T = Ta + p/U + (T0 - Ta - p/U) e^(-t U/C), textbook.
TEST(WarmCurve, ConstantOutputIsAnExponential) {
  physics::CableSheet sheet = plan::invented_sheet("flat", 1, 0);
  sheet.output = {{0, 10}, {100, 10}};
  const physics::HeatingCable cable(sheet);
  const WarmCase from = pipe_from(15);
  for (const double time_s : {0.0, 30.0, 600.0, 3600.0, 36000.0}) {
    const double settled_c = 20 + 10 / 0.25;
    const double exact_c = settled_c + (15 - settled_c) * std::exp(-time_s * 0.25 / 2500);
    EXPECT_NEAR(warm_pipe_c(cable, from, time_s), exact_c, 1e-4) << time_s;
  }
}

/// A day later it has settled where output and loss balance, whatever the steps.
TEST(WarmCurve, EndsWhereOutputAndLossBalance) {
  const physics::HeatingCable cable(plan::invented_sheet("mild", 1, 0));
  const WarmCase from = pipe_from(20);
  const double settled_c = warm_pipe_c(cable, from, 5 * 86400);
  EXPECT_NEAR(cable.power_w_per_m(settled_c, 208), 0.25 * (settled_c - 20), 1e-6);
}

}  // namespace
}  // namespace firstdraw::prove
