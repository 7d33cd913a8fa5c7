// The cheapest division of the traced piping into circuits: which runs share one, where each is connected, on
// which breaker. Exact for trees of pipes: dynamic programming from the ends of the tree upwards, where a
// circuit still open at a node is known by its length so far and the cost below, and only states that no
// other beats in both are kept. See docs/circuits-layout.md for the model, the proof and its limits.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace firstdraw::power::partition {

inline constexpr int none = -1;

/// One run of pipe. Nodes are numbered: 0 is the supply, i + 1 the far end of edge i.
struct Edge {
  int parent = none;    // the edge upstream; none: it leaves the supply
  double length_m = 0;  // cable on it, allowances included
  int kind = none;      // index into kinds; none: not traced
  std::string key;      // stable and unique: equal costs are decided by it, never by position
};

/// One breaker that may feed a circuit; `longest_m` is the least of what the data sheet, the settled current
/// and the standing leakage allow, 0 or less when the rating may not be used.
struct RatingLimit {
  double breaker_a = 0;
  double longest_m = 0;
  double cost = 0;
};

/// What may share a circuit: same cable, group and panel, and the same level or space class where these are
/// kept apart.
struct Kind {
  std::vector<RatingLimit> ratings;
  std::vector<double> feed_cost;  // [edges + 1] feeder and connection box at a node; infinite: none may be
                                  // placed there
  double spare_frac = 0;          // share of a breaker's length one would rather leave free
  double spare_cost_per_m = 0;    // of cable that uses it all the same
};

/// Money in any unit.
struct Costs {
  double connection = 0;  // of every circuit: power connection kit, its entry in the panel, commissioning
  double tee = 0, end = 0, splice = 0;
};

struct Pins {
  std::vector<std::vector<int>> together;  // each list on one circuit, with the edges between them
  std::vector<std::pair<int, int>> apart;  // never on one circuit
};

/// A layout to stay close to. Every pair of edges that meet and were, or now are, on one circuit and are no
/// longer, or were not, costs `change_cost`; so does a feed at a node that fed no circuit of its kind. Keep
/// it small beside the other costs and it decides only between layouts that are nearly equal.
struct Previous {
  std::vector<int> circuit_of_edge;  // like edges; none: new, free to join. Empty: no previous layout
  std::vector<int> feed_node_of_circuit;
  double change_cost = 0;
};

/// Where the exact search stops and a bound takes its place.
struct Effort {
  std::size_t most_states = 20000;  // kept of one open circuit
  int most_branches = 12;           // of one kind at one node, divided into circuits in every possible way
};

struct Problem {
  std::vector<Edge> edges;
  std::vector<Kind> kinds;
  Costs costs;
  std::vector<char> spliced;  // [edges + 1] or empty: cable that passes through the node needs a splice kit
  Pins pins;
  Previous previous;
  Effort effort;
};

struct Cost {
  double connections = 0, breakers = 0, feeders = 0, tees = 0, ends = 0, splices = 0, spare = 0;
  double total() const { return connections + breakers + feeders + tees + ends + splices + spare; }
  Cost& operator+=(const Cost& other);
};

struct Circuit {
  std::vector<int> edges;  // upstream first
  int kind = none;
  int feed_node = 0;
  int rating = none;  // index into the kind's ratings
  double length_m = 0;
  int tees = 0, ends = 0, splices = 0;  // ends: always one more than the tees
  Cost cost;
  bool over_length = false;  // one edge longer than any breaker allows: to be fed or divided otherwise
};

/// Why pins cannot be kept.
struct Conflict {
  enum class Reason {
    unlike,       // edges pinned together are not traced, differ in kind or are parted by such an edge
    too_long,     // edges pinned together are longer than any breaker allows
    pinned_apart  // of edges pinned together two are pinned apart
  } reason{};
  std::vector<int> edges;
};

struct Partition {
  bool possible = false;            // false with conflicts, or where some edge can have no feed
  std::vector<Conflict> conflicts;  // in the order of the pins
  std::vector<Circuit> circuits;    // in the order of the pipes, branches by key
  std::vector<int> circuit_of_edge;
  Cost cost;
  double change_cost = 0;  // against the previous layout
  double lower_bound = 0;  // no layout has a smaller cost and change cost together
  bool exact = true;       // the bound is the cost: no layout is cheaper
  std::size_t states = 0;  // kept in all: a measure of the work
  double objective() const { return cost.total() + change_cost; }
};

/// The cheapest layout. Lengths count in whole nanometres and costs in millionths, so that sums do not depend
/// on their order. Throws std::logic_error when the edges are no tree, keys repeat or a vector has the wrong
/// length.
Partition divide(const Problem& problem);

/// What a given division costs with the best feed and breaker for each circuit, in the order of
/// `circuit_of_edge`. Throws std::logic_error when a circuit is not connected or mixes kinds.
std::vector<Circuit> appraise(const Problem& problem, const std::vector<int>& circuit_of_edge);

}  // namespace firstdraw::power::partition
