#include "power/local_voltage.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "power/circuit_cable.hpp"
#include "power/electrical.hpp"
#include "power/ladder.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

/// Wiring and cable of one circuit as a ladder, and which stretch is which run.
struct Wired {
  std::vector<LadderStretch> tree;
  std::size_t lead = 0;  // stretches before the cable's: 1 with wiring, 0 without
  CircuitCable cable;
};

void add_wiring(const BranchWiring& wiring, Wired& wired) {
  if (!(wiring.one_way_m > 0) || !(wiring.loop_ohm_per_m > 0)) return;
  wired.tree.push_back({piping::none, wiring.one_way_m, wiring.loop_ohm_per_m, takes_nothing()});
  wired.lead = 1;
}

Wired wired_circuit(const piping::Network& network, const Circuit& circuit,
                    const physics::HeatingCable& cable, std::span<const double> cable_length_m,
                    std::span<const double> water_c, std::span<const double> derating_frac) {
  Wired wired;
  wired.cable = circuit_cable(network, circuit.runs, cable_length_m, circuit.feed_node);
  add_wiring(circuit.wiring, wired);
  const double loop_ohm_per_m =
      copper_resistance_at(cable.sheet().bus_loop_ohm_per_m, std::max(20.0, cable.sheet().max_powered_c));
  const auto bends_v = sheet_bends_v(cable);
  for (std::size_t s = 0; s < wired.cable.stretches.size(); ++s) {
    const CableStretch& stretch = wired.cable.stretches[s];
    const std::size_t run = at(wired.cable.run_position[s]);
    const int parent = stretch.parent + static_cast<int>(wired.lead);  // behind the wiring, none becomes 0
    wired.tree.push_back({parent, stretch.length_m, loop_ohm_per_m,
                          sheet_law(cable, water_c[run], derating_frac[run]), bends_v});
  }
  return wired;
}

/// The one voltage at which the law puts out this much; between those of the two ends, because the output
/// along the stretch has its mean somewhere there. Where the law does not tell voltages apart, the middle.
/// Regula falsi, with the weight of an end that stays halved (Illinois; memory).
double voltage_for(const OutputLaw& law, double w_per_m, double far_v, double near_v) {
  constexpr int most_rounds = 60;
  double low_v = far_v, high_v = near_v;
  double low = law(low_v).w_per_m - w_per_m, high = law(high_v).w_per_m - w_per_m;
  if (!(low < 0 && high > 0)) return 0.5 * (low_v + high_v);
  int moved = 0;  // the end that moved last
  for (int round = 0; round < most_rounds && high_v - low_v > 1e-13 * near_v; ++round) {
    const double mid_v = high_v - high * (high_v - low_v) / (high - low);
    const double mid = law(mid_v).w_per_m - w_per_m;
    if (std::abs(mid) <= 1e-14 * w_per_m) return mid_v;
    const int side = mid < 0 ? -1 : 1;
    (side < 0 ? low_v : high_v) = mid_v;
    (side < 0 ? low : high) = mid;
    if (side == moved) (side < 0 ? high : low) *= 0.5;
    moved = side;
  }
  return 0.5 * (low_v + high_v);
}

void fill_runs(const Wired& wired, const LadderResult& found, double panel_v, CircuitVoltage& voltage) {
  for (std::size_t s = 0; s < wired.cable.stretches.size(); ++s) {
    const LadderStretch& stretch = wired.tree[wired.lead + s];
    const LadderFlow& flow = found.stretches[wired.lead + s];
    const double near_v =
        stretch.parent == piping::none ? panel_v : found.stretches[at(stretch.parent)].far_v;
    const double volts = voltage_for(stretch.law, flow.heater_w / stretch.length_m, flow.far_v, near_v);
    voltage.voltage_frac[at(wired.cable.run_position[s])] = volts / panel_v;
  }
}

void fill_ends(const Wired& wired, const LadderResult& found, const Circuit& circuit,
               CircuitVoltage& voltage) {
  const auto& nodes = wired.cable.far_node;
  for (const int node : circuit.end_nodes) {
    const auto stretch = std::find(nodes.begin(), nodes.end(), node);
    if (stretch == nodes.end()) throw std::logic_error("an end seal where no cable of the circuit ends");
    const double end_v =
        found.stretches[wired.lead + static_cast<std::size_t>(stretch - nodes.begin())].far_v;
    if (voltage.end_v.empty() || end_v < voltage.far_v) {
      voltage.far_v = end_v;
      voltage.far_node = node;
    }
    voltage.end_v.push_back(end_v);
  }
}

}  // namespace

CircuitVoltage circuit_voltage(const piping::Network& network, const Circuit& circuit,
                               const physics::HeatingCable& cable, std::span<const double> cable_length_m,
                               std::span<const double> water_c, std::span<const double> derating_frac,
                               double panel_v) {
  const Wired wired = wired_circuit(network, circuit, cable, cable_length_m, water_c, derating_frac);
  const LadderResult found = solve_ladder(wired.tree, panel_v);
  CircuitVoltage voltage;
  voltage.steady = has_steady_state(found);
  voltage.voltage_frac.assign(circuit.runs.size(), 1);
  if (!voltage.steady) return voltage;
  voltage.current_a = found.total_a;
  voltage.power_w = panel_v * found.total_a;
  voltage.heater_w = found.heater_w;
  voltage.wiring_w = wired.lead == 0 ? 0 : found.stretches[0].bus_w;
  voltage.bus_w = found.bus_w - voltage.wiring_w;
  voltage.feed_v = wired.lead == 0 ? panel_v : found.stretches[0].far_v;
  fill_runs(wired, found, panel_v, voltage);
  fill_ends(wired, found, circuit, voltage);
  return voltage;
}

}  // namespace firstdraw::power
