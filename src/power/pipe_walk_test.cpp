#include "power/pipe_walk.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <random>

#include "power/test_building.hpp"

namespace firstdraw::power {
namespace {

using piping::at;

TEST(PipeWalk, EachBranchToItsEndBeforeTheNext) {
  TestBuilding building;
  building.run("R1", "heater", "a", 1).run("R2", "heater", "b", 1).run("R3", "a", "c", 1);
  building.run("R4", "elsewhere", "d", 1).run("R5", "a", "e", 1);
  EXPECT_EQ(along_the_pipes(piping::build_network(building.job)), (std::vector<int>{0, 2, 4, 1}));
}

// By hand: the panel stands at the end of one branch, 5 m of feeder away from it.
TEST(PipeWalk, FeederFollowsThePipesUpAndDown) {
  TestBuilding building;
  building.run("R1", "heater", "a", 10).run("R2", "a", "b", 20).run("R3", "a", "c", 30);
  building.run("R4", "elsewhere", "d", 40);
  job::Panel& panel = building.job.panels[0];
  panel.nodes = {"b"};
  panel.feeder_length_m = 5;
  const auto network = piping::build_network(building.job);
  const auto length_m = feeder_lengths_m(building.job, network, panel);
  EXPECT_EQ(length_m[at(network.node("b"))], 5);
  EXPECT_EQ(length_m[at(network.node("a"))], 25);
  EXPECT_EQ(length_m[at(network.node("heater"))], 35);
  EXPECT_EQ(length_m[at(network.node("c"))], 55);
  EXPECT_EQ(length_m[at(network.node("d"))], 5);  // no way leads there
  EXPECT_TRUE(hangs_on_the_supply(network, "b"));
  EXPECT_FALSE(hangs_on_the_supply(network, "d"));
  EXPECT_FALSE(hangs_on_the_supply(network, "nowhere"));
  panel.nodes = {"c", "b"};
  EXPECT_EQ(feeder_lengths_m(building.job, network, panel)[at(network.node("c"))], 5);
  EXPECT_EQ(feeder_lengths_m(building.job, network, panel)[at(network.node("b"))], 5);
  EXPECT_EQ(feeder_lengths_m(building.job, network, panel)[at(network.node("a"))], 25);
  panel.nodes = {"d", "nowhere"};
  EXPECT_EQ(feeder_lengths_m(building.job, network, panel)[at(network.node("c"))], 5);
}

/// Shortest ways between all nodes by relaxing every pair (R. Floyd, Algorithm 97, CACM 5(6), 1962, from
/// memory): knows nothing of trees.
std::vector<std::vector<double>> shortest_ways_m(const job::Job& job, const piping::Network& network) {
  const std::size_t nodes = network.node_ids.size();
  std::vector<std::vector<double>> way_m(nodes,
                                         std::vector<double>(nodes, std::numeric_limits<double>::infinity()));
  for (std::size_t node = 0; node < nodes; ++node) way_m[node][node] = 0;
  for (std::size_t run = 0; run < job.runs.size(); ++run) {
    const auto a = at(network.from_node[run]), b = at(network.to_node[run]);
    way_m[a][b] = way_m[b][a] = job.runs[run].length_m;
  }
  for (std::size_t k = 0; k < nodes; ++k)
    for (std::size_t i = 0; i < nodes; ++i)
      for (std::size_t j = 0; j < nodes; ++j) way_m[i][j] = std::min(way_m[i][j], way_m[i][k] + way_m[k][j]);
  return way_m;
}

TEST(PipeWalk, FeedersAreTheShortestWaysOfRandomTrees) {
  std::mt19937 random(3);
  for (int trial = 0; trial < 30; ++trial) {
    TestBuilding building;
    building.run("R0", "heater", "n0", 2);
    for (int i = 1; i < 25; ++i)
      building.run("R" + std::to_string(i), "n" + std::to_string(random() % static_cast<unsigned>(i)),
                   "n" + std::to_string(i), 1 + static_cast<double>(random() % 20));
    job::Panel& panel = building.job.panels[0];
    panel.nodes = {"n" + std::to_string(random() % 25), "n" + std::to_string(random() % 25)};
    panel.feeder_length_m = 3;
    const auto network = piping::build_network(building.job);
    const auto way_m = shortest_ways_m(building.job, network);
    const auto length_m = feeder_lengths_m(building.job, network, panel);
    for (std::size_t node = 0; node < length_m.size(); ++node)
      EXPECT_NEAR(length_m[node],
                  3 + std::min(way_m[at(network.node(panel.nodes[0]))][node],
                               way_m[at(network.node(panel.nodes[1]))][node]),
                  1e-9)
          << trial;
  }
}

}  // namespace
}  // namespace firstdraw::power
