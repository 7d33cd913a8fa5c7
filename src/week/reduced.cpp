#include "week/reduced.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace firstdraw::week {
namespace {

constexpr double longest_stride_s = 60;
constexpr double same_c = 1e-9;  // at the set-point
constexpr double slack = 1e-6;   // of a grid step: what arithmetic may leave

/// One stride of Runge and Kutta's fourth order: temperature, and energy beside it.
class Stride {
 public:
  Stride(const ThermalLaw& law, bool on) : law_(law), on_(on) {}

  LawStep take(double from_c, double stride_s) const {
    const double a = rate(from_c), b = rate(from_c + stride_s / 2 * a), c = rate(from_c + stride_s / 2 * b),
                 d = rate(from_c + stride_s * c);
    const double middle_c = from_c + stride_s / 4 * (b + c);
    const double end_c = from_c + stride_s / 6 * (a + 2 * b + 2 * c + d);
    return {end_c, stride_s / 6 * (power(from_c) + 4 * power(middle_c) + power(end_c))};
  }

 private:
  double rate(double c) const { return on_ ? law_.heating_k_per_s(c) : -law_.cooling_k_per_s(c); }
  double power(double c) const { return on_ ? law_.power_w(c) : 0; }
  const ThermalLaw& law_;
  bool on_;
};

/// The part of a stride after which the set-point is met, by halving.
double meeting_s(const Stride& stride, double from_c, double set_point_c, double stride_s, bool on) {
  double before_s = 0, after_s = stride_s;
  for (int i = 0; i < 50; ++i) {
    const double middle_s = (before_s + after_s) / 2;
    const double there_c = stride.take(from_c, middle_s).end_c;
    ((on ? there_c >= set_point_c : there_c <= set_point_c) ? after_s : before_s) = middle_s;
  }
  return after_s;
}

/// Duty times full power; the cable must be able to hold.
double holding_w(const ThermalLaw& law, double set_point_c) {
  const double falls = std::max(0.0, law.cooling_k_per_s(set_point_c));
  const double rises = law.heating_k_per_s(set_point_c);
  return falls > 0 ? falls / (falls + rises) * law.power_w(set_point_c) : 0;
}

void judge_rising(const TemperatureGrid& grid, double step_s, const std::vector<double>& set_points_c) {
  if (grid.count < 2 || !(grid.step_k > 0))
    throw std::invalid_argument("grid: at least two rising temperatures");
  if (!(step_s > 0)) throw std::invalid_argument("step_s: more than zero");
  if (set_points_c.empty() || set_points_c.size() > 200)
    throw std::invalid_argument("set_points_c: 1 to 200");
  for (std::size_t i = 1; i < set_points_c.size(); ++i)
    if (!(set_points_c[i] > set_points_c[i - 1])) throw std::invalid_argument("set_points_c: must rise");
}

void judge(const TemperatureGrid& grid, double step_s, const std::vector<double>& set_points_c) {
  judge_rising(grid, step_s, set_points_c);
  for (std::size_t i = 0; i < set_points_c.size(); ++i) {
    const double c = set_points_c[i];
    if (c == cable_off_c) continue;
    const int at = grid.at_or_below(c);
    if (at < 0 || at >= grid.count || std::abs(grid.at_c(at) - c) > slack * grid.step_k)
      throw std::invalid_argument(fmt::format("set_points_c[{}]: {:g} degC is not on the grid", i, c));
  }
}

}  // namespace

int TemperatureGrid::at_or_below(double c) const {
  return static_cast<int>(std::floor(std::clamp((c - lowest_c) / step_k + slack, -1.0, count + 0.5)));
}

int TemperatureGrid::at_or_above(double c) const {
  return static_cast<int>(std::ceil(std::clamp((c - lowest_c) / step_k - slack, 0.0, count + 0.5)));
}

LawStep follow(const ThermalLaw& law, double from_c, double set_point_c, double step_s) {
  const bool can_hold = set_point_c == cable_off_c || law.heating_k_per_s(set_point_c) > 0;
  bool on = from_c < set_point_c - same_c || (!can_hold && from_c <= set_point_c + same_c);
  bool holds = can_hold && std::abs(from_c - set_point_c) <= same_c && law.cooling_k_per_s(set_point_c) >= 0;
  LawStep now{from_c, 0};
  double left_s = step_s;
  while (left_s > 0 && !holds) {
    const Stride stride(law, on);
    double stride_s = std::min(left_s, longest_stride_s);
    LawStep next = stride.take(now.end_c, stride_s);
    const bool meets = on ? can_hold && next.end_c >= set_point_c : next.end_c <= set_point_c;
    if (meets) {
      stride_s = meeting_s(stride, now.end_c, set_point_c, stride_s, on);
      next = {set_point_c, stride.take(now.end_c, stride_s).energy_j};
      holds = can_hold;
      on = true;
    }
    now = {next.end_c, now.energy_j + next.energy_j};
    left_s -= stride_s;
  }
  if (holds && left_s > 0) now.energy_j += left_s * holding_w(law, set_point_c);
  return now;
}

namespace {

/// `step_from(i, c)`: a step under set-point i from a temperature.
template <class StepFrom>
Automaton tabled(const TemperatureGrid& grid, double step_s, std::vector<double> set_points_c,
                 const StepFrom& step_from) {
  Automaton made{grid, step_s, std::move(set_points_c), {}, {}, {}};
  for (std::size_t i = 0; i < made.set_points_c.size(); ++i)
    for (int from = 0; from < grid.count; ++from) {
      const LawStep step = step_from(i, grid.at_c(from));
      const int to = grid.at_or_below(step.end_c);
      made.to.push_back(to < 0 || to >= grid.count ? -1 : to);
      made.energy_j.push_back(step.energy_j);
      made.end_c.push_back(step.end_c);
    }
  return made;
}

}  // namespace

Automaton reduce(const ThermalLaw& law, const TemperatureGrid& grid, double step_s,
                 std::vector<double> set_points_c) {
  judge(grid, step_s, set_points_c);
  const std::vector<double> given_c = set_points_c;
  return tabled(grid, step_s, std::move(set_points_c),
                [&](std::size_t i, double from_c) { return follow(law, from_c, given_c[i], step_s); });
}

LawStep follow_open_loop(const ThermalLaw& law, double from_c, double duty, double step_s) {
  const ThermalLaw driven{law.cooling_k_per_s,
                          [&](double c) {
                            const double cooling = law.cooling_k_per_s(c);
                            return duty * (law.heating_k_per_s(c) + cooling) - cooling;
                          },
                          [&](double c) { return duty * law.power_w(c); }};
  const Stride stride(driven, true);
  LawStep now{from_c, 0};
  for (double left_s = step_s; left_s > 0; left_s -= longest_stride_s) {
    const LawStep next = stride.take(now.end_c, std::min(left_s, longest_stride_s));
    now = {next.end_c, now.energy_j + next.energy_j};
  }
  return now;
}

Automaton reduce_open_loop(const ThermalLaw& law, const TemperatureGrid& grid, double step_s,
                           std::vector<double> set_points_c, const std::vector<double>& duties) {
  judge_rising(grid, step_s, set_points_c);
  if (duties.size() != set_points_c.size()) throw std::invalid_argument("duties: one for each set-point");
  return tabled(grid, step_s, std::move(set_points_c), [&](std::size_t i, double from_c) {
    return follow_open_loop(law, from_c, duties[i], step_s);
  });
}

}  // namespace firstdraw::week
