#include "power/pipe_walk.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace firstdraw::power {

namespace {

using piping::at;

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// The reached run that ends at each node.
std::vector<int> feeding_runs(const piping::Network& network) {
  std::vector<int> feeding(network.node_ids.size(), piping::none);
  for (const int run : network.order) feeding[at(network.to_node[at(run)])] = run;
  return feeding;
}

/// Way from a node to each node of the tree, NaN outside it: first up to the supply, then down every branch.
std::vector<double> ways_m(const job::Job& job, const piping::Network& network, int from) {
  std::vector<double> way_m(network.node_ids.size(), unknown);
  const std::vector<int> feeding = feeding_runs(network);
  way_m[at(from)] = 0;
  for (int node = from; feeding[at(node)] != piping::none;) {
    const int run = feeding[at(node)], above = network.from_node[at(run)];
    way_m[at(above)] = way_m[at(node)] + job.runs[at(run)].length_m;
    node = above;
  }
  for (const int run : network.order) {
    double& there_m = way_m[at(network.to_node[at(run)])];
    if (std::isnan(there_m)) there_m = way_m[at(network.from_node[at(run)])] + job.runs[at(run)].length_m;
  }
  return way_m;
}

}  // namespace

std::vector<int> along_the_pipes(const piping::Network& network) {
  std::vector<int> order, waiting;
  const auto wait = [&](int node, int upstream) {
    const auto leaving = network.downstream_of(node);
    for (auto run = leaving.rbegin(); run != leaving.rend(); ++run)
      if (network.reached[at(*run)] && network.upstream_run[at(*run)] == upstream) waiting.push_back(*run);
  };
  wait(network.supply_node, piping::none);
  while (!waiting.empty()) {
    const int run = waiting.back();
    waiting.pop_back();
    order.push_back(run);
    wait(network.to_node[at(run)], run);
  }
  return order;
}

bool hangs_on_the_supply(const piping::Network& network, const std::string& id) {
  const int node = network.node(id);
  if (node == piping::none) return false;
  if (node == network.supply_node) return !network.order.empty();
  const auto ends_there = [&](int run) { return network.to_node[at(run)] == node; };
  return std::ranges::any_of(network.order, ends_there);
}

std::vector<double> feeder_lengths_m(const job::Job& job, const piping::Network& network,
                                     const job::Panel& panel) {
  std::vector<double> length_m(network.node_ids.size(), panel.feeder_length_m);
  std::vector<double> shortest_m(length_m.size(), unknown);
  for (const std::string& id : panel.nodes) {
    if (!hangs_on_the_supply(network, id)) continue;
    const std::vector<double> way_m = ways_m(job, network, network.node(id));
    std::ranges::transform(shortest_m, way_m, shortest_m.begin(),
                           [](double a, double b) { return std::fmin(a, b); });
  }
  for (std::size_t node = 0; node < length_m.size(); ++node)
    if (!std::isnan(shortest_m[node])) length_m[node] += shortest_m[node];
  return length_m;
}

}  // namespace firstdraw::power
