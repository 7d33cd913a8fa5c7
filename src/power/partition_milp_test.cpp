// The division into circuits against a mixed-integer program of the same problem, formulated and solved
// apart: tests/npm/partition_milp.mjs decides edge by edge, partition_sets.mjs among all connected sets of
// edges; HiGHS solves both.
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <sstream>

#include "places.hpp"
#include "power/partition_scenes.hpp"

namespace firstdraw::power::partition {
namespace {

std::string json(const Edge& edge) {
  return fmt::format(R"({{"parent":{},"length_m":{},"kind":{}}})", edge.parent, edge.length_m, edge.kind);
}
std::string json(const RatingLimit& rating) {
  return fmt::format(R"({{"longest_m":{},"cost":{}}})", rating.longest_m, rating.cost);
}
std::string json(const Kind& kind);
std::string json(const Problem& problem);
std::string json(const std::pair<int, int>& pair) { return fmt::format("[{},{}]", pair.first, pair.second); }
std::string json(const std::vector<int>& list) { return fmt::format("[{}]", fmt::join(list, ",")); }
template <typename List>
std::string json_list(const List& list) {
  std::vector<std::string> texts;
  for (const auto& element : list) texts.push_back(json(element));
  return fmt::format("[{}]", fmt::join(texts, ","));
}
std::string json(const Kind& kind) {
  return fmt::format(R"({{"ratings":{},"feed_cost":[{}],"spare_frac":{},"spare_cost_per_m":{}}})",
                     json_list(kind.ratings), fmt::join(kind.feed_cost, ","), kind.spare_frac,
                     kind.spare_cost_per_m);
}
std::string json(const Costs& costs) {
  return fmt::format(R"({{"connection":{},"tee":{},"end":{},"splice":{}}})", costs.connection, costs.tee,
                     costs.end, costs.splice);
}
std::string json(const Problem& problem) {
  return fmt::format(R"({{"edges":{},"kinds":{},"costs":{},"spliced":[{}],"apart":{},"together":{}}})",
                     json_list(problem.edges), json_list(problem.kinds), json(problem.costs),
                     fmt::join(std::vector<int>(problem.spliced.begin(), problem.spliced.end()), ","),
                     json_list(problem.pins.apart), json_list(problem.pins.together));
}

struct Solved {
  double cost = 0, bound = 0, seconds = 0;
};

/// `formulation`: the script. Reads cost, bound and seconds of its line; what follows is for people.
std::vector<Solved> solved_by_highs(const Problem& problem, const std::string& formulation) {
  std::string name = ::testing::UnitTest::GetInstance()->current_test_info()->name();
  std::ranges::replace(name, '/', '_');
  const auto file = std::filesystem::path(places::build()) / (formulation + "_" + name + ".json");
  std::ofstream(file) << "[" << json(problem) << "]";
  const std::string command =
      fmt::format("node {}/tests/npm/{}.mjs {}", places::sources(), formulation, file.string());
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"),
                                                   [](FILE* opened) { return pclose(opened); });
  std::vector<Solved> all;
  Solved one;
  while (pipe && std::fscanf(pipe.get(), "%lf,%lf,%lf%*[^\n] ", &one.cost, &one.bound, &one.seconds) == 3)
    all.push_back(one);
  return all;
}

void expect_the_same_optimum(const Problem& problem, const std::string& formulation) {
  const std::vector<Solved> solved = solved_by_highs(problem, formulation);
  ASSERT_EQ(solved.size(), 1U) << "scripts/setup installs node and highs";
  const Partition best = divide(problem);
  ASSERT_TRUE(best.possible && best.exact);
  for (const Circuit& circuit : best.circuits) ASSERT_FALSE(circuit.over_length);
  EXPECT_NEAR(best.cost.total(), solved[0].cost, 1e-3);
  EXPECT_NEAR(best.cost.total(), solved[0].bound, 1e-3);
  if (std::getenv("FIRSTDRAW_SHOW"))
    fmt::print("{} edges: {:.3f} here, {:.3f} by HiGHS in {:.1f} s\n", problem.edges.size(),
               best.cost.total(), solved[0].cost, solved[0].seconds);
}

// One problem a test, so that they run side by side.
class SmallTree : public testing::TestWithParam<unsigned> {};

TEST_P(SmallTree, HasTheOptimumOfBothFormulations) {
  const unsigned seed = GetParam();
  const Problem problem = scene(seed, {.edges = 20,
                                       .kinds = 1 + static_cast<int>(seed % 2),
                                       .untraced_frac = seed % 3 == 0 ? 0.1 : 0,
                                       .reach = seed % 2 == 0 ? 4 : 30,
                                       .apart = seed % 3 == 1 ? 5 : 0,
                                       .together = seed % 4 == 2 ? 2 : 0,
                                       .spare = seed % 3 == 2,
                                       .spliced = seed % 2 == 1,
                                       .limit_scale = 0.7});
  expect_the_same_optimum(problem, "partition_milp");
  expect_the_same_optimum(problem, "partition_sets");
}
INSTANTIATE_TEST_SUITE_P(PartitionMilp, SmallTree, testing::Range(0U, 9U));

class LargeTree : public testing::TestWithParam<unsigned> {};

TEST_P(LargeTree, HasTheOptimumAmongSetsOfEdges) {
  constexpr int edges[] = {60, 100, 150, 200}, reach[] = {1, 3, 6};
  const unsigned seed = 100 + GetParam();
  expect_the_same_optimum(scene(seed, {.edges = edges[GetParam() / 3],
                                       .kinds = 1 + static_cast<int>(seed % 2),
                                       .reach = reach[GetParam() % 3],
                                       .apart = static_cast<int>(seed % 3) * 4,
                                       .together = 3,
                                       .spare = seed % 2 == 0,
                                       .spliced = seed % 4 == 1,
                                       .limit_scale = 0.6}),
                          "partition_sets");
}
INSTANTIATE_TEST_SUITE_P(PartitionMilp, LargeTree, testing::Range(0U, 12U));

}  // namespace
}  // namespace firstdraw::power::partition
