// How far a small edit of the survey reaches into the layout.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

#include "power/partition_scenes.hpp"

namespace firstdraw::power::partition {
namespace {

constexpr std::size_t place(int index) { return static_cast<std::size_t>(index); }

/// Edges from one to the other along the pipes.
int steps_between(const Problem& problem, int a, int b) {
  std::vector<int> up, down;
  for (int edge = a; edge != none; edge = problem.edges[place(edge)].parent) up.push_back(edge);
  for (int edge = b; edge != none; edge = problem.edges[place(edge)].parent) down.push_back(edge);
  while (!up.empty() && !down.empty() && up.back() == down.back()) up.pop_back(), down.pop_back();
  return static_cast<int>(up.size() + down.size());
}

/// Edges that share a circuit with a neighbour they did not share one with, or no longer do.
std::vector<int> changed_edges(const Problem& problem, const Partition& before, const Partition& after) {
  std::vector<int> changed;
  for (int a = 0; a < static_cast<int>(problem.edges.size()); ++a) {
    bool differs = false;
    for (int b = 0; b < static_cast<int>(problem.edges.size()) && !differs; ++b) {
      const int parent_a = problem.edges[place(a)].parent, parent_b = problem.edges[place(b)].parent;
      const bool meet = a != b && (parent_a == parent_b || parent_a == b || parent_b == a);
      const auto together = [&](const Partition& in) {
        return in.circuit_of_edge[place(a)] == in.circuit_of_edge[place(b)];
      };
      differs = meet && together(before) != together(after);
    }
    if (differs) changed.push_back(a);
  }
  return changed;
}

/// The circuit with least room under its breaker, where an edit matters most.
const Circuit& fullest(const Problem& problem, const Partition& partition) {
  return *std::ranges::min_element(partition.circuits, {}, [&](const Circuit& circuit) {
    return problem.kinds[place(circuit.kind)].ratings[place(circuit.rating)].longest_m - circuit.length_m;
  });
}

bool still_fits(const Problem& problem, const Partition& before) {
  const double longest_m = problem.kinds.front().ratings.back().longest_m;
  return std::ranges::none_of(appraise(problem, before.circuit_of_edge),
                              [&](const Circuit& circuit) { return circuit.length_m > longest_m; });
}

struct Reach {
  int edits = 0, changes = 0, edges = 0, farthest = 0;
};

/// One length in the fullest circuit of each tree grows by one per cent. First: edits after which the former
/// circuits still fit their breakers; second: those after which something must move.
std::pair<Reach, Reach> reach_of_edits(double change_cost) {
  std::pair<Reach, Reach> all;
  for (unsigned seed = 0; seed < 400; ++seed) {
    Problem problem = scene(1000 + seed, {.edges = 200, .reach = 4, .spare = true});
    const Partition before = divide(problem);
    if (change_cost > 0) {
      problem.previous = {before.circuit_of_edge, {}, change_cost};
      for (const Circuit& circuit : before.circuits)
        problem.previous.feed_node_of_circuit.push_back(circuit.feed_node);
    }
    const std::vector<int> tight = fullest(problem, before).edges;
    const int edited = tight[seed % tight.size()];
    problem.edges[place(edited)].length_m *= 1.01;
    const std::vector<int> changed = changed_edges(problem, before, divide(problem));
    Reach& reach = still_fits(problem, before) ? all.first : all.second;
    ++reach.edits;
    reach.changes += !changed.empty();
    reach.edges += static_cast<int>(changed.size());
    for (const int edge : changed)
      reach.farthest = std::max(reach.farthest, steps_between(problem, edited, edge));
  }
  return all;
}

void show(double change_cost, const Reach& reach) {
  if (std::getenv("FIRSTDRAW_SHOW"))
    fmt::print("change cost {}: {} edits, {} with changes, {} edges changed, farthest {} edges away\n",
               change_cost, reach.edits, reach.changes, reach.edges, reach.farthest);
}

TEST(PartitionStability, ALengthLongerByOnePerCentChangesNothingWhileTheCircuitsFit) {
  const auto [fitting, bursting] = reach_of_edits(20);
  EXPECT_GT(fitting.edits, 300);
  EXPECT_EQ(fitting.changes, 0);
}

TEST(PartitionStability, WhereSomethingMustMoveThePreviousLayoutKeepsItNear) {
  const Reach free = reach_of_edits(0).second;
  show(0, free);
  EXPECT_GT(free.changes, 10);
  for (const double change_cost : {5.0, 20.0, 60.0, 150.0}) {
    const auto [fitting, held] = reach_of_edits(change_cost);
    show(change_cost, fitting);
    show(change_cost, held);
    EXPECT_EQ(held.edits, free.edits);
    EXPECT_LT(held.edges, free.edges);
    EXPECT_LE(held.farthest, free.farthest);
  }
}

}  // namespace
}  // namespace firstdraw::power::partition
