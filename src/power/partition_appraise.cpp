#include "power/partition_appraise.hpp"

#include <algorithm>
#include <map>
#include <stdexcept>

namespace firstdraw::power::partition {

namespace {

/// Nodes of a circuit with the number of its cables that meet there.
std::map<int, int> cables_at_nodes(const Site& site, const std::vector<int>& edges) {
  std::map<int, int> cables;
  for (const int edge : edges) {
    ++cables[site.near_end(edge)];
    ++cables[far_end(edge)];
  }
  return cables;
}

void count_kits(const Site& site, const std::map<int, int>& cables, Circuit& circuit) {
  for (const auto& [node, count] : cables) {
    const bool fed = node == circuit.feed_node;
    circuit.tees += std::max(0, fed ? count - 1 : count - 2);
    circuit.ends += !fed && count == 1 ? 1 : 0;
    circuit.splices += !fed && count == 2 && site.spliced(node) ? 1 : 0;
  }
}

/// The node whose feed costs least with all that depends on it; of equals the one that comes first along the
/// pipes.
int best_feed(const Site& site, int kind, const std::vector<int>& edges, const std::map<int, int>& cables) {
  std::vector<int> nodes{site.near_end(edges.front())};
  for (const int edge : edges) nodes.push_back(far_end(edge));
  Grain least = never;
  int best = none;
  for (const int node : nodes) {
    const int count = cables.at(node);
    const Grain cost = site.feed(kind, node) + site.kits(node, count, true) - site.kits(node, count, false);
    if (cost < least) least = cost, best = node;
  }
  return best;
}

void set_cost(const Site& site, Grain load_nm, Circuit& circuit) {
  const Costs& each = site.problem.costs;
  const Kind& kind = site.problem.kinds[at(circuit.kind)];
  circuit.cost.connections = each.connection;
  circuit.cost.tees = circuit.tees * each.tee;
  circuit.cost.ends = circuit.ends * each.end;
  circuit.cost.splices = circuit.splices * each.splice;
  circuit.cost.spare = in_units(site.tariffs[at(circuit.kind)].spare(load_nm));
  if (circuit.rating != none) circuit.cost.breakers = kind.ratings[at(circuit.rating)].cost;
  if (circuit.feed_node != none) circuit.cost.feeders = kind.feed_cost[at(circuit.feed_node)];
}

Circuit circuit_of(const Site& site, const std::vector<int>& edges) {
  Circuit circuit;
  circuit.edges = edges;
  circuit.kind = site.kind(edges.front());
  const auto cables = cables_at_nodes(site, edges);
  if (cables.size() != edges.size() + 1) throw std::logic_error("a circuit that is not connected");
  Grain load_nm = 0;
  for (const int edge : edges) {
    if (site.kind(edge) != circuit.kind) throw std::logic_error("a circuit of several kinds");
    load_nm += site.length_nm[at(edge)];
    circuit.length_m += site.problem.edges[at(edge)].length_m;
  }
  const Tariff& tariff = site.tariff(edges.front());
  circuit.over_length = load_nm > tariff.longest_nm();
  circuit.rating = tariff.rating(load_nm);
  circuit.feed_node = best_feed(site, circuit.kind, edges, cables);
  count_kits(site, cables, circuit);
  set_cost(site, load_nm, circuit);
  return circuit;
}

}  // namespace

double in_units(Grain cost) { return static_cast<double>(cost) * 1e-6; }

std::vector<int> in_order(const Site& site, const std::vector<int>& circuit_of_edge) {
  std::map<int, int> number;
  std::vector<int> renumbered(circuit_of_edge.size(), none);
  for (const int edge : site.order) {
    const int circuit = circuit_of_edge[at(edge)];
    if (circuit != none)
      renumbered[at(edge)] = number.emplace(circuit, static_cast<int>(number.size())).first->second;
  }
  return renumbered;
}

std::vector<Circuit> appraise(const Site& site, const std::vector<int>& circuit_of_edge) {
  std::vector<std::vector<int>> edges_of;
  for (const int edge : site.order) {
    const int circuit = circuit_of_edge[at(edge)];
    if (circuit == none) continue;
    if (at(circuit) >= edges_of.size()) edges_of.resize(at(circuit) + 1);
    edges_of[at(circuit)].push_back(edge);
  }
  std::vector<Circuit> circuits;
  for (const auto& edges : edges_of)
    if (!edges.empty()) circuits.push_back(circuit_of(site, edges));
  return circuits;
}

std::vector<Circuit> appraise(const Problem& problem, const std::vector<int>& circuit_of_edge) {
  const Site site(problem);
  return appraise(site, in_order(site, circuit_of_edge));
}

double change_cost(const Site& site, const Partition& partition) {
  Grain cost = 0;
  const auto meet = [&](int a, int b) {
    if (site.kind(a) == none || site.kind(a) != site.kind(b)) return;
    const bool together = partition.circuit_of_edge[at(a)] == partition.circuit_of_edge[at(b)];
    cost += together ? site.joining_cost(a, b) : site.parting_cost(a, b);
  };
  for (const int edge : site.order) {
    const int parent = site.problem.edges[at(edge)].parent;
    if (parent != none) meet(parent, edge);
    for (const int sibling : site.leaving(site.near_end(edge)))
      if (sibling != edge && site.problem.edges[at(sibling)].key < site.problem.edges[at(edge)].key)
        meet(sibling, edge);
  }
  const double each = site.problem.previous.change_cost;
  const auto moved =
      std::count_if(partition.circuits.begin(), partition.circuits.end(), [&](const Circuit& circuit) {
        return site.has_former_feeds() && !site.was_feed(circuit.kind, circuit.feed_node);
      });
  return in_units(cost) + each * static_cast<double>(moved);
}

Cost& Cost::operator+=(const Cost& other) {
  connections += other.connections;
  breakers += other.breakers;
  feeders += other.feeders;
  tees += other.tees;
  ends += other.ends;
  splices += other.splices;
  spare += other.spare;
  return *this;
}

}  // namespace firstdraw::power::partition
