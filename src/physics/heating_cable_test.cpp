#include "physics/heating_cable.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "physics/interpolate.hpp"
#include "physics/lambert_w.hpp"

namespace firstdraw::physics {
namespace {

CableSheet sheet() {
  CableSheet out;
  out.id = "test-15";
  out.rated_voltage_v = 240;
  out.output = {{-20, 33}, {10, 26}, {30, 20}, {50, 12}, {65, 5}};
  out.voltage = {{208, 0.82}, {240, 1}, {277, 1.18}};
  out.cold_start = {{-20, 0.30, 0.20}, {10, 0.24, 0.16}};
  out.max_length = {{20, 240, -20, 60}, {20, 240, 10, 80}, {20, 208, 10, 75}, {30, 240, 10, 120}};
  return out;
}

TEST(HeatingCable, MeetsItsSheet) {
  const HeatingCable cable(sheet());
  for (const OutputPoint& point : sheet().output)
    EXPECT_EQ(cable.power_w_per_m(point.pipe_c, 240), point.power_w_per_m);
  for (const VoltagePoint& point : sheet().voltage)
    EXPECT_EQ(cable.voltage_factor(point.voltage_v), point.output_factor);
  EXPECT_DOUBLE_EQ(cable.power_w_per_m(30, 208), 20 * 0.82);
}

TEST(HeatingCable, HoldsEndsAndSaysSo) {
  const HeatingCable cable(sheet());
  EXPECT_FALSE(cable.output(-20, 208).extrapolated);
  EXPECT_FALSE(cable.output(65, 277).extrapolated);
  EXPECT_TRUE(cable.output(-20.1, 240).extrapolated);
  EXPECT_EQ(cable.output(-40, 240).power_w_per_m, 33);
  EXPECT_TRUE(cable.output(70, 240).extrapolated);
  EXPECT_EQ(cable.output(90, 240).power_w_per_m, 5);
  EXPECT_TRUE(cable.output(30, 120).extrapolated);
  EXPECT_EQ(cable.voltage_factor(120), 0.82);
  EXPECT_FALSE(cable.allows_voltage(120));
}

TEST(HeatingCable, WithoutVoltageTableOnlyRated) {
  CableSheet plain = sheet();
  plain.voltage.clear();
  const HeatingCable cable(plain);
  EXPECT_FALSE(cable.output(30, 240).extrapolated);
  EXPECT_TRUE(cable.output(30, 208).extrapolated);
}

TEST(HeatingCable, StartCurrentFollowsVoltage) {
  const HeatingCable cable(sheet());
  const auto start = cable.start_current(-5, 120);
  EXPECT_NEAR(start.peak_a_per_m, 0.27 / 2, 1e-15);
  EXPECT_NEAR(start.settled_a_per_m, 0.18 / 2, 1e-15);
  EXPECT_FALSE(start.extrapolated);
  EXPECT_TRUE(cable.start_current(-30, 240).extrapolated);
  CableSheet silent = sheet();
  silent.cold_start.clear();
  EXPECT_TRUE(std::isnan(HeatingCable(silent).start_current(0, 240).peak_a_per_m));
}

TEST(HeatingCable, LongestCircuitFromTheSheet) {
  const HeatingCable cable(sheet());
  EXPECT_EQ(cable.max_length_m(20, 240, 20), 80);
  EXPECT_EQ(cable.max_length_m(20, 240, 5), 60);
  EXPECT_EQ(cable.max_length_m(20, 208, 12), 75);
  EXPECT_EQ(cable.max_length_m(20, 230, 12), 80);
  EXPECT_EQ(cable.max_length_m(30, 240, 5), std::nullopt);  // nothing for so cold a start
  EXPECT_EQ(cable.max_length_m(25, 240, 12), std::nullopt);
  EXPECT_EQ(cable.max_length_m(20, 120, 12), std::nullopt);
}

TEST(HeatingCable, RefusesSheetsThatCannotBeRead) {
  CableSheet none = sheet();
  none.output.clear();
  EXPECT_THROW(HeatingCable{none}, std::logic_error);
  CableSheet falling = sheet();
  std::swap(falling.output[0], falling.output[1]);
  EXPECT_THROW(HeatingCable{falling}, std::logic_error);
  CableSheet unrated = sheet();
  unrated.rated_voltage_v = 0;
  EXPECT_THROW(HeatingCable{unrated}, std::logic_error);
}

TEST(CableFit, StaysPhysicalOnASheetThatIsNot) {
  CableSheet steep = sheet();
  steep.voltage = {{208, 0.6}, {240, 1}, {277, 1.6}};  // more than V^2: no self-heating can do that
  const CableFit fit = fit_cable(steep);
  EXPECT_GE(fit.model.core_to_pipe_m_k_per_w, 0);
  EXPECT_GT(fit.model.beta_per_k, 0);
  EXPECT_GT(fit.worst_output_error_frac, 0.01);  // and it says how badly it fits
  CableSheet dead = sheet();
  for (OutputPoint& point : dead.output) point.power_w_per_m = 0;
  EXPECT_TRUE(std::isnan(fit_cable(dead).worst_output_error_frac));
}

TEST(CableFit, OneReadingIsEnoughToStayFinite) {
  CableSheet one = sheet();
  one.output = {{10, 26}};
  one.voltage.clear();
  const CableFit fit = fit_cable(one);
  EXPECT_NEAR(fit.model.power_w_per_m(10, 240), 26, 1e-6);
}

TEST(LambertW, SolvesItsEquation) {
  for (const double log_x : {-700.0, -30.0, -1.0, 0.0, 1.0, 3.0, 50.0, 5000.0}) {
    const double w = lambert_w_of_exp(log_x);
    EXPECT_NEAR(std::log(w) + w, log_x, 1e-14 * std::max(1.0, std::abs(log_x)));
  }
}

TEST(Interpolate, CubicNeverLeavesItsNeighbours) {
  const std::vector<double> x{0, 1, 2, 5, 6}, y{10, 10, 3, 2.9, 0};
  const auto slopes = monotone_slopes(x, y);
  double last = y.front();
  for (double at = 0; at <= 6; at += 0.01) {
    const double value = cubic_held(x, y, slopes, at);
    EXPECT_LE(value, last + 1e-14);
    last = value;
  }
}

}  // namespace
}  // namespace firstdraw::physics
