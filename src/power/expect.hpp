// What a clamp meter should show on a circuit, and how far off is still all right. docs/circuits.md.
//
// An expectation is no proof of safety: the electrician's tests, local codes, the authority having
// jurisdiction and the cable maker's instructions decide.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "physics/heating_cable.hpp"
#include "piping/network.hpp"

namespace firstdraw::power {

/// A circuit's cable as it branches: metres of cable, parents before children.
struct CableStretch {
  int parent = piping::none;
  double length_m = 0;
  double derating_frac = 1;  // plastic pipe
};

/// Current over the settled current so many minutes after switching on; 1 once settled. From a model of the
/// cold start, which this file does not hold.
using StartFactor = std::function<double(double minutes)>;

/// How far what was measured on site may be from the truth.
struct SiteTolerance {
  double voltage_frac = 0;
  double pipe_k = 0;
};

struct ExpectedCurrent {
  double pipe_c = 0, volts = 0;
  double current_a = 0;            // nominal
  double least_a = 0, most_a = 0;  // the band
  double power_w = 0;              // drawn at the feed
  double heater_w = 0, far_v = 0;
  bool usable = true;   // false: the cable is so long that no steady state was found
  bool covered = true;  // false: the data sheet gives no output at this voltage; all figures are then NaN
};

/// The sheet lists the voltage, or, without a list, the voltage is within 10 % of its rated one (common
/// practice, no source).
bool gives_output_at(const physics::HeatingCable& cable, double volts);

/// Steady current at one pipe temperature, times `start` at `minutes` (no function: settled). Nominal: data
/// sheet, derated on plastic pipe, bus wires as warm as the pipe. The band takes the data sheet's tolerance,
/// `site`, plastic pipe from its derating to none, and bus wires anywhere from the pipe's temperature to the
/// cable's highest powered one, all at their worst together.
ExpectedCurrent expected_current(std::span<const CableStretch> circuit, const physics::HeatingCable& cable,
                                 double pipe_c, double volts, const SiteTolerance& site, double minutes = 0,
                                 const StartFactor& start = {});

/// A row for every voltage at every pipe temperature, settled; voltages change fastest.
std::vector<ExpectedCurrent> commissioning_table(std::span<const CableStretch> circuit,
                                                 const physics::HeatingCable& cable,
                                                 std::span<const double> pipe_c,
                                                 std::span<const double> volts, const SiteTolerance& site);

}  // namespace firstdraw::power
