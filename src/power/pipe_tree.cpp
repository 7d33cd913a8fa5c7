#include "power/pipe_tree.hpp"

#include <algorithm>

namespace firstdraw::power {

namespace {

using piping::at;

void number_edges(const piping::Network& network, PipeTree& tree) {
  tree.edge_of_run.assign(network.reached.size(), piping::none);
  tree.tree_node.assign(network.node_ids.size(), piping::none);
  tree.network_node.push_back(network.supply_node);
  if (network.supply_node != piping::none) tree.tree_node[at(network.supply_node)] = 0;
  for (std::size_t run = 0; run < network.reached.size(); ++run) {
    if (!network.reached[run]) continue;
    tree.edge_of_run[run] = static_cast<int>(tree.run_of_edge.size());
    tree.run_of_edge.push_back(static_cast<int>(run));
    tree.network_node.push_back(network.to_node[run]);
    tree.tree_node[at(network.to_node[run])] = static_cast<int>(tree.run_of_edge.size());
  }
}

}  // namespace

PipeTree pipe_tree(const job::Job& job, const piping::Network& network, const std::vector<RunCable>& runs) {
  PipeTree tree;
  number_edges(network, tree);
  for (const int run : tree.run_of_edge) {
    const int upstream = network.upstream_run[at(run)];
    tree.edges.push_back({upstream == piping::none ? partition::none : tree.edge_of_run[at(upstream)],
                          std::max(0.0, runs[at(run)].cable_length_m), partition::none,
                          job.runs[at(run)].id});
  }
  return tree;
}

std::vector<int> PipeTree::way(int from, int to) const {
  if (from == to) return {from};
  std::vector<int> up, down;
  for (int edge = from; edge != partition::none; edge = edges[at(edge)].parent) up.push_back(edge);
  for (int edge = to; edge != partition::none; edge = edges[at(edge)].parent) down.push_back(edge);
  while (!up.empty() && !down.empty() && up.back() == down.back()) {
    up.pop_back();
    down.pop_back();
  }
  if (up.empty()) up.push_back(from);  // one lies upstream of the other
  if (down.empty()) down.push_back(to);
  up.insert(up.end(), down.rbegin(), down.rend());
  return up;
}

}  // namespace firstdraw::power
