#include "power/circuit_cable.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <stdexcept>

namespace firstdraw::power {
namespace {

using piping::none;

std::vector<int> parents_of(const CircuitCable& cable) {
  std::vector<int> parents;
  for (const CableStretch& stretch : cable.stretches) parents.push_back(stretch.parent);
  return parents;
}

/// a and b leave node 0, c and d the end of a.
piping::Network two_forks() {
  piping::Network network;
  network.from_node = {0, 0, 1, 1};
  network.to_node = {1, 2, 3, 4};
  return network;
}
constexpr double forks_m[] = {10, 20, 30, 40};

// By hand.
TEST(CircuitCable, BranchesWhereThePipingDoes) {
  const std::vector<int> runs{0, 1, 2, 3};
  const CircuitCable cable = circuit_cable(two_forks(), runs, forks_m, 0);
  EXPECT_EQ(cable.run_position, (std::vector<int>{0, 2, 3, 1}));
  EXPECT_EQ(cable.far_node, (std::vector<int>{1, 3, 4, 2}));
  EXPECT_EQ(parents_of(cable), (std::vector<int>{none, 0, 0, none}));
  EXPECT_EQ(cable.tee_nodes, (std::vector<int>{0, 1}));
  EXPECT_EQ(cable.end_nodes, (std::vector<int>{3, 4, 2}));
  for (std::size_t i = 0; i < 4; ++i)
    EXPECT_EQ(cable.stretches[i].length_m, forks_m[piping::at(cable.run_position[i])]);
}

// By hand: at node 1 three cables meet and the feed does, so two tees; run a is walked against the water and
// goes on into b.
TEST(CircuitCable, FedInTheMiddleLeavesBothWays) {
  const std::vector<int> runs{0, 1, 2, 3};
  const CircuitCable cable = circuit_cable(two_forks(), runs, forks_m, 1);
  EXPECT_EQ(cable.run_position, (std::vector<int>{0, 1, 2, 3}));
  EXPECT_EQ(cable.far_node, (std::vector<int>{0, 2, 3, 4}));
  EXPECT_EQ(parents_of(cable), (std::vector<int>{none, 0, none, none}));
  EXPECT_EQ(cable.tee_nodes, (std::vector<int>{1, 1}));
  EXPECT_EQ(cable.end_nodes, (std::vector<int>{2, 3, 4}));
}

// By hand: from the end of d back up; the parent of a stretch may be a later run.
TEST(CircuitCable, FedAtAFarEndRunsAgainstTheWater) {
  const std::vector<int> runs{0, 1, 2, 3};
  const CircuitCable cable = circuit_cable(two_forks(), runs, forks_m, 4);
  EXPECT_EQ(cable.run_position, (std::vector<int>{3, 0, 1, 2}));
  EXPECT_EQ(cable.far_node, (std::vector<int>{1, 0, 2, 3}));
  EXPECT_EQ(parents_of(cable), (std::vector<int>{none, 0, 1, 0}));
  EXPECT_EQ(cable.tee_nodes, std::vector<int>{1});
  EXPECT_EQ(cable.end_nodes, (std::vector<int>{2, 3}));
}

// A feed in the middle of the piping: the run above it is in another circuit.
TEST(CircuitCable, StartsAtItsOwnFeed) {
  piping::Network network;
  network.from_node = {0, 1, 2};
  network.to_node = {1, 2, 3};
  const std::vector<int> runs{1, 2};
  const std::vector<double> length_m{20, 30};
  const CircuitCable cable = circuit_cable(network, runs, length_m, 1);
  EXPECT_EQ(parents_of(cable), (std::vector<int>{none, 0}));
  EXPECT_TRUE(cable.tee_nodes.empty());
  EXPECT_EQ(cable.end_nodes, std::vector<int>{3});
}

TEST(CircuitCable, RefusesAFeedThatIsNotOnIt) {
  const std::vector<int> runs{2, 3};
  const std::vector<double> length_m{30, 40};
  EXPECT_THROW(circuit_cable(two_forks(), runs, length_m, 2), std::logic_error);
}

// Counted from first principles: where c cables meet, c - 2 tees, at the feed c - 1; an end wherever one
// cable meets nothing and is not fed.
TEST(CircuitCable, OfRandomTreesHasTheKitsOfEveryNode) {
  std::mt19937 random(20261125);
  for (int trial = 0; trial < 300; ++trial) {
    piping::Network network;
    std::vector<int> runs;
    std::vector<int> meeting(1, 0);
    const int size = 1 + static_cast<int>(random() % 12);
    for (int run = 0; run < size; ++run) {
      network.from_node.push_back(static_cast<int>(random() % static_cast<unsigned>(run + 1)));
      network.to_node.push_back(run + 1);
      ++meeting[piping::at(network.from_node.back())];
      meeting.push_back(1);
      runs.push_back(run);
    }
    const int feed = static_cast<int>(random() % static_cast<unsigned>(size + 1));
    const std::vector<double> length_m(runs.size(), 1.0);
    const CircuitCable cable = circuit_cable(network, runs, length_m, feed);
    for (int node = 0; node <= size; ++node) {
      const int met = meeting[piping::at(node)], tees = std::max(0, node == feed ? met - 1 : met - 2);
      EXPECT_EQ(std::ranges::count(cable.tee_nodes, node), tees) << trial;
      EXPECT_EQ(std::ranges::count(cable.end_nodes, node), node != feed && met == 1 ? 1 : 0) << trial;
    }
    EXPECT_EQ(cable.end_nodes.size(), cable.tee_nodes.size() + 1) << trial;
    for (std::size_t i = 0; i < runs.size(); ++i)
      EXPECT_LT(cable.stretches[i].parent, static_cast<int>(i)) << trial;
  }
}

}  // namespace
}  // namespace firstdraw::power
