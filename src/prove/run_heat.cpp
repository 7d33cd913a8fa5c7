#include "prove/run_heat.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::prove {
namespace {

constexpr std::array<double, 3> at_k = {8, 30, 55};
constexpr double wet_factor = 4, least_rise_k = 1, most_rise_k = 90;

constexpr double first_c = -30, last_c = 160, step_c = 1, step_v = 1;

/// The quadratic through three points.
std::array<double, 3> quadratic(const std::array<double, 3>& y) {
  const double f01 = (y[1] - y[0]) / (at_k[1] - at_k[0]), f12 = (y[2] - y[1]) / (at_k[2] - at_k[1]);
  const double second = (f12 - f01) / (at_k[2] - at_k[0]);
  const double slope = f01 - second * (at_k[0] + at_k[1]);
  return {y[0] - slope * at_k[0] - second * at_k[0] * at_k[0], slope, second};
}

double value(const std::array<double, 3>& c, double d) { return c[0] + d * (c[1] + d * c[2]); }
double slope(const std::array<double, 3>& c, double d) { return c[1] + 2 * d * c[2]; }

Sample along(const std::vector<double>& grid, double place) {
  const double last = static_cast<double>(grid.size() - 1);
  const double held = std::clamp(place, 0.0, last);
  const auto cell = std::min(static_cast<std::size_t>(held), grid.size() - 2);
  const double rise = grid[cell + 1] - grid[cell];
  return {grid[cell] + (held - static_cast<double>(cell)) * rise, held == place ? rise : 0};
}

double exponent(const std::vector<physics::VoltagePoint>& table, bool below) {
  if (table.size() < 2) return 1;
  const auto& a = below ? table[0] : table[table.size() - 2];
  const auto& b = below ? table[1] : table.back();
  return std::log(b.output_factor / a.output_factor) / std::log(b.voltage_v / a.voltage_v);
}

}  // namespace

RunHeat::RunHeat(const hold::LossCurve& curve, double air_c) {
  std::array<double, 3> fixed{}, insulation{};
  for (std::size_t i = 0; i < at_k.size(); ++i) {
    const double dry = at_k[i] / curve.loss_w_per_m(air_c + at_k[i], air_c, 1);
    const double wet = at_k[i] / curve.loss_w_per_m(air_c + at_k[i], air_c, wet_factor);
    insulation[i] = std::max(0.0, (dry - wet) / (1 - 1 / wet_factor));
    fixed[i] = dry - insulation[i];
  }
  fixed_ = quadratic(fixed);
  insulation_ = quadratic(insulation);
}

RunHeat::Loss RunHeat::at(double rise_k, double factor) const {
  const double d = std::clamp(rise_k, least_rise_k, most_rise_k);
  const double inside = value(insulation_, d) / factor;
  const double u = 1 / (value(fixed_, d) + inside);
  const double bend = d == rise_k ? slope(fixed_, d) + slope(insulation_, d) / factor : 0;
  return {u * rise_k, u - rise_k * u * u * bend, rise_k * u * u * inside};
}

CableTable::CableTable(const physics::CableSheet& sheet)
    : sheet_(sheet), model_(physics::fit_cable(sheet).model) {
  const physics::HeatingCable cable(sheet);
  const double rated_v = sheet.rated_voltage_v, rated = cable.voltage_factor(rated_v);
  for (double c = first_c; c <= last_c; c += step_c) output_.push_back(cable.power_w_per_m(c, rated_v));
  const double low_v = sheet.voltage.empty() ? rated_v : sheet.voltage.front().voltage_v;
  const double high_v = sheet.voltage.empty() ? rated_v : sheet.voltage.back().voltage_v;
  for (double volts = 0; volts <= 3 * high_v; volts += step_v) {
    const double end_v = std::clamp(volts, low_v, high_v);
    const double beyond =
        volts == end_v ? 1 : std::pow(volts / end_v, exponent(sheet.voltage, volts < low_v));
    factor_.push_back(cable.voltage_factor(end_v) / rated * beyond);
  }
}

Sample CableTable::output(double pipe_c) const { return along(output_, (pipe_c - first_c) / step_c); }
Sample CableTable::factor(double volts) const { return along(factor_, volts / step_v); }

double CableTable::core_ohm_m(double pipe_c) const {
  return model_.core_ohm_m * std::exp(model_.beta_per_k * (pipe_c - model_.reference_c));
}

}  // namespace firstdraw::prove
