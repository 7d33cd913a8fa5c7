#include "power/partition_site.hpp"

#include <algorithm>
#include <cstdlib>
#include <numeric>
#include <stdexcept>

namespace firstdraw::power::partition {

namespace {

int root(std::vector<int>& up, int i) {
  while (up[at(i)] != i) i = up[at(i)] = up[at(up[at(i)])];
  return i;
}

std::vector<int> each_alone(std::size_t size) {
  std::vector<int> up(size);
  std::iota(up.begin(), up.end(), 0);
  return up;
}

}  // namespace

Site::Site(const Problem& of)
    : problem(of),
      tee_(millionths(of.costs.tee)),
      end_(millionths(of.costs.end)),
      splice_(millionths(of.costs.splice)),
      connection_(millionths(of.costs.connection)),
      change_(millionths(of.previous.change_cost)) {
  check();
  for (const Edge& edge : of.edges) length_nm.push_back(nanometres(edge.length_m));
  for (const Kind& kind : of.kinds) tariffs.emplace_back(kind, of.costs);
  arrange();
  remember_feeds();
  const std::size_t edges = of.edges.size();
  marks.assign(edges, 0);
  alive.assign(edges, 0);
  taken_.assign(edges + 1, 0);
  bonded_ = each_alone(edges);
  std::vector<int> ends = each_alone(2 * edges);
  bond_near_.swap(ends);
  for (const auto& together : of.pins.together) keep_together(together);
  check_bonded();
  for (const auto& [a, b] : of.pins.apart) keep_apart(a, b);
  bond_far_.resize(edges);
  std::vector<int> near(edges);
  for (std::size_t i = 0; i < edges; ++i) {
    near[i] = root(bond_near_, static_cast<int>(2 * i));
    bond_far_[i] = root(bond_near_, static_cast<int>(2 * i + 1));
  }
  bond_near_.swap(near);
}

void Site::check() const {
  const std::size_t nodes = problem.edges.size() + 1;
  const int edges = static_cast<int>(problem.edges.size()), kinds = static_cast<int>(problem.kinds.size());
  std::set<std::string> keys;
  for (const Edge& edge : problem.edges) {
    if (edge.parent < none || edge.parent >= edges) throw std::logic_error("an edge on no edge");
    if (edge.kind < none || edge.kind >= kinds) throw std::logic_error("an edge of no kind");
    if (!(edge.length_m >= 0)) throw std::logic_error("an edge of no length");
    if (!keys.insert(edge.key).second) throw std::logic_error("two edges of one key: " + edge.key);
  }
  for (const Kind& kind : problem.kinds)
    if (kind.feed_cost.size() != nodes) throw std::logic_error("feed costs are not one for each node");
  if (!problem.spliced.empty() && problem.spliced.size() != nodes)
    throw std::logic_error("splices are not told of each node");
  if (!problem.previous.circuit_of_edge.empty() && problem.previous.circuit_of_edge.size() + 1 != nodes)
    throw std::logic_error("the previous layout is not one of these edges");
}

void Site::arrange() {
  const std::size_t edges = problem.edges.size();
  std::vector<int> by_key = each_alone(edges);
  std::sort(by_key.begin(), by_key.end(),
            [&](int a, int b) { return problem.edges[at(a)].key < problem.edges[at(b)].key; });
  first_leaving_.assign(edges + 2, 0);
  for (const int edge : by_key) ++first_leaving_[at(near_end(edge) + 1)];
  std::partial_sum(first_leaving_.begin(), first_leaving_.end(), first_leaving_.begin());
  leaving_.resize(edges);
  std::vector<int> next = first_leaving_;
  for (const int edge : by_key) leaving_[at(next[at(near_end(edge))]++)] = edge;

  depth_.assign(edges, 0);
  std::vector<int> waiting(leaving(0).rbegin(), leaving(0).rend());
  while (!waiting.empty()) {
    const int edge = waiting.back();
    waiting.pop_back();
    order.push_back(edge);
    const auto branches = leaving(far_end(edge));
    for (const int branch : branches) depth_[at(branch)] = depth_[at(edge)] + 1;
    waiting.insert(waiting.end(), branches.rbegin(), branches.rend());
  }
  if (order.size() != edges) throw std::logic_error("edges in a loop");
}

std::span<const int> Site::leaving(int node) const {
  return std::span(leaving_).subspan(at(first_leaving_[at(node)]),
                                     at(first_leaving_[at(node) + 1] - first_leaving_[at(node)]));
}

/// The edges from one to the other, both included, each meeting the next.
std::vector<int> Site::way(int a, int b) const {
  const auto parent = [this](int edge) { return problem.edges[at(edge)].parent; };
  std::vector<int> up{a}, down{b};
  while (near_end(up.back()) != near_end(down.back()) && up.back() != down.back()) {
    auto& deeper = depth_[at(up.back())] >= depth_[at(down.back())] ? up : down;
    deeper.push_back(parent(deeper.back()));
  }
  if (up.back() == down.back()) down.pop_back();
  up.insert(up.end(), down.rbegin(), down.rend());
  return up;
}

bool Site::of_one_kind(const std::vector<int>& edges) const {
  return std::all_of(edges.begin(), edges.end(),
                     [&](int edge) { return kind(edge) != none && kind(edge) == kind(edges.front()); });
}

/// Until the end of construction bond_near_ is a union-find over both ends of all edges.
void Site::bond(int a, int b) {
  if (problem.edges[at(a)].parent == b) std::swap(a, b);
  const bool follows = problem.edges[at(b)].parent == a;
  bond_near_[at(root(bond_near_, 2 * a + (follows ? 1 : 0)))] = root(bond_near_, 2 * b);
  bonded_[at(root(bonded_, a))] = root(bonded_, b);
}

void Site::keep_together(const std::vector<int>& edges) {
  for (const int edge : edges) {
    const std::vector<int> between = way(edges.front(), edge);
    if (!of_one_kind(between)) {
      conflicts.push_back({Conflict::Reason::unlike, edges});
      return;
    }
    for (std::size_t i = 1; i < between.size(); ++i) bond(between[i - 1], between[i]);
  }
}

void Site::check_bonded() {
  std::vector<std::vector<int>> circuits(problem.edges.size());
  for (const int edge : order) circuits[at(circuit_of(edge))].push_back(edge);
  for (const int first : order) {
    const auto& edges = circuits[at(circuit_of(first))];
    if (edges.size() < 2 || edges.front() != first) continue;
    Grain total_nm = 0;
    for (const int edge : edges) total_nm += length_nm[at(edge)];
    if (total_nm > tariff(first).longest_nm()) conflicts.push_back({Conflict::Reason::too_long, edges});
  }
}

int Site::circuit_of(int edge) { return root(bonded_, edge); }

/// One bit stands for the pair on every edge between; pairs whose ways do not meet may use the same.
void Site::keep_apart(int a, int b) {
  if (a == b || circuit_of(a) == circuit_of(b)) {
    conflicts.push_back({Conflict::Reason::pinned_apart, {a, b}});
    return;
  }
  const std::vector<int> between = way(a, b);
  Grain total_nm = 0;
  std::uint64_t taken = 0;
  for (const int edge : between) {
    total_nm += length_nm[at(edge)];
    taken |= taken_[at(near_end(edge))] | taken_[at(far_end(edge))];
  }
  if (!of_one_kind(between) || total_nm > tariff(a).longest_nm()) return;  // never on one circuit anyway
  int slot = 0;
  while (slot < mark_slots && (taken >> slot & 1u) != 0) ++slot;
  if (slot == mark_slots) {
    parted.insert(std::minmax(between[0], between[1]));
    return;
  }
  const std::uint64_t bit = std::uint64_t{1} << slot;
  marks[at(a)] |= bit;
  marks[at(b)] |= bit;
  for (const int edge : between) {
    taken_[at(near_end(edge))] |= bit;
    taken_[at(far_end(edge))] |= bit;
    alive[at(edge)] |= bit;
  }
  // A pair of which one is upstream of the other is settled once that edge is passed.
  const int upper = depth_[at(a)] < depth_[at(b)] ? a : b;
  if (between.size() == at(std::abs(depth_[at(a)] - depth_[at(b)])) + 1) alive[at(upper)] &= ~bit;
}

void Site::remember_feeds() {
  const Previous& previous = problem.previous;
  for (std::size_t i = 0; i < previous.circuit_of_edge.size(); ++i) {
    const int circuit = previous.circuit_of_edge[i];
    if (circuit < 0 || at(circuit) >= previous.feed_node_of_circuit.size()) continue;
    former_feeds_.insert({problem.edges[i].kind, previous.feed_node_of_circuit[at(circuit)]});
  }
}

Grain Site::feed(int kind, int node) const {
  const Grain change = !has_former_feeds() || was_feed(kind, node) ? 0 : change_;
  const Grain feeder = millionths(problem.kinds[at(kind)].feed_cost[at(node)]);
  return feeder >= never ? never : connection_ + feeder + change;
}

Grain Site::kits(int node, int cables, bool fed) const {
  if (fed) return (cables - 1) * tee_;
  if (cables == 1) return end_;
  if (cables == 2) return spliced(node) ? splice_ : 0;
  return (cables - 2) * tee_;
}

bool Site::feeds_are_dear() const {
  const bool splices_are_cheap = problem.spliced.empty() || splice_ <= tee_;
  return splices_are_cheap && std::all_of(tariffs.begin(), tariffs.end(), [this](const Tariff& tariff) {
           return tariff.least_feed() >= end_;
         });
}

Grain Site::parting_cost(int edge, int other) const {
  if (problem.previous.circuit_of_edge.empty()) return 0;
  const int a = problem.previous.circuit_of_edge[at(edge)], b = problem.previous.circuit_of_edge[at(other)];
  return a != none && a == b ? change_ : 0;
}

Grain Site::joining_cost(int edge, int other) const {
  if (!parted.empty() && parted.contains(std::minmax(edge, other))) return 2 * never;
  if (problem.previous.circuit_of_edge.empty()) return 0;
  const int a = problem.previous.circuit_of_edge[at(edge)], b = problem.previous.circuit_of_edge[at(other)];
  return a != none && b != none && a != b ? change_ : 0;
}

}  // namespace firstdraw::power::partition
