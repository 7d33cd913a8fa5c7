// A scene without storage in wall or insulation and without cable, as EPANET sees it: temperature above the
// air is a substance that decays at first order in plug flow, a draw is a demand.
#pragma once

#include <string>
#include <vector>

#include "solvers/small_scenes.hpp"

namespace firstdraw::solvers {

/// EPANET 2.2 input file, litres per second. Runs become pipes, taps the junctions "tap0", "tap1", ...; draws
/// must open and close at multiples of `step_s`. One air temperature everywhere.
std::string epanet_input(const Case& what, int step_s);

/// Temperature at every tap at every whole second, [second][tap], by EPANET in Node. Throws
/// std::runtime_error when it cannot be run.
std::vector<std::vector<double>> epanet_taps_c(const Case& what, int step_s);

}  // namespace firstdraw::solvers
