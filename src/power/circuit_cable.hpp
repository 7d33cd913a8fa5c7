// How the cable of one circuit branches, walked from its feed: stretches, tees and end seals.
#pragma once

#include <span>
#include <vector>

#include "piping/network.hpp"
#include "power/expect.hpp"

namespace firstdraw::power {

struct CircuitCable {
  std::vector<CableStretch> stretches;  // one for each run, from the feed outwards: parents come first
  std::vector<int> run_position;        // like stretches: the stretch lies on runs[run_position]
  std::vector<int> far_node;            // like stretches: the end away from the feed
  std::vector<int> tee_nodes;  // one entry for each tee kit: a node where three cables leave is listed twice
  std::vector<int> end_nodes;  // one for each end seal; always one more than the tees
};

/// `runs`: of one circuit, connected, at least one; `cable_length_m` of each, like `runs`. `feed_node`: any
/// node of the circuit; from one inside it the cable leaves along several runs, also against the water. Runs
/// that leave one node are taken in the order given. Several passes on a run are taken one after the other: a
/// bound on the fall of voltage for every way of laying them. Throws std::logic_error when a run cannot be
/// reached from the feed.
CircuitCable circuit_cable(const piping::Network& network, std::span<const int> runs,
                           std::span<const double> cable_length_m, int feed_node);

}  // namespace firstdraw::power
