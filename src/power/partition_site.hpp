// A partition problem made ready to compute with: whole numbers, branches in the order of their keys, pins as
// bits on the edges between.
#pragma once

#include <cstdint>
#include <set>
#include <span>

#include "power/partition.hpp"

namespace firstdraw::power::partition {

using Grain = std::int64_t;                     // nanometres of cable, millionths of money
inline constexpr Grain never = Grain{1} << 54;  // sums of a few hundred stay within range
inline constexpr int mark_slots = 60;

constexpr std::size_t at(int index) { return static_cast<std::size_t>(index); }
constexpr int far_end(int edge) { return edge + 1; }

Grain nanometres(double length_m);
Grain millionths(double cost);

/// The prices of one kind.
class Tariff {
 public:
  Tariff(const Kind& kind, const Costs& costs);
  Grain longest_nm() const { return longest_nm_; }
  /// Breaker and use of its spare; rises with the length. Beyond the longest, for an edge that is too long
  /// alone: the longest rating.
  Grain price(Grain load_nm) const;
  /// The rating `price` is of.
  int rating(Grain load_nm) const;
  Grain spare(Grain load_nm) const;
  /// No circuit that is fed for `feed` costs less per nanometre.
  double least_per_nm(Grain feed) const;
  Grain least_feed() const { return least_feed_; }

 private:
  struct Step {
    int rating;
    Grain longest_nm, keep_nm, cost;
  };
  Grain cost_of(const Step& step, Grain load_nm) const;
  const Step& best(Grain load_nm) const;
  std::vector<Step> steps_;  // by length
  Grain longest_nm_ = 0, least_feed_ = never;
  double spare_cost_per_nm_ = 0;
};

class Site {
 public:
  explicit Site(const Problem& problem);

  const Problem& problem;
  std::vector<int> order;        // every edge after its parent, each branch to its end, by key
  std::vector<Grain> length_nm;  // like edges
  std::vector<Tariff> tariffs;   // like kinds
  std::vector<Conflict> conflicts;
  std::vector<std::uint64_t> marks;      // per edge: pairs pinned apart it belongs to
  std::vector<std::uint64_t> alive;      // per edge: pairs still to be kept apart above it
  std::set<std::pair<int, int>> parted;  // edges that meet and are cut for want of a mark

  int kind(int edge) const { return problem.edges[at(edge)].kind; }
  const Tariff& tariff(int edge) const { return tariffs[at(kind(edge))]; }
  int near_end(int edge) const { return far_end(problem.edges[at(edge)].parent); }
  std::span<const int> leaving(int node) const;
  /// Two edges that meet at a node must share a circuit when their bonds there are equal.
  int bond_near(int edge) const { return bond_near_[at(edge)]; }
  int bond_far(int edge) const { return bond_far_[at(edge)]; }

  /// Connection, feeder and change of a feed at a node.
  Grain feed(int kind, int node) const;
  Grain tee() const { return tee_; }
  /// Kits where `cables` of a circuit meet at a node.
  Grain kits(int node, int cables, bool fed) const;
  bool spliced(int node) const { return !problem.spliced.empty() && problem.spliced[at(node)] != 0; }
  /// Taking a superfluous feed away never costs.
  bool feeds_are_dear() const;

  /// What two edges that meet cost when they share a circuit, against `parting_cost` when they do not.
  Grain joining_cost(int edge, int other) const;
  Grain parting_cost(int edge, int other) const;
  bool has_former_feeds() const { return !former_feeds_.empty(); }
  bool was_feed(int kind, int node) const { return former_feeds_.contains({kind, node}); }

 private:
  void check() const;
  void arrange();
  void keep_together(const std::vector<int>& edges);
  void keep_apart(int a, int b);
  void check_bonded();
  void remember_feeds();
  std::vector<int> way(int a, int b) const;
  bool of_one_kind(const std::vector<int>& edges) const;
  void bond(int a, int b);
  int circuit_of(int edge);

  std::vector<int> first_leaving_, leaving_, depth_;
  std::vector<int> bond_near_, bond_far_, bonded_;  // bonded_: union-find over edges
  std::vector<std::uint64_t> taken_;                // marks in use at each node
  std::set<std::pair<int, int>> former_feeds_;
  Grain tee_ = 0, end_ = 0, splice_ = 0, connection_ = 0, change_ = 0;
};

}  // namespace firstdraw::power::partition
