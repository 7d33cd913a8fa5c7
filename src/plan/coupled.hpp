// Heat and current together: what voltage the circuits leave to every run depends on what the runs hold, and
// the other way round. Fixed point of hold::solve and power::circuit_voltage.
#pragma once

#include <mutex>
#include <span>
#include <vector>

#include "hold/hold.hpp"
#include "plan/plan.hpp"
#include "power/known.hpp"

namespace firstdraw::plan {

struct Coupled {
  hold::State state;                            // at the local voltages
  std::vector<double> voltage_frac;             // like building.runs
  std::vector<power::CircuitVoltage> circuits;  // like the circuits given
  bool settled = true;  // false: the last round still moved a voltage by more than 1e-6 of the panel's
};

/// `circuits`: with feeds and wiring. Runs without a circuit get the group's voltage. The ladder takes the
/// temperatures at which the cable is on in `mode` under `conditions`, and the panel's voltage times
/// conditions.voltage_frac. `known`: of the building's cables, asked by whoever holds `turn`: several cases
/// may be solved at once.
Coupled solve_coupled(const job::Job& job, const piping::Network& network, hold::Building building,
                      std::span<const power::Circuit> circuits, hold::Mode mode,
                      const hold::Conditions& conditions, power::Known& known, std::mutex& turn);

}  // namespace firstdraw::plan
