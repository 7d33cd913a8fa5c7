#include "power/expect.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "power/electrical.hpp"
#include "power/ladder.hpp"

namespace firstdraw::power {

namespace {

struct State {
  double pipe_c = 0, volts = 0, wire_c = 0, output_scale = 1;
};

LadderResult solve(std::span<const CableStretch> circuit, const physics::HeatingCable& cable,
                   const State& state) {
  const double loop_ohm_per_m = copper_resistance_at(cable.sheet().bus_loop_ohm_per_m, state.wire_c);
  const OutputLaw law = sheet_law(cable, state.pipe_c, state.output_scale);
  std::vector<LadderStretch> tree;
  for (const auto& stretch : circuit) tree.push_back({stretch.parent, stretch.length_m, loop_ohm_per_m, law});
  return solve_ladder(tree, state.volts);
}

/// Below its lowest voltage the sheet's output is held, and a cable that is far too long can then end dead.
bool steady(const LadderResult& found) {
  constexpr double dead_frac = 1e-3;
  return found.converged && found.lowest_v > dead_frac * found.feed_v;
}

/// Hotter wires and a warmer pipe draw less; which way voltage pulls depends on the cable.
void fill_band(ExpectedCurrent& expected, std::span<const CableStretch> circuit,
               const physics::HeatingCable& cable, const SiteTolerance& site) {
  const double off = cable.sheet().output_tolerance_frac;
  const double hot_c = std::max(expected.pipe_c, cable.sheet().max_powered_c);
  expected.least_a = expected.most_a = expected.current_a;
  for (const double side : {-1.0, 1.0}) {
    const double volts = expected.volts * (1 + side * site.voltage_frac);
    const State states[] = {{expected.pipe_c - site.pipe_k, volts, expected.pipe_c - site.pipe_k, 1 + off},
                            {expected.pipe_c + site.pipe_k, volts, hot_c + site.pipe_k, 1 - off}};
    for (const State& state : states) {
      const LadderResult found = solve(circuit, cable, state);
      expected.usable = expected.usable && steady(found);
      expected.least_a = std::min(expected.least_a, found.total_a);
      expected.most_a = std::max(expected.most_a, found.total_a);
    }
  }
}

void explain(ExpectedCurrent& expected, const physics::HeatingCable& cable, const SiteTolerance& site) {
  const auto& sheet = cable.sheet();
  auto& reasons = expected.reasons;
  reasons.push_back(fmt::format("output of the data sheet ±{:.0f} %", 100 * sheet.output_tolerance_frac));
  reasons.push_back(fmt::format("voltage as measured ±{:.1f} %, pipe temperature ±{:.1f} K",
                                100 * site.voltage_frac, site.pipe_k));
  reasons.push_back(fmt::format("bus wires anywhere from the pipe's {:.0f} °C to {:.0f} °C", expected.pipe_c,
                                std::max(expected.pipe_c, sheet.max_powered_c)));
  reasons.push_back(fmt::format("the far end gets {:.1f} V of {:.1f} V", expected.far_v, expected.volts));
  if (cable.output(expected.pipe_c, expected.volts).extrapolated || !cable.allows_voltage(expected.far_v))
    reasons.emplace_back("beyond the data sheet's temperatures or voltages: its last values are held");
  if (!expected.usable) reasons.emplace_back("no steady state found: the cable is too long");
}

void apply(ExpectedCurrent& expected, double factor, double minutes) {
  for (double* value : {&expected.current_a, &expected.least_a, &expected.most_a, &expected.power_w})
    *value *= factor;
  expected.reasons.push_back(
      fmt::format("{:.1f} min after switching on: {:.2f} times the settled current", minutes, factor));
}

}  // namespace

ExpectedCurrent expected_current(std::span<const CableStretch> circuit, const physics::HeatingCable& cable,
                                 double pipe_c, double volts, const SiteTolerance& site, double minutes,
                                 const StartFactor& start) {
  const LadderResult nominal = solve(circuit, cable, {pipe_c, volts, pipe_c});
  ExpectedCurrent expected;
  expected.pipe_c = pipe_c;
  expected.volts = volts;
  expected.current_a = nominal.total_a;
  expected.power_w = volts * nominal.total_a;
  expected.heater_w = nominal.heater_w;
  expected.far_v = nominal.lowest_v;
  expected.usable = steady(nominal);
  fill_band(expected, circuit, cable, site);
  explain(expected, cable, site);
  if (start) apply(expected, start(minutes), minutes);
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
