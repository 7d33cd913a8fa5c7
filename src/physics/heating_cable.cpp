#include "physics/heating_cable.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "physics/interpolate.hpp"

namespace firstdraw::physics {
namespace {

constexpr double same_voltage_frac = 1e-6;

template <class Point>
std::vector<double> column(const std::vector<Point>& points, double Point::* field) {
  std::vector<double> out;
  out.reserve(points.size());
  for (const Point& point : points) out.push_back(point.*field);
  return out;
}

void require_rising(const std::vector<double>& values, const std::string& cable, const char* what) {
  for (std::size_t i = 1; i < values.size(); ++i) {
    if (!(values[i] > values[i - 1])) throw std::logic_error("cable " + cable + ": " + what + " must rise");
  }
}

bool outside(const std::vector<double>& rising, double x) { return x < rising.front() || x > rising.back(); }

}  // namespace

HeatingCable::Curve::Curve(std::vector<double> at, std::vector<double> value)
    : x(std::move(at)), y(std::move(value)), slopes(monotone_slopes(x, y)) {}

double HeatingCable::Curve::operator()(double at) const { return cubic_held(x, y, slopes, at); }

HeatingCable::HeatingCable(CableSheet sheet)
    : sheet_(std::move(sheet)),
      output_(column(sheet_.output, &OutputPoint::pipe_c),
              column(sheet_.output, &OutputPoint::power_w_per_m)),
      factor_(column(sheet_.voltage, &VoltagePoint::voltage_v),
              column(sheet_.voltage, &VoltagePoint::output_factor)),
      start_c_(column(sheet_.cold_start, &ColdStartPoint::start_c)),
      peak_(column(sheet_.cold_start, &ColdStartPoint::peak_a_per_m)),
      settled_(column(sheet_.cold_start, &ColdStartPoint::settled_a_per_m)) {
  if (output_.x.empty()) throw std::logic_error("cable " + sheet_.id + ": no output table");
  if (!(sheet_.rated_voltage_v > 0)) throw std::logic_error("cable " + sheet_.id + ": no rated voltage");
  require_rising(output_.x, sheet_.id, "pipe temperatures of the output table");
  require_rising(factor_.x, sheet_.id, "voltages of the voltage table");
  require_rising(start_c_, sheet_.id, "start temperatures of the cold-start table");
}

HeatingCable::Output HeatingCable::output(double pipe_c, double voltage_v) const {
  return {output_(pipe_c) * voltage_factor(voltage_v),
          outside(output_.x, pipe_c) || !allows_voltage(voltage_v)};
}

double HeatingCable::voltage_factor(double voltage_v) const {
  return factor_.x.empty() ? 1 : factor_(voltage_v);
}

bool HeatingCable::allows_voltage(double voltage_v) const {
  const double low = factor_.x.empty() ? sheet_.rated_voltage_v : factor_.x.front();
  const double high = factor_.x.empty() ? sheet_.rated_voltage_v : factor_.x.back();
  return voltage_v >= low * (1 - same_voltage_frac) && voltage_v <= high * (1 + same_voltage_frac);
}

HeatingCable::StartCurrent HeatingCable::start_current(double start_c, double voltage_v) const {
  if (start_c_.empty()) {
    constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
    return {unknown, unknown, true};
  }
  const double share = voltage_v / sheet_.rated_voltage_v;
  return {share * linear_held(start_c_, peak_, start_c), share * linear_held(start_c_, settled_, start_c),
          outside(start_c_, start_c)};
}

std::optional<double> HeatingCable::max_length_m(double breaker_a, double voltage_v, double start_c) const {
  const MaxLengthPoint* best = nullptr;
  const auto off_v = [&](const MaxLengthPoint& row) { return std::abs(row.voltage_v - voltage_v); };
  for (const MaxLengthPoint& row : sheet_.max_length) {
    const bool fits = std::abs(row.breaker_a - breaker_a) < 1e-6 && off_v(row) <= 0.1 * voltage_v &&
                      row.start_c <= start_c + 1e-9;
    if (!fits) continue;
    const bool nearer = best != nullptr && off_v(row) < off_v(*best) - 1e-9;
    const bool warmer = best != nullptr && off_v(row) <= off_v(*best) + 1e-9 && row.start_c > best->start_c;
    if (best == nullptr || nearer || warmer) best = &row;
  }
  return best == nullptr ? std::nullopt : std::optional(best->length_m);
}

}  // namespace firstdraw::physics
