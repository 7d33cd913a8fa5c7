#include "power/circuit_cable.hpp"

#include <stdexcept>
#include <unordered_map>

namespace firstdraw::power {

namespace {

using piping::at;

class Walk {
 public:
  Walk(const piping::Network& network, std::span<const int> runs, std::span<const double> cable_length_m)
      : network_(network), runs_(runs), length_m_(cable_length_m) {
    for (std::size_t i = 0; i < runs.size(); ++i)
      for (const int node : {from(i), to(i)}) meeting_[node].push_back(static_cast<int>(i));
  }

  CircuitCable from_feed(int feed_node) {
    leave(feed_node, piping::none, piping::none);
    while (!waiting_.empty()) {
      const Step step = waiting_.back();
      waiting_.pop_back();
      const int stretch = static_cast<int>(cable_.stretches.size());
      if (at(stretch) == runs_.size()) throw std::logic_error("a circuit with a loop");
      cable_.stretches.push_back({step.parent, length_m_[at(step.run)]});
      cable_.run_position.push_back(step.run);
      cable_.far_node.push_back(step.node);
      leave(step.node, stretch, step.run);
    }
    if (cable_.stretches.size() != runs_.size()) throw std::logic_error("a circuit away from its feed");
    return std::move(cable_);
  }

 private:
  /// A run about to be walked, by its position, to its far node.
  struct Step {
    int run = 0, parent = piping::none, node = piping::none;
  };

  int from(std::size_t i) const { return network_.from_node[at(runs_[i])]; }
  int to(std::size_t i) const { return network_.to_node[at(runs_[i])]; }

  void leave(int node, int stretch, int arrived_on) {
    const auto& meeting = meeting_[node];
    int leaving = 0;
    for (auto run = meeting.rbegin(); run != meeting.rend(); ++run) {
      if (*run == arrived_on) continue;
      ++leaving;
      waiting_.push_back({*run, stretch, from(at(*run)) == node ? to(at(*run)) : from(at(*run))});
    }
    if (leaving == 0) cable_.end_nodes.push_back(node);
    for (int tee = 1; tee < leaving; ++tee) cable_.tee_nodes.push_back(node);
  }

  const piping::Network& network_;
  std::span<const int> runs_;
  std::span<const double> length_m_;
  std::unordered_map<int, std::vector<int>> meeting_;  // by node
  std::vector<Step> waiting_;
  CircuitCable cable_;
};

}  // namespace

CircuitCable circuit_cable(const piping::Network& network, std::span<const int> runs,
                           std::span<const double> cable_length_m, int feed_node) {
  return Walk(network, runs, cable_length_m).from_feed(feed_node);
}

}  // namespace firstdraw::power
