// The states of one open circuit that are worth keeping, and how each came about.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "power/partition_site.hpp"

namespace firstdraw::power::partition {

/// What a circuit still open at a node has besides length and cost.
struct Tag {
  std::uint64_t marks = 0;  // pairs pinned apart of which it holds one edge
  std::uint8_t joined = 0;  // its branches at the node: 0, 1, 2 for two and more, whose tees are paid
  bool fed = false;         // its power connection is placed
  bool operator==(const Tag&) const = default;
};

using Step = std::uint32_t;
inline constexpr Step start = 0;

struct State {
  Grain load_nm = 0, cost = 0;
  Tag tag;
  Step step = start;
};
/// By length; no state is beaten in length, cost and tag by another.
using Frontier = std::vector<State>;

/// How states came about: every step puts two together, and may add an edge or close the circuit.
class Trail {
 public:
  Trail() : steps_{{none, false, start, start}} {}
  Step both(Step a, Step b);
  Step with_edge(Step a, Step b, int edge);
  Step closed(Step a);
  /// The circuit of each edge, numbered in no particular order.
  std::vector<int> circuits(Step last, std::size_t edges) const;

 private:
  struct Made {
    int edge;
    bool closes;
    Step left, right;
  };
  Step add(const Made& made);
  std::vector<Made> steps_;
};

/// Takes candidates in any order and leaves the frontier.
class Sieve {
 public:
  Sieve(Trail& trail, const Site& site)
      : trail_(trail), fed_is_better_(site.feeds_are_dear()), tee_(site.tee()) {}

  void begin(Grain longest_nm);
  void add(Grain load_nm, Grain cost, Tag tag, Step left, Step right);
  /// Every pair of states of two different branches that may share a circuit; `extra` is added to the cost.
  void add_pairs(const Frontier& a, const Frontier& b, Grain extra);
  /// The frontier; steps are put together with `edge`, where there is one.
  Frontier finish(int edge = none);

 private:
  static constexpr std::size_t columns = 256;
  struct Candidate {
    Grain load_nm, cost;
    Tag tag;
    Step left, right;
  };
  bool beats(const Tag& a, const Tag& b) const;
  std::size_t column(Grain load_nm) const;
  bool beaten(std::size_t column, Grain cost, const Tag& tag) const;
  bool passes(const Candidate& candidate);

  Trail& trail_;
  bool fed_is_better_;  // of two states otherwise alike
  Grain tee_;
  Grain longest_nm_ = 0, width_nm_ = 1;
  std::vector<Candidate> candidates_;
  std::vector<std::pair<Tag, Grain>> least_;  // by tag, while sifting
  // Least cost of a shorter candidate without marks, by joined and fed: most candidates are beaten at once.
  std::array<std::array<Grain, columns + 1>, 6> least_before_;
};

/// At most `most` states: the shortest and others evenly among the rest. What is left is possible, not best.
Frontier thinned(const Frontier& frontier, std::size_t most);
/// At most about `most` states, none better than which a state was: a bound, not possible.
Frontier rounded_down(const Frontier& frontier, std::size_t most);

}  // namespace firstdraw::power::partition
