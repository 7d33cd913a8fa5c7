// The circuits of a building as it is: cable that is alive, what it takes, what its wires measure.
#include <algorithm>
#include <cmath>

#include "power/electrical.hpp"
#include "power/ladder.hpp"
#include "truth.hpp"

namespace firstdraw::bench {

using piping::at;
using enum prove::Cause;

double Truth::live_frac(const power::CircuitCable& cable, std::size_t stretch, const Planted& dead) const {
  const power::Circuit& circuit = building_.plan.circuits[at(dead.circuit)];
  int above = static_cast<int>(stretch);
  while (above >= 0 && circuit.runs[at(cable.run_position[at(above)])] != dead.run)
    above = cable.stretches[at(above)].parent;
  if (above < 0) return 1;
  if (above != static_cast<int>(stretch)) return 0;
  const double start_m = way_to(circuit, cable, dead.run);
  return std::clamp((dead.value - start_m) / cable.stretches[stretch].length_m, 0.0, 1.0);
}

void Truth::measure_circuits(Dice& dice) {
  for (std::size_t c = 0; c < building_.plan.circuits.size(); ++c)
    circuits_[static_cast<int>(c)] = circuit_of(static_cast<int>(c), dice);
}

/// Wiring, when there is any, and the cable that is alive, at what the pipes are.
Truth::Wired Truth::wired(int index, const physics::CableSheet& sheet, double factor) const {
  const power::Circuit& fed = building_.plan.circuits[at(index)];
  const auto laid = cable_of(building_, fed);
  const physics::CableModel model = physics::fit_cable(sheet).model;
  Wired made;
  const bool feeder =
      fed.wiring.one_way_m > 0 && fed.wiring.loop_ohm_per_m > 0 && !of_circuit(wrong_voltage, index);
  if (feeder)
    made.tree.push_back(
        {piping::none, fed.wiring.one_way_m, fed.wiring.loop_ohm_per_m, power::takes_nothing()});
  made.lead = made.tree.size();
  const Planted* dead = of_circuit(dead_length, index);
  std::vector<int> of_stretch(laid.stretches.size(), -1);
  for (std::size_t s = 0; s < laid.stretches.size(); ++s) {
    const auto& stretch = laid.stretches[s];
    const double at_c = live_c_.at(at(fed.runs[at(laid.run_position[s])]));
    const double live = dead ? live_frac(laid, s, *dead) : 1;
    const double length_m = stretch.length_m * live * length_frac_;
    made.all_m += stretch.length_m * length_frac_;
    made.live_m += length_m;
    made.siemens += length_m / (model.core_ohm_m * std::exp(model.beta_per_k * (at_c - model.reference_c)));
    if (length_m <= 0) continue;
    const int parent = stretch.parent < 0 ? (feeder ? 0 : piping::none) : of_stretch[at(stretch.parent)];
    const double scale = factor * (1 - 0.5 * (1 - stretch.derating_frac));
    const auto law = power::model_law(model, at_c);
    of_stretch[s] = static_cast<int>(made.tree.size());
    if (laid.far_node[s] == fed.far_node && live >= 1) made.far = of_stretch[s];
    made.tree.push_back({parent, length_m, power::copper_resistance_at(sheet.bus_loop_ohm_per_m, at_c + 12),
                         [law, scale](double volts) {
                           const power::Output output = law(volts);
                           return power::Output{scale * output.w_per_m, scale * output.w_per_m_v};
                         }});
  }
  return made;
}

void Truth::energise(int index, const Wired& wired, Circuit& made) const {
  const int group = building_.plan.circuits[at(index)].group;
  const bool off = of_circuit(breaker_open, index) || of_group(contactor_stuck_off, group) ||
                   (of_group(sensor_unplugged, group) && duty_[at(group)] <= 0);
  if (off) return;
  const Planted* fed = of_circuit(wrong_voltage, index);
  made.feed_v = fed ? fed->value : panel_v_[at(group)];
  if (wired.tree.size() == wired.lead) return;  // nothing is alive
  const auto found = power::solve_ladder(wired.tree, made.feed_v);
  made.amps = found.total_a;
  if (wired.lead > 0) made.feed_v = found.stretches[0].far_v;
  if (wired.far >= 0) made.far_v = found.stretches[at(wired.far)].far_v;
}

Truth::Circuit Truth::circuit_of(int index, Dice& dice) const {
  Circuit made;
  const Planted* other = of_circuit(wrong_cable, index);
  made.cable = other ? other->sheet : building_.plan.circuits[at(index)].cable;
  const physics::CableSheet& sheet = building_.job.cables[at(made.cable)];
  const Planted* old = of_circuit(ageing_cable, index);
  const double aged = old ? old->value : 1;
  const Wired wires = wired(index, sheet, cable_factor_[at(made.cable)] * aged);
  energise(index, wires, made);
  const bool both = dice() % 3 != 0;  // bus wires of a broken cable
  made.farad = sheet.capacitance_f_per_m * (1 + heavy(dice, 0.04)) *
               (wires.live_m + (both ? 0 : 0.5) * (wires.all_m - wires.live_m));
  made.open_ohm = wires.siemens > 0 ? even(dice, 0.85, 1.3) / wires.siemens : 1e6;
  const bool damaged = of_circuit(dead_length, index) && dice() % 3 == 0;
  made.insulation_ohm = std::pow(
      10, damaged ? even(dice, 5, 8) : 11.3 - std::log10(std::max(1.0, wires.all_m)) + heavy(dice, 0.6));
  return made;
}

}  // namespace firstdraw::bench
