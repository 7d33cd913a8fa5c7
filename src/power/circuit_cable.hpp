// How the cable of one circuit branches: from the piping it lies on to stretches, tees and end seals.
#pragma once

#include <span>
#include <vector>

#include "piping/network.hpp"
#include "power/expect.hpp"

namespace firstdraw::power {

struct CircuitCable {
  int feed_node = piping::none;
  std::vector<CableStretch> stretches;  // like the runs given
  std::vector<int> tee_nodes;  // one entry for each tee kit: a node where three cables leave is listed twice
  std::vector<int> end_nodes;  // one for each end seal; always one more than the tees
};

/// `runs`: of one circuit, connected, upstream first, at least one; `cable_length_m` of each, like `runs`.
/// Several passes on a run are taken one after the other: a bound on the fall of voltage for every way of
/// laying them.
CircuitCable circuit_cable(const piping::Network& network, std::span<const int> runs,
                           std::span<const double> cable_length_m);

}  // namespace firstdraw::power
