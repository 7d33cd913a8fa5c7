#include "power/expect.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "power/electrical.hpp"
#include "power/ladder.hpp"

namespace firstdraw::power {

namespace {

struct State {
  double pipe_c = 0, volts = 0, wire_c = 0, output_scale = 1;
  bool derated = true;
};

LadderResult solve(std::span<const CableStretch> circuit, const physics::HeatingCable& cable,
                   const State& state) {
  const double loop_ohm_per_m = copper_resistance_at(cable.sheet().bus_loop_ohm_per_m, state.wire_c);
  const auto bends_v = sheet_bends_v(cable);
  std::vector<LadderStretch> tree;
  for (const auto& stretch : circuit) {
    const double scale = state.output_scale * (state.derated ? stretch.derating_frac : 1);
    tree.push_back(
        {stretch.parent, stretch.length_m, loop_ohm_per_m, sheet_law(cable, state.pipe_c, scale), bends_v});
  }
  return solve_ladder(tree, state.volts);
}

/// Hotter wires and a warmer pipe draw less; which way voltage pulls depends on the cable.
void fill_band(ExpectedCurrent& expected, std::span<const CableStretch> circuit,
               const physics::HeatingCable& cable, const SiteTolerance& site) {
  const double off = cable.sheet().output_tolerance_frac;
  const double hot_c = std::max(expected.pipe_c, cable.sheet().max_powered_c);
  expected.least_a = expected.most_a = expected.current_a;
  for (const double side : {-1.0, 1.0}) {
    const double volts = expected.volts * (1 + side * site.voltage_frac);
    const State states[] = {
        {expected.pipe_c - site.pipe_k, volts, expected.pipe_c - site.pipe_k, 1 + off, false},
        {expected.pipe_c + site.pipe_k, volts, hot_c + site.pipe_k, 1 - off}};
    for (const State& state : states) {
      const LadderResult found = solve(circuit, cable, state);
      expected.usable = expected.usable && has_steady_state(found);
      expected.least_a = std::min(expected.least_a, found.total_a);
      expected.most_a = std::max(expected.most_a, found.total_a);
    }
  }
}

void leave_out(ExpectedCurrent& expected) {
  expected.covered = expected.usable = false;
  for (double* value : {&expected.current_a, &expected.least_a, &expected.most_a, &expected.power_w,
                        &expected.heater_w, &expected.far_v})
    *value = std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

bool gives_output_at(const physics::HeatingCable& cable, double volts) {
  constexpr double near_frac = 0.1;
  const double rated_v = cable.sheet().rated_voltage_v;
  return cable.allows_voltage(volts) ||
         (cable.sheet().voltage.empty() && std::abs(volts - rated_v) <= near_frac * rated_v);
}

ExpectedCurrent expected_current(std::span<const CableStretch> circuit, const physics::HeatingCable& cable,
                                 double pipe_c, double volts, const SiteTolerance& site, double minutes,
                                 const StartFactor& start) {
  ExpectedCurrent expected;
  expected.pipe_c = pipe_c;
  expected.volts = volts;
  if (!gives_output_at(cable, volts)) {
    leave_out(expected);
    return expected;
  }
  const LadderResult nominal = solve(circuit, cable, {pipe_c, volts, pipe_c});
  expected.current_a = nominal.total_a;
  expected.power_w = volts * nominal.total_a;
  expected.heater_w = nominal.heater_w;
  expected.far_v = nominal.lowest_v;
  expected.usable = has_steady_state(nominal);
  fill_band(expected, circuit, cable, site);
  const double factor = start ? start(minutes) : 1;
  for (double* value : {&expected.current_a, &expected.least_a, &expected.most_a, &expected.power_w})
    *value *= factor;
  return expected;
}

std::vector<ExpectedCurrent> commissioning_table(std::span<const CableStretch> circuit,
                                                 const physics::HeatingCable& cable,
                                                 std::span<const double> pipe_c,
                                                 std::span<const double> volts, const SiteTolerance& site) {
  std::vector<ExpectedCurrent> table;
  for (const double at_c : pipe_c)
    for (const double at_v : volts) table.push_back(expected_current(circuit, cable, at_c, at_v, site));
  return table;
}

}  // namespace firstdraw::power
