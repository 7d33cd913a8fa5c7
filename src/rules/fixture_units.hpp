// Demand by fixture units: a fixture's weight for hot water, and the flow a sum of weights asks for.
// data/fixture_units.csv, data/peak_flow.csv.
#pragma once

#include <string_view>

#include "rules/citation.hpp"

namespace firstdraw::rules {

enum class Occupancy { private_use, public_use };

struct FixtureUnits {
  double hot = 0;
  Citation citation;
};
/// Hot-water supply fixture units of one fixture; throws std::logic_error for an unknown fixture.
/// IPC 2018, Table E103.3(2).
FixtureUnits fixture_units(std::string_view fixture, Occupancy occupancy);

struct DemandFlow {
  double flow_m3_per_s = 0;
  bool beyond_table = false;  // more units than the table knows: the flow is that of its last row
  Citation citation;
};
/// Flow that so many units ask for, systems mainly of flush tanks (the column for hot water: nothing flushes
/// from it). Straight between rows; below the first row in proportion. IPC 2018, Table E103.3(3).
DemandFlow demand_flow(double units);

}  // namespace firstdraw::rules
