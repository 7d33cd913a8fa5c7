#include "power/division.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "power/circuit_pins.hpp"
#include "power/id_index.hpp"
#include "power/partition.hpp"
#include "power/pipe_tree.hpp"
#include "power/pipe_walk.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

bool has_prices(const job::Economics& money) {
  return money.connection_cost > 0 || money.tee_cost > 0 || money.end_cost > 0 ||
         money.wiring_cost_per_m > 0 || money.breaker_cost_per_a > 0 || money.spare_cost_per_m > 0 ||
         money.change_cost > 0;
}

class Divider {
 public:
  Divider(const job::Job& job, const piping::Network& network,
          const std::vector<physics::HeatingCable>& cables, const std::vector<RunCable>& runs)
      : job_(job),
        network_(network),
        runs_(runs),
        kinds_(circuit_kinds(job, network, cables, runs)),
        tree_(pipe_tree(job, network, runs)) {}

  DividedJob divided() {
    const partition::Problem problem = posed();
    CircuitPins pins(job_, network_, runs_, kinds_, tree_);
    const partition::Partition best = solved(problem, pins);
    DividedJob made;
    made.circuits = listed(best);
    made.division = summed(best);
    add_conflicts(pins.sentences(), made.division);
    made.kinds = std::move(kinds_.all);
    return made;
  }

 private:
  partition::Problem posed() {
    partition::Problem problem;
    for (std::size_t edge = 0; edge < tree_.edges.size(); ++edge)
      tree_.edges[edge].kind = kinds_.of_run[at(tree_.run_of_edge[edge])];
    problem.edges = tree_.edges;
    const job::Economics& money = job_.economics;
    problem.costs = {money.connection_cost, money.tee_cost, money.end_cost, 0};
    if (!has_prices(money)) problem.costs.connection = 1;
    std::vector<std::vector<double>> feed_cost_of_panel(job_.panels.size());
    for (const CircuitKind& kind : kinds_.all) {
      auto& feed_cost = feed_cost_of_panel[at(kind.panel)];
      if (feed_cost.empty()) feed_cost = feed_costs(job_.panels[at(kind.panel)]);
      problem.kinds.push_back(priced(kind, feed_cost));
    }
    if (money.change_cost > 0) problem.previous = previous();
    return problem;
  }

  /// By node of the tree.
  std::vector<double> feed_costs(const job::Panel& panel) const {
    const std::vector<double> length_m = feeder_lengths_m(job_, network_, panel);
    std::vector<double> cost;
    for (const int node : tree_.network_node)
      cost.push_back(node == piping::none ? 0 : job_.economics.wiring_cost_per_m * length_m[at(node)]);
    return cost;
  }

  partition::Kind priced(const CircuitKind& kind, const std::vector<double>& feed_cost) const {
    partition::Kind made;
    for (const Rating& rating : kind.limits.ratings)
      made.ratings.push_back({rating.breaker_a, std::min(rating.longest_m(), kind.limits.leakage_m),
                              job_.economics.breaker_cost_per_a * rating.breaker_a});
    made.spare_frac = job_.design.spare_frac;
    made.spare_cost_per_m = job_.economics.spare_cost_per_m;
    made.feed_cost = feed_cost;
    if (kind.fixed != piping::none)
      fix(kind, made);
    else
      keep_off_taps(made);
    return made;
  }

  /// A power connection has to stay within reach: none where a pipe ends at a tap, in the wall behind it
  /// (common practice, no source). The other end of such a run is always left.
  void keep_off_taps(partition::Kind& made) const {
    for (const job::Outlet& outlet : job_.outlets) {
      const int node = network_.node(outlet.node);
      const int tree_node = node == piping::none ? piping::none : tree_.tree_node[at(node)];
      if (tree_node != piping::none && network_.downstream_of(node).empty())
        made.feed_cost[at(tree_node)] = std::numeric_limits<double>::infinity();
    }
  }

  /// A fixed circuit stands: it has its feed, and one breaker carries it whatever the limits say.
  void fix(const CircuitKind& kind, partition::Kind& made) const {
    const job::KnownCircuit& known = job_.known_circuits[at(kind.fixed)];
    const std::size_t feed = at(tree_.tree_node[at(network_.node(known.feed_node))]);
    const double cost = made.feed_cost[feed];
    made.feed_cost.assign(made.feed_cost.size(), std::numeric_limits<double>::infinity());
    made.feed_cost[feed] = cost;
    double cable_m = 0;
    for (const std::string& id : known.runs) cable_m += runs_[at(run_index_.find(id))].cable_length_m;
    const double breaker_a = kind.limits.rating_for(cable_m).breaker_a;
    for (partition::RatingLimit& rating : made.ratings)
      if (rating.breaker_a == breaker_a) rating.longest_m = std::max(rating.longest_m, cable_m * (1 + 1e-6));
  }

  partition::Previous previous() const {
    partition::Previous previous;
    previous.change_cost = job_.economics.change_cost;
    if (job_.known_circuits.empty()) return previous;
    previous.circuit_of_edge.assign(tree_.edges.size(), partition::none);
    for (std::size_t c = 0; c < job_.known_circuits.size(); ++c) {
      const job::KnownCircuit& known = job_.known_circuits[c];
      const int feed = network_.node(known.feed_node);
      previous.feed_node_of_circuit.push_back(feed == piping::none ? partition::none
                                                                   : tree_.tree_node[at(feed)]);
      for (const std::string& id : known.runs) {
        const int run = run_index_.find(id);
        if (run == piping::none || tree_.edge_of_run[at(run)] == partition::none) continue;
        previous.circuit_of_edge[at(tree_.edge_of_run[at(run)])] = static_cast<int>(c);
      }
    }
    return previous;
  }

  static partition::Partition solved(partition::Problem problem, CircuitPins& pins) {
    for (;;) {
      problem.pins = pins.pins();
      partition::Partition best = partition::divide(problem);
      if (best.possible) return best;
      pins.leave_out(best.conflicts);
    }
  }

  std::vector<DividedCircuit> listed(const partition::Partition& best) const {
    std::vector<DividedCircuit> circuits;
    std::vector<int> place(best.circuits.size(), piping::none);
    for (const int run : along_the_pipes(network_)) {
      const int circuit = best.circuit_of_edge[at(tree_.edge_of_run[at(run)])];
      if (circuit == partition::none) continue;
      int& slot = place[at(circuit)];
      if (slot == piping::none) {
        slot = static_cast<int>(circuits.size());
        circuits.push_back(made_from(best.circuits[at(circuit)]));
      }
      circuits[at(slot)].runs.push_back(run);
    }
    std::ranges::stable_sort(
        circuits, {}, [this](const DividedCircuit& circuit) { return kinds_.all[at(circuit.kind)].panel; });
    return circuits;
  }

  DividedCircuit made_from(const partition::Circuit& circuit) const {
    DividedCircuit made;
    made.kind = circuit.kind;
    made.feed_node = tree_.network_node[at(circuit.feed_node)];
    made.cable_length_m = circuit.length_m;
    made.breaker_a = breaker_a(circuit);
    return made;
  }

  /// A run that is too long for every breaker still gets one that carries its current, if there is any.
  double breaker_a(const partition::Circuit& circuit) const {
    const CircuitLimits& limits = kinds_.all[at(circuit.kind)].limits;
    const bool beyond = circuit.over_length || circuit.rating == partition::none;
    return beyond ? limits.rating_for(circuit.length_m).breaker_a
                  : limits.ratings[at(circuit.rating)].breaker_a;
  }

  /// What the breakers of such runs cost beyond what the division counted.
  double unforeseen_cost(const partition::Partition& best) const {
    double cost = 0;
    for (const partition::Circuit& circuit : best.circuits)
      cost += job_.economics.breaker_cost_per_a * breaker_a(circuit) - circuit.cost.breakers;
    return cost;
  }

  Division summed(const partition::Partition& best) const {
    Division division;
    division.exact = best.exact;
    if (!has_prices(job_.economics)) return division;
    const double unforeseen = unforeseen_cost(best);
    division.cost = best.cost.total() + unforeseen;
    division.change_cost = best.change_cost;
    division.lower_bound = std::min(best.lower_bound, best.objective()) + unforeseen;
    return division;
  }

  void add_conflicts(const std::vector<std::string>& of_pins, Division& division) const {
    division.conflicts = kinds_.conflicts;
    division.conflicts.insert(division.conflicts.end(), of_pins.begin(), of_pins.end());
    if (network_.order.empty()) return;
    for (const job::Panel& panel : job_.panels)
      for (const std::string& node : panel.nodes)
        if (!hangs_on_the_supply(network_, node))
          division.conflicts.push_back(
              fmt::format("Panel {} stands near node {}, which hangs on no run from the supply: no wiring is "
                          "counted from there.",
                          panel.id, node));
  }

  const job::Job& job_;
  const piping::Network& network_;
  const std::vector<RunCable>& runs_;
  CircuitKinds kinds_;
  PipeTree tree_;
  IdIndex run_index_{job_.runs};
};

}  // namespace

DividedJob divide_job(const job::Job& job, const piping::Network& network,
                      const std::vector<physics::HeatingCable>& cables, const std::vector<RunCable>& runs) {
  return Divider(job, network, cables, runs).divided();
}

}  // namespace firstdraw::power
