// A control group reduced to one temperature, that of its critical run, in steps of time on a grid of
// temperatures. Above its set-point the pipe cools freely, at it the thermostat holds it, below it the cable
// heats at full power. Rounded down to the grid after every step: never warmer than the law.
// Model and limits in docs/week.md.
#pragma once

#include <functional>
#include <limits>
#include <string>
#include <vector>

namespace firstdraw::week {

/// A set-point that never heats.
inline constexpr double cable_off_c = -std::numeric_limits<double>::infinity();

/// What the physics says of the critical run; asked only when the automaton is made.
struct ThermalLaw {
  std::function<double(double)> cooling_k_per_s;  // at a temperature, cable off; below the air less than zero
  std::function<double(double)> heating_k_per_s;  // cable on; what its losses leave
  std::function<double(double)> power_w;          // of the whole group while on
};

struct TemperatureGrid {
  double lowest_c = 20, step_k = 0.5;
  int count = 0;

  double at_c(int index) const { return lowest_c + step_k * index; }
  /// The highest index at or below; a millionth of a step above counts as there.
  int at_or_below(double c) const;
  int at_or_above(double c) const;
};

/// Where each step leads. Arrays by [set_point * grid.count + temperature].
struct Automaton {
  TemperatureGrid grid;
  double step_s = 1800;
  std::vector<double> set_points_c;  // rising; cable_off_c may be the first
  std::vector<int> to;               // -1: leaves the grid, forbidden
  std::vector<double> energy_j;
  std::vector<double> end_c;  // where the law ends, before rounding

  int place(int set_point, int temperature) const { return set_point * grid.count + temperature; }
};

/// Where the law leads in a step from a temperature, and what it draws.
struct LawStep {
  double end_c = 0, energy_j = 0;
};
LawStep follow(const ThermalLaw& law, double from_c, double set_point_c, double step_s);

/// Set-points must rise and lie on the grid (else holding one would count as heating). Throws
/// std::invalid_argument that names what is wrong.
Automaton reduce(const ThermalLaw& law, const TemperatureGrid& grid, double step_s,
                 std::vector<double> set_points_c);

/// Without a thermostat: under set_points_c[i] the cable is on for duties[i] of the time, whatever the
/// water's temperature. Set-points must rise, duties be from 0 to 1; set-points need not lie on the grid.
/// Where a step moves less than the grid's step the rounding holds the temperature back: still never warmer
/// than the law.
LawStep follow_open_loop(const ThermalLaw& law, double from_c, double duty, double step_s);
Automaton reduce_open_loop(const ThermalLaw& law, const TemperatureGrid& grid, double step_s,
                           std::vector<double> set_points_c, const std::vector<double>& duties);

}  // namespace firstdraw::week
