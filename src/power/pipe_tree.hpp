// The runs reached from the supply as the tree of edges that power/partition.hpp divides.
#pragma once

#include <vector>

#include "power/circuits.hpp"
#include "power/partition.hpp"

namespace firstdraw::power {

struct PipeTree {
  std::vector<partition::Edge> edges;  // reached runs in file order; kinds not yet set
  std::vector<int> run_of_edge;        // like edges
  std::vector<int> edge_of_run;        // like job.runs; none: not reached

  /// Node of the network for a node of the tree, and back (none when the tree does not touch it).
  std::vector<int> network_node;  // [edges + 1]
  std::vector<int> tree_node;     // like network.node_ids

  /// Edges on the way from one to the other, both included, in order.
  std::vector<int> way(int from, int to) const;
};

PipeTree pipe_tree(const job::Job& job, const piping::Network& network, const std::vector<RunCable>& runs);

}  // namespace firstdraw::power
