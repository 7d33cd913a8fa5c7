#include "power/circuit_cable.hpp"

#include <map>

namespace firstdraw::power {

namespace {

using piping::at;

/// Of the stretches that leave each stretch, and the feed.
struct Leaving {
  std::vector<int> stretch;
  int feed = 0;
};

Leaving count_leaving(std::span<const CableStretch> stretches) {
  Leaving leaving{std::vector<int>(stretches.size(), 0)};
  for (const CableStretch& stretch : stretches)
    ++(stretch.parent == piping::none ? leaving.feed : leaving.stretch[at(stretch.parent)]);
  return leaving;
}

}  // namespace

CircuitCable circuit_cable(const piping::Network& network, std::span<const int> runs,
                           std::span<const double> cable_length_m) {
  CircuitCable cable;
  cable.feed_node = network.from_node[at(runs.front())];
  std::map<int, int> position;  // of a run within the circuit
  for (std::size_t i = 0; i < runs.size(); ++i) {
    position.emplace(runs[i], static_cast<int>(i));
    const auto upstream = position.find(network.upstream_run[at(runs[i])]);
    const bool at_feed = network.from_node[at(runs[i])] == cable.feed_node || upstream == position.end();
    cable.stretches.push_back({at_feed ? piping::none : upstream->second, cable_length_m[i]});
  }
  const Leaving leaving = count_leaving(cable.stretches);
  cable.tee_nodes.assign(at(leaving.feed - 1), cable.feed_node);
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const int node = network.to_node[at(runs[i])];
    if (leaving.stretch[i] == 0)
      cable.end_nodes.push_back(node);
    else
      cable.tee_nodes.insert(cable.tee_nodes.end(), at(leaving.stretch[i] - 1), node);
  }
  return cable;
}

}  // namespace firstdraw::power
