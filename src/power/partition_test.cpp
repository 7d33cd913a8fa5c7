#include "power/partition.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <map>
#include <optional>
#include <set>
#include <stdexcept>

#include "power/partition_scenes.hpp"

namespace firstdraw::power::partition {
namespace {

constexpr double nowhere = std::numeric_limits<double>::infinity();
constexpr std::size_t place(int index) { return static_cast<std::size_t>(index); }

/// Runs named by number; one kind with one breaker of 100 m for 50, feeds for 10 everywhere.
Problem plain(const std::vector<int>& parent, const std::vector<double>& length_m) {
  Problem problem;
  for (std::size_t i = 0; i < parent.size(); ++i)
    problem.edges.push_back({parent[i], length_m[i], 0, std::to_string(i)});
  problem.kinds.push_back({{{20, 100, 50}}, std::vector<double>(parent.size() + 1, 10), 0, 0});
  problem.costs = {200, 30, 5, 2};
  return problem;
}

using Lists = std::vector<std::vector<int>>;
Lists lists(const Partition& partition) {
  Lists all;
  for (const Circuit& circuit : partition.circuits) all.push_back(circuit.edges);
  return all;
}

TEST(Partition, OneRunIsFedAtOneEndAndSealedAtTheOther) {
  const Partition best = divide(plain({-1}, {40}));
  ASSERT_EQ(lists(best), (Lists{{0}}));
  EXPECT_EQ(best.circuits[0].tees, 0);
  EXPECT_EQ(best.circuits[0].ends, 1);
  EXPECT_DOUBLE_EQ(best.cost.total(), 200 + 10 + 50 + 5);
  EXPECT_TRUE(best.exact);
  EXPECT_DOUBLE_EQ(best.lower_bound, best.cost.total());
}

TEST(Partition, AFeedAtAnEndSavesATee) {
  const Partition best = divide(plain({-1, 0, 0}, {10, 20, 30}));
  ASSERT_EQ(lists(best), (Lists{{0, 1, 2}}));
  EXPECT_NE(best.circuits[0].feed_node, 1);
  EXPECT_EQ(best.circuits[0].tees, 1);
  EXPECT_EQ(best.circuits[0].ends, 2);
}

TEST(Partition, AFeedNearThePanelIsWorthATee) {
  Problem problem = plain({-1, 0, 0}, {10, 20, 30});
  problem.kinds[0].feed_cost = {100, 10, 100, 100};
  const Partition best = divide(problem);
  ASSERT_EQ(lists(best), (Lists{{0, 1, 2}}));
  EXPECT_EQ(best.circuits[0].feed_node, 1);
  EXPECT_EQ(best.circuits[0].tees, 2);
  EXPECT_EQ(best.circuits[0].ends, 3);
}

TEST(Partition, BranchesOfANodeShareACircuitWithoutTheRunThatFeedsThem) {
  const Partition best = divide(plain({-1, 0, 0}, {90, 50, 40}));
  EXPECT_EQ(lists(best), (Lists{{0}, {1, 2}}));
}

TEST(Partition, ARunTooLongAloneStandsAloneAndIsSaid) {
  const Partition best = divide(plain({-1, 0, 1}, {10, 120, 10}));
  ASSERT_EQ(lists(best), (Lists{{0}, {1}, {2}}));
  EXPECT_FALSE(best.circuits[0].over_length);
  EXPECT_TRUE(best.circuits[1].over_length);
}

TEST(Partition, KindsAndUntracedRunsDivide) {
  Problem problem = plain({-1, 0, 1, 2, 3}, {10, 10, 10, 10, 10});
  problem.kinds.push_back(problem.kinds[0]);
  problem.edges[1].kind = 1;
  problem.edges[3].kind = none;
  const Partition best = divide(problem);
  EXPECT_EQ(lists(best), (Lists{{0}, {1}, {2}, {4}}));
  EXPECT_EQ(best.circuit_of_edge, (std::vector<int>{0, 1, 2, none, 3}));
}

TEST(Partition, TheCheapestBreakerThatCarriesTheLengthIsTaken) {
  Problem problem = plain({-1, 0}, {40, 30});
  problem.kinds[0].ratings = {{15, 50, 40}, {20, 80, 60}, {30, 120, 55}, {40, 0, 1}};
  const Partition best = divide(problem);
  ASSERT_EQ(best.circuits.size(), 1u);
  EXPECT_EQ(best.circuits[0].rating, 2);
  EXPECT_DOUBLE_EQ(best.cost.breakers, 55);
}

TEST(Partition, WhatUsesTheSpareIsPaidFor) {
  Problem problem = plain({-1, 0}, {50, 45});
  problem.kinds[0].spare_frac = 0.1;
  problem.kinds[0].spare_cost_per_m = 3;
  EXPECT_NEAR(divide(problem).cost.spare, 15, 1e-5);
  problem.kinds[0].spare_cost_per_m = 300;  // dearer than a second circuit
  EXPECT_EQ(divide(problem).circuits.size(), 2u);
}

TEST(Partition, WhereNoFeedMayBePlacedNoneIs) {
  Problem problem = plain({-1, 0}, {40, 30});
  problem.kinds[0].feed_cost = {nowhere, nowhere, 10};
  EXPECT_EQ(divide(problem).circuits.at(0).feed_node, 2);
  problem.edges[1].length_m = 70;  // too long for one circuit, and the first run has no feed of its own
  EXPECT_FALSE(divide(problem).possible);
}

TEST(Partition, PinsThatCannotBeKeptAreSaid) {
  using Reason = Conflict::Reason;
  const auto reason = [](Problem problem, const Pins& pins) {
    problem.pins = pins;
    const Partition partition = divide(problem);
    EXPECT_FALSE(partition.possible);
    return partition.conflicts.at(0).reason;
  };
  Problem problem = plain({-1, 0, 1}, {40, 40, 40});
  EXPECT_EQ(reason(problem, {{{0, 2}}, {}}), Reason::too_long);
  EXPECT_EQ(reason(problem, {{{0, 1}}, {{1, 0}}}), Reason::pinned_apart);
  problem.edges[1].kind = none;
  EXPECT_EQ(reason(problem, {{{0, 2}}, {}}), Reason::unlike);
}

TEST(Partition, WhatIsNoTreeIsABrokenPromise) {
  Problem loop = plain({1, 0}, {10, 10});
  EXPECT_THROW(divide(loop), std::logic_error);
  Problem twins = plain({-1, -1}, {10, 10});
  twins.edges[1].key = twins.edges[0].key;
  EXPECT_THROW(divide(twins), std::logic_error);
  Problem short_of_feeds = plain({-1}, {10});
  short_of_feeds.kinds[0].feed_cost.pop_back();
  EXPECT_THROW(divide(short_of_feeds), std::logic_error);
  EXPECT_THROW(appraise(plain({-1, 0, 0, 1}, {1, 1, 1, 1}), {0, 1, 1, 0}), std::logic_error);
}

/// Every division of the edges into sets, its cost from first principles. Independent of the code.
class Enumeration {
 public:
  explicit Enumeration(const Problem& problem) : problem_(problem), circuit_(problem.edges.size(), none) {}

  /// Infinite when no division is allowed.
  double least() {
    choose(0, 0);
    return least_;
  }

 private:
  const Edge& edge(int i) const { return problem_.edges[place(i)]; }
  int count() const { return static_cast<int>(problem_.edges.size()); }

  void choose(int i, int circuits) {
    if (i == count()) {
      if (pins_kept()) least_ = std::min(least_, cost(circuits));
      return;
    }
    if (edge(i).kind == none) return choose(i + 1, circuits);
    for (int c = 0; c <= circuits; ++c) {
      circuit_[place(i)] = c;
      choose(i + 1, std::max(circuits, c + 1));
    }
    circuit_[place(i)] = none;
  }

  bool pins_kept() const {
    for (const auto& list : problem_.pins.together)
      for (const int i : list)
        if (circuit_[place(i)] != circuit_[place(list.front())]) return false;
    return std::ranges::all_of(problem_.pins.apart, [this](const auto& pair) {
      const int circuit = circuit_[place(pair.first)];
      return circuit == none || circuit != circuit_[place(pair.second)];
    });
  }

  double cost(int circuits) const {
    double total = changed_pairs() * problem_.previous.change_cost;
    for (int c = 0; c < circuits && total < least_; ++c) total += cost_of(c);
    return total;
  }

  double changed_pairs() const {
    const auto& before = problem_.previous.circuit_of_edge;
    if (before.empty()) return 0;
    int changed = 0;
    for (int a = 0; a < count(); ++a) {
      for (int b = a + 1; b < count(); ++b) {
        const bool meet = edge(a).parent == edge(b).parent || edge(b).parent == a || edge(a).parent == b;
        if (!meet || edge(a).kind == none || edge(a).kind != edge(b).kind) continue;
        if (before[place(a)] == none || before[place(b)] == none) continue;
        changed += (before[place(a)] == before[place(b)]) != (circuit_[place(a)] == circuit_[place(b)]);
      }
    }
    return changed;
  }

  double cost_of(int circuit) const {
    std::map<int, int> cables;
    std::set<int> kinds;
    double length_m = 0;
    int edges = 0;
    for (int i = 0; i < count(); ++i) {
      if (circuit_[place(i)] != circuit) continue;
      ++cables[edge(i).parent + 1];
      ++cables[i + 1];
      kinds.insert(edge(i).kind);
      length_m += edge(i).length_m;
      ++edges;
    }
    if (kinds.size() != 1 || static_cast<int>(cables.size()) != edges + 1) return nowhere;
    const Kind& kind = problem_.kinds[place(*kinds.begin())];
    double feeding = nowhere;
    for (const auto& [node, unused] : cables) feeding = std::min(feeding, kits(cables, node, *kinds.begin()));
    return problem_.costs.connection + feeding + breaker(kind, length_m, edges);
  }

  double breaker(const Kind& kind, double length_m, int edges) const {
    double longest_m = 0, least = nowhere;
    for (const RatingLimit& rating : kind.ratings) longest_m = std::max(longest_m, rating.longest_m);
    const bool too_long = length_m > longest_m + 1e-7;
    if (too_long && edges > 1) return nowhere;
    for (const RatingLimit& rating : kind.ratings) {
      if (rating.longest_m + 1e-7 < (too_long ? longest_m : length_m)) continue;
      const double over_m = std::max(0.0, length_m - (1 - kind.spare_frac) * rating.longest_m);
      least = std::min(least, rating.cost + kind.spare_cost_per_m * over_m);
    }
    return least;
  }

  double kits(const std::map<int, int>& cables, int feed_node, int kind) const {
    const Costs& each = problem_.costs;
    double cost = problem_.kinds[place(kind)].feed_cost[place(feed_node)];
    if (!was_feed(kind, feed_node)) cost += problem_.previous.change_cost;
    for (const auto& [node, meeting] : cables) {
      const bool spliced = !problem_.spliced.empty() && problem_.spliced[place(node)];
      if (node == feed_node)
        cost += (meeting - 1) * each.tee;
      else if (meeting == 1)
        cost += each.end;
      else
        cost += meeting == 2 ? (spliced ? each.splice : 0) : (meeting - 2) * each.tee;
    }
    return cost;
  }

  bool was_feed(int kind, int node) const {
    const Previous& previous = problem_.previous;
    bool any = false;
    for (std::size_t i = 0; i < previous.circuit_of_edge.size(); ++i) {
      const int circuit = previous.circuit_of_edge[i];
      if (circuit == none) continue;
      any = true;
      if (problem_.edges[i].kind == kind && previous.feed_node_of_circuit[place(circuit)] == node)
        return true;
    }
    return !any;
  }

  const Problem& problem_;
  std::vector<int> circuit_;
  double least_ = nowhere;
};

/// Small trees with everything that matters, some with feeds that are forbidden.
Problem small(unsigned seed) {
  SceneOptions options;
  options.edges = 2 + static_cast<int>(seed % 8);
  options.kinds = 1 + static_cast<int>(seed / 8 % 2);
  options.untraced_frac = seed % 3 == 0 ? 0.15 : 0;
  options.reach = seed % 2 == 0 ? 3 : 100;
  options.apart = seed % 5 == 0 ? 3 : 0;
  options.together = seed % 4 == 0 ? 1 : 0;
  options.spare = seed % 3 == 1;
  options.spliced = seed % 2 == 1;
  options.limit_scale = 0.15 + 0.05 * (seed % 11);
  Problem problem = scene(seed, options);
  if (seed % 6 == 0) problem.kinds[0].feed_cost[seed / 6 % problem.kinds[0].feed_cost.size()] = nowhere;
  if (seed % 8 == 3) problem.costs.end = 500;  // dearer than a feed
  return problem;
}

TEST(Partition, IsTheCheapestOfAllDivisionsOfSmallTrees) {
  int possible = 0, shared = 0;
  for (unsigned seed = 0; seed < 600; ++seed) {
    const Problem problem = small(seed);
    const Partition best = divide(problem);
    const double least = Enumeration(problem).least();
    ASSERT_EQ(best.possible, least < nowhere) << "seed " << seed;
    if (!best.possible) continue;
    EXPECT_TRUE(best.exact);
    EXPECT_NEAR(best.cost.total(), least, 1e-4) << "seed " << seed;
    ++possible;
    shared += best.circuits.size() < problem.edges.size() && best.circuits.size() > 1;
  }
  EXPECT_GT(possible, 500);
  EXPECT_GT(shared, 200);
}

TEST(Partition, CountsChangesLikeEveryOtherCost) {
  int changed = 0;
  for (unsigned seed = 0; seed < 300; ++seed) {
    Problem problem = small(seed);
    const Partition before = divide(problem);
    if (!before.possible) continue;
    problem.previous.circuit_of_edge = before.circuit_of_edge;
    for (const Circuit& circuit : before.circuits)
      problem.previous.feed_node_of_circuit.push_back(circuit.feed_node);
    problem.previous.change_cost = 25;
    for (Edge& edge : problem.edges) edge.length_m *= 1.3;
    const Partition after = divide(problem);
    const double least = Enumeration(problem).least();
    ASSERT_EQ(after.possible, least < nowhere) << "seed " << seed;
    if (!after.possible) continue;
    EXPECT_NEAR(after.objective(), least, 1e-4) << "seed " << seed;
    changed += after.change_cost > 0;
  }
  EXPECT_GT(changed, 30);
}

TEST(Partition, BoundsWhatItCannotSearchToTheEnd) {
  int inexact = 0;
  for (unsigned seed = 0; seed < 300; ++seed) {
    SceneOptions options{.edges = 60, .reach = seed % 2 == 0 ? 6 : 60, .apart = 8, .limit_scale = 1.5};
    Problem problem = scene(seed, options);
    const Partition best = divide(problem);
    ASSERT_TRUE(best.exact);
    problem.effort = {4, 2};
    const Partition quick = divide(problem);
    ASSERT_TRUE(quick.possible);
    EXPECT_LE(quick.lower_bound, best.cost.total() + 1e-4) << "seed " << seed;
    EXPECT_GE(quick.cost.total(), best.cost.total() - 1e-4) << "seed " << seed;
    inexact += !quick.exact;
  }
  EXPECT_GT(inexact, 200);
}

TEST(Partition, KeepsManyPairsApart) {
  for (unsigned seed = 0; seed < 20; ++seed) {
    const Problem problem = scene(seed, {.edges = 120, .apart = 100, .limit_scale = 1});
    const Partition best = divide(problem);
    ASSERT_TRUE(best.possible);
    EXPECT_LE(best.lower_bound, best.cost.total() + 1e-4);
    for (const auto& [a, b] : problem.pins.apart)
      EXPECT_NE(best.circuit_of_edge[place(a)], best.circuit_of_edge[place(b)]) << "seed " << seed;
  }
}

/// The same problem with its rows in another order.
Problem shuffled(const Problem& problem, unsigned seed, std::vector<int>& row_of) {
  std::mt19937 random(seed);
  const std::size_t edges = problem.edges.size();
  std::vector<int> old_of(edges);
  for (std::size_t i = 0; i < edges; ++i) old_of[i] = static_cast<int>(i);
  for (std::size_t i = edges; i-- > 1;) std::swap(old_of[i], old_of[random() % (i + 1)]);
  row_of.assign(edges, 0);
  for (std::size_t i = 0; i < edges; ++i) row_of[place(old_of[i])] = static_cast<int>(i);
  Problem other = problem;
  for (std::size_t i = 0; i < edges; ++i) {
    other.edges[i] = problem.edges[place(old_of[i])];
    if (other.edges[i].parent != none) other.edges[i].parent = row_of[place(other.edges[i].parent)];
    for (std::size_t k = 0; k < problem.kinds.size(); ++k)
      other.kinds[k].feed_cost[i + 1] = problem.kinds[k].feed_cost[place(old_of[i]) + 1];
  }
  for (auto& [a, b] : other.pins.apart) a = row_of[place(a)], b = row_of[place(b)];
  for (auto& list : other.pins.together)
    for (int& edge : list) edge = row_of[place(edge)];
  return other;
}

TEST(Partition, DoesNotDependOnTheOrderOfRows) {
  for (unsigned seed = 0; seed < 40; ++seed) {
    SceneOptions options{.edges = 150, .kinds = 2, .apart = 4, .together = 4};
    Problem problem = scene(seed, options);
    if (seed % 2 == 0) {  // many layouts that cost the same
      for (Edge& edge : problem.edges) edge.length_m = 5;
      for (Kind& kind : problem.kinds) std::ranges::fill(kind.feed_cost, 100);
    }
    std::vector<int> row_of;
    const Problem other = shuffled(problem, seed, row_of);
    const Partition one = divide(problem), two = divide(other);
    ASSERT_EQ(one.possible, two.possible);
    ASSERT_EQ(one.circuits.size(), two.circuits.size()) << "seed " << seed;
    EXPECT_EQ(one.cost.total(), two.cost.total());
    for (std::size_t c = 0; c < one.circuits.size(); ++c) {
      const auto& a = one.circuits[c];
      const auto& b = two.circuits[c];
      ASSERT_EQ(a.edges.size(), b.edges.size());
      for (std::size_t i = 0; i < a.edges.size(); ++i) EXPECT_EQ(row_of[place(a.edges[i])], b.edges[i]);
      EXPECT_EQ(a.feed_node == 0 ? 0 : row_of[place(a.feed_node - 1)] + 1, b.feed_node);
      EXPECT_EQ(a.rating, b.rating);
    }
  }
}

TEST(Partition, AppraisesItsOwnDivisionsAtTheirCost) {
  for (unsigned seed = 0; seed < 20; ++seed) {
    const Problem problem =
        scene(seed, {.edges = 200, .kinds = 3, .untraced_frac = 0.1, .spare = true, .spliced = true});
    const Partition best = divide(problem);
    Cost total;
    for (const Circuit& circuit : appraise(problem, best.circuit_of_edge)) {
      EXPECT_EQ(circuit.ends, circuit.tees + 1);
      total += circuit.cost;
    }
    EXPECT_DOUBLE_EQ(total.total(), best.cost.total());
  }
}

}  // namespace
}  // namespace firstdraw::power::partition
