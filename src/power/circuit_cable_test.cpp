#include "power/circuit_cable.hpp"

#include <gtest/gtest.h>

namespace firstdraw::power {
namespace {

// By hand: a and b leave the feed, c and d leave the end of a.
TEST(CircuitCable, BranchesWhereThePipingDoes) {
  piping::Network network;
  network.from_node = {0, 0, 1, 1};
  network.to_node = {1, 2, 3, 4};
  network.upstream_run = {piping::none, piping::none, 0, 0};
  const std::vector<int> runs{0, 1, 2, 3};
  const std::vector<double> length_m{10, 20, 30, 40};
  const CircuitCable cable = circuit_cable(network, runs, length_m);
  EXPECT_EQ(cable.feed_node, 0);
  EXPECT_EQ(cable.tee_nodes, (std::vector<int>{0, 1}));
  EXPECT_EQ(cable.end_nodes, (std::vector<int>{2, 3, 4}));
  ASSERT_EQ(cable.stretches.size(), 4U);
  const std::vector<int> parents{piping::none, piping::none, 0, 0};
  for (std::size_t i = 0; i < 4; ++i) {
    EXPECT_EQ(cable.stretches[i].parent, parents[i]);
    EXPECT_EQ(cable.stretches[i].length_m, length_m[i]);
  }
}

// A feed in the middle of the piping: the run above it is in another circuit.
TEST(CircuitCable, StartsAtItsOwnFeed) {
  piping::Network network;
  network.from_node = {0, 1, 2};
  network.to_node = {1, 2, 3};
  network.upstream_run = {piping::none, 0, 1};
  const std::vector<int> runs{1, 2};
  const std::vector<double> length_m{20, 30};
  const CircuitCable cable = circuit_cable(network, runs, length_m);
  EXPECT_EQ(cable.feed_node, 1);
  EXPECT_EQ(cable.stretches[0].parent, piping::none);
  EXPECT_EQ(cable.stretches[1].parent, 0);
  EXPECT_TRUE(cable.tee_nodes.empty());
  EXPECT_EQ(cable.end_nodes, std::vector<int>{3});
}

}  // namespace
}  // namespace firstdraw::power
