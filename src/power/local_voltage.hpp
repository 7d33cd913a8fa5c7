// The voltage every run of a circuit gets: branch wiring and heating cable as one ladder (power/ladder.hpp),
// from the panel's bus to every end, at given pipe temperatures.
#pragma once

#include <span>
#include <vector>

#include "physics/heating_cable.hpp"
#include "piping/network.hpp"
#include "power/circuits.hpp"

namespace firstdraw::power {

struct CircuitVoltage {
  bool steady = true;                            // false: nothing else here may be used
  double current_a = 0, power_w = 0;             // from the panel
  double heater_w = 0, bus_w = 0, wiring_w = 0;  // power_w in parts
  double feed_v = 0, far_v = 0;
  int far_node = piping::none;
  std::vector<double> end_v;  // like circuit.end_nodes
  /// Like circuit.runs: the share of the panel's voltage at which the run's cable, if it had one voltage all
  /// along, would put out the heat that it does.
  std::vector<double> voltage_frac;
};

/// `cable_length_m`, `water_c`, `derating_frac`: like circuit.runs. Plastic pipe lowers the output, and with
/// it the current, by its derating. Bus wires at the cable's highest powered temperature: more drop than
/// there is, the safe side for what far runs get. `panel_v`: at the panel.
CircuitVoltage circuit_voltage(const piping::Network& network, const Circuit& circuit,
                               const physics::HeatingCable& cable, std::span<const double> cable_length_m,
                               std::span<const double> water_c, std::span<const double> derating_frac,
                               double panel_v);

}  // namespace firstdraw::power
