// The branches of one kind that leave one node: which stay with the run that feeds them, which share circuits
// of their own.
#pragma once

#include "power/partition_frontier.hpp"

namespace firstdraw::power::partition {

struct Choice {
  Grain cost = 0;
  Step step = start;
};

/// Branches at a node that must share a circuit, mostly one alone.
struct Unit {
  std::vector<int> edges;
  bool with_upstream = false;
};

/// What a junction works with. `open`: by edge, the frontier of the circuit that holds it.
struct Bench {
  const Site& site;
  Trail& trail;
  Sieve& sieve;
  const std::vector<Frontier>& open;
};

/// Tries every division of the units into groups: 3^units steps.
class Junction {
 public:
  /// `upstream`: the edge of the same kind that ends at the node, or none. `linear`: closed groups are priced
  /// by the length of each unit alone, a lower bound that lets the units of one node be seen one by one.
  Junction(const Bench& bench, int node, int upstream, std::vector<Unit> units, bool linear);

  /// Cheapest with every unit in a circuit of its own or shared with others of the junction.
  Choice all_closed() const { return closed_.back(); }
  /// One state for each way to leave some units, or none, to the circuit upstream, the others closed.
  Frontier joined() const;

 private:
  using Units = std::uint32_t;  // one bit for each
  void open_groups();
  Grain meeting(Units group, std::size_t unit) const;
  Grain meeting_upstream(Units group) const;
  Choice closed_alone(Units group) const;
  Grain closing_cost(const State& state, int cables) const;
  Grain linear_cost(const State& state, int cables) const;
  int cables(Units group) const;
  bool upstream_wants(Units group) const;

  const Bench bench_;
  int node_, upstream_;
  std::vector<Unit> units_;
  bool linear_;
  std::vector<Frontier> group_;  // by Units
  std::vector<Choice> closed_;   // by Units
};

}  // namespace firstdraw::power::partition
