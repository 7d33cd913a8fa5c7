// Ways along the pipes: the order in which one walks them, and how far a panel is from each node.
#pragma once

#include <vector>

#include "job/job.hpp"
#include "piping/network.hpp"

namespace firstdraw::power {

/// Reached runs, every run after its upstream run, each branch to its end before the next; branches of a node
/// in file order.
std::vector<int> along_the_pipes(const piping::Network& network);

/// Wiring from `panel` to a power connection at each node of the network, one way, m: the panel's
/// feeder_length_m; where the panel says near which nodes it stands, that and the shortest way along the
/// pipes from one of them, for wiring is taken to follow them (an estimate, no source). Nodes with no way to
/// the panel, and all of them when its nodes are unknown: feeder_length_m alone.
std::vector<double> feeder_lengths_m(const job::Job& job, const piping::Network& network,
                                     const job::Panel& panel);

/// A run reached from the supply touches the node.
bool hangs_on_the_supply(const piping::Network& network, const std::string& node);

}  // namespace firstdraw::power
