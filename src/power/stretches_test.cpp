#include "power/stretches.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>

#include "power/protection.hpp"

namespace firstdraw::power {
namespace {

/// Runs named by number; run i hangs on the end of run parent[i], or on the supply for -1.
struct Tree {
  piping::Network network;
  Cutting cutting;
};
Tree tree(const std::vector<int>& parent, const std::vector<double>& length_m, double longest_m) {
  job::Job job;
  job.supply.node = "s";
  for (std::size_t i = 0; i < parent.size(); ++i) {
    job::Run run;
    run.id = std::to_string(i);
    run.from = parent[i] < 0 ? "s" : "n" + std::to_string(parent[i]);
    run.to = "n" + std::to_string(i);
    run.length_m = length_m[i];
    job.runs.push_back(run);
  }
  return {piping::build_network(job), {std::vector<int>(parent.size(), 0), length_m, {longest_m}}};
}

using Lists = std::vector<std::vector<int>>;

TEST(Stretches, KeepOneCircuitWhileItFits) {
  const Tree t = tree({-1, 0, 0}, {10, 20, 30}, 60);
  EXPECT_EQ(cut_into_stretches(t.network, t.cutting), (Lists{{0, 1, 2}}));
}

TEST(Stretches, CutOffTheHeaviestBranch) {
  const Tree t = tree({-1, 0, 0}, {10, 20, 30}, 59);
  EXPECT_EQ(cut_into_stretches(t.network, t.cutting), (Lists{{0, 1}, {2}}));
}

TEST(Stretches, CutBranchesOfANodeShareAFeed) {
  const Tree t = tree({-1, 0, 0}, {50, 30, 20}, 60);
  EXPECT_EQ(cut_into_stretches(t.network, t.cutting), (Lists{{0}, {1, 2}}));
}

TEST(Stretches, ARunTooLongAloneStandsAlone) {
  const Tree t = tree({-1, 0, 1}, {10, 100, 10}, 60);
  EXPECT_EQ(cut_into_stretches(t.network, t.cutting), (Lists{{0}, {1}, {2}}));
}

TEST(Stretches, RunsOfDifferentClassesNeverMeet) {
  Tree t = tree({-1, 0, 1}, {10, 10, 10}, 60);
  t.cutting.class_of_run = {0, 1, 0};
  t.cutting.longest_m = {60, 60};
  EXPECT_EQ(cut_into_stretches(t.network, t.cutting), (Lists{{0}, {1}, {2}}));
}

TEST(Stretches, UntracedRunsAreLeftOutAndDivide) {
  Tree t = tree({-1, 0, 1}, {10, 10, 10}, 60);
  t.cutting.class_of_run = {0, piping::none, 0};
  EXPECT_EQ(cut_into_stretches(t.network, t.cutting), (Lists{{0}, {2}}));
}

/// Fewest connected parts over every choice of cuts: bit i of `cuts` cuts run i from its parent. Independent
/// of the code.
int fewest_parts(const std::vector<int>& parent, const std::vector<double>& length_m, double longest_m) {
  int fewest = static_cast<int>(parent.size());
  for (unsigned cuts = 0; cuts < (1u << parent.size()); ++cuts) {
    std::vector<double> weight_m = length_m;
    bool allowed = true;
    int parts = 0;
    for (std::size_t i = parent.size(); i-- > 0;) {
      const bool cut = parent[i] < 0 || (cuts >> i & 1u) != 0;
      parts += cut ? 1 : 0;
      allowed = allowed && weight_m[i] <= longest_m;
      if (!cut) weight_m[static_cast<std::size_t>(parent[i])] += weight_m[i];
    }
    if (allowed) fewest = std::min(fewest, parts);
  }
  return fewest;
}

TEST(Stretches, OfRandomTreesCoverEveryRunOnceAndNeedNoMoreThanTheFewestParts) {
  std::mt19937 random(20260301);
  for (int trial = 0; trial < 300; ++trial) {
    const std::size_t runs = 1 + random() % 10;
    std::vector<int> parent(runs);
    std::vector<double> length_m(runs);
    for (std::size_t i = 0; i < runs; ++i) {
      parent[i] = i == 0 ? -1 : static_cast<int>(random() % (i + 1)) - 1;
      length_m[i] = 1 + static_cast<double>(random() % 30);
    }
    const double longest_m = 30 + static_cast<double>(random() % 60);
    const Tree t = tree(parent, length_m, longest_m);
    const Lists lists = cut_into_stretches(t.network, t.cutting);

    std::vector<int> seen;
    for (const auto& list : lists) {
      double total_m = 0;
      for (const int run : list) total_m += length_m[static_cast<std::size_t>(run)];
      EXPECT_TRUE(fits(total_m, longest_m)) << "trial " << trial;
      seen.insert(seen.end(), list.begin(), list.end());
    }
    std::ranges::sort(seen);
    std::vector<int> all(runs);
    std::iota(all.begin(), all.end(), 0);
    EXPECT_EQ(seen, all) << "trial " << trial;
    EXPECT_LE(static_cast<int>(lists.size()), fewest_parts(parent, length_m, longest_m)) << "trial " << trial;
  }
}

}  // namespace
}  // namespace firstdraw::power
