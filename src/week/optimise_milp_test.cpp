// The optimiser against a mixed-integer program of the same automaton, formulated and solved apart:
// tests/npm/week_schedule.mjs, solved by HiGHS.
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>

#include "places.hpp"
#include "week/optimise_scenes.hpp"

namespace firstdraw::week {
namespace {

std::string number(double value) { return std::isfinite(value) ? fmt::format("{}", value) : "null"; }
std::string list(const std::vector<double>& numbers) {
  std::vector<std::string> texts;
  for (const double value : numbers) texts.push_back(number(value));
  return fmt::format("[{}]", fmt::join(texts, ","));
}
std::string list(const std::vector<int>& numbers) { return fmt::format("[{}]", fmt::join(numbers, ",")); }

std::string json(const GroupTask& group) {
  const Automaton& made = group.automaton;
  const Needs& needs = group.needs;
  const std::string band =
      needs.band ? fmt::format(R"({{"low_c":{},"high_c":{},"most_steps":{}}})", number(needs.band->low_c),
                               needs.band->high_c, needs.band->most_steps)
                 : "null";
  const std::string hold = needs.hot_hold ? fmt::format(R"({{"at_least_c":{},"steps":{}}})",
                                                        needs.hot_hold->at_least_c, needs.hot_hold->steps)
                                          : "null";
  return fmt::format(
      R"({{"lowest_c":{},"step_k":{},"count":{},"step_s":{},"set_points_c":{},"to":{},"energy_j":{},"least_c":{},"most_c":{},"band":{},"hot_hold":{},)"
      R"("limits":{{"most_changes_a_day":{},"begin_every_steps":{},"least_change_k":{}}}}})",
      made.grid.lowest_c, made.grid.step_k, made.grid.count, made.step_s, list(made.set_points_c),
      list(made.to), list(made.energy_j), list(needs.least_c), number(needs.most_c), band, hold,
      group.limits.most_changes_a_day, group.limits.begin_every_steps, group.limits.least_change_k);
}

std::string json(const WeekTask& task) {
  std::vector<std::string> groups, demand;
  for (const GroupTask& group : task.groups) groups.push_back(json(group));
  for (const DemandPrice& price : task.prices.demand)
    demand.push_back(fmt::format(R"({{"per_kw":{},"in_window":{}}})", price.per_kw,
                                 list(std::vector<int>(price.in_window.begin(), price.in_window.end()))));
  return fmt::format(
      R"({{"days":{{"steps_a_day":{},"program_of_day":{}}},"groups":[{}],"prices":{{"per_kwh":{},"demand":[{}]}},"other_load_w":{}}})",
      task.days.steps_a_day, list(task.days.program_of_day), fmt::join(groups, ","),
      list(task.prices.per_kwh), fmt::join(demand, ","), list(task.other_load_w));
}

struct Solved {
  double cost = 0, bound = 0, seconds = 0;
};

std::vector<Solved> solved_by_highs(const std::vector<WeekTask>& tasks) {
  std::string name = ::testing::UnitTest::GetInstance()->current_test_info()->name();
  std::ranges::replace(name, '/', '_');
  const auto file = std::filesystem::path(places::build()) / fmt::format("week_schedule_{}.json", name);
  std::vector<std::string> texts;
  for (const WeekTask& task : tasks) texts.push_back(json(task));
  std::ofstream(file) << fmt::format("[{}]", fmt::join(texts, ","));
  const std::string command =
      fmt::format("node {}/tests/npm/week_schedule.mjs {}", places::sources(), file.string());
  const std::unique_ptr<FILE, int (*)(FILE*)> pipe(popen(command.c_str(), "r"),
                                                   [](FILE* opened) { return pclose(opened); });
  std::vector<Solved> all;
  Solved one;
  while (pipe && std::fscanf(pipe.get(), "%lf,%lf,%lf%*[^\n] ", &one.cost, &one.bound, &one.seconds) == 3)
    all.push_back(one);
  return all;
}

void compare(const SceneSize& size, int seeds, bool exact, int least_possible) {
  std::vector<WeekTask> tasks;
  for (int seed = 0; seed < seeds; ++seed)
    tasks.push_back(SceneMaker(1000 + static_cast<unsigned>(seed), size).make());
  const std::vector<Solved> solved = solved_by_highs(tasks);
  ASSERT_EQ(solved.size(), tasks.size()) << "scripts/setup installs node and highs";
  int possible = 0;
  for (std::size_t i = 0; i < tasks.size(); ++i) {
    SCOPED_TRACE(fmt::format("problem {}", i));
    const WeekPlan plan = optimise(tasks[i]);
    if (std::getenv("FIRSTDRAW_SHOW"))
      fmt::print("{:.6f} here, bound {:.6f}; HiGHS {:.6f} in {:.1f} s\n",
                 plan.possible ? plan.cost.total() : -1.0, plan.bound, solved[i].cost, solved[i].seconds);
    if (exact) {
      EXPECT_EQ(plan.possible, std::isfinite(solved[i].cost));
    }
    if (!plan.possible || !std::isfinite(solved[i].cost)) continue;
    ++possible;
    ASSERT_NEAR(solved[i].cost, solved[i].bound, 1e-7 * solved[i].cost) << "not solved in time";
    EXPECT_GE(plan.cost.total(), solved[i].cost * (1 - 1e-6));
    EXPECT_LE(plan.bound, solved[i].cost * (1 + 1e-6));
    if (exact) {
      EXPECT_NEAR(plan.cost.total(), solved[i].cost, 1e-6 * solved[i].cost);
    }
  }
  EXPECT_GE(possible, least_possible);
}

// One size a test, so that they run side by side.
TEST(OptimiseMilp, EnergyOfOneDayHasTheSameOptimum) {
  compare({.steps_a_day = 24, .program_of_day = {0}, .set_points = 4}, 4, true, 2);
}
TEST(OptimiseMilp, EnergyOfThreeDaysEachItsOwnHasTheSameOptimum) {
  compare({.steps_a_day = 12, .program_of_day = {0, 1, 2}, .set_points = 3}, 4, true, 2);
}
TEST(OptimiseMilp, EnergyOfThreeDaysAlikeHasTheSameOptimum) {
  compare({.steps_a_day = 12, .program_of_day = {0, 0, 0}, .set_points = 3}, 4, true, 2);
}
TEST(OptimiseMilp, BandHasTheSameOptimum) {
  compare({.steps_a_day = 24, .program_of_day = {0}, .set_points = 4, .band = true}, 4, true, 1);
}
TEST(OptimiseMilp, BandAndHotHoldHaveTheSameOptimum) {
  compare({.steps_a_day = 12, .program_of_day = {0, 1}, .set_points = 4, .band = true, .hot_hold = true}, 4,
          true, 1);
}
TEST(OptimiseMilp, HotHoldHasTheSameOptimum) {
  compare({.steps_a_day = 12, .program_of_day = {0, 0}, .set_points = 4, .hot_hold = true}, 4, true, 1);
}
TEST(OptimiseMilp, DemandOfOneGroupHasTheSameOptimum) {
  compare({.steps_a_day = 12, .program_of_day = {0}, .set_points = 4, .windows = 1}, 4, true, 2);
  compare({.steps_a_day = 8, .program_of_day = {0, 1}, .set_points = 3, .windows = 2}, 4, true, 2);
}
TEST(OptimiseMilp, WorkingDaysAndWeekendLieWithinTheGap) {
  compare({.steps_a_day = 8, .program_of_day = {0, 0, 1}, .set_points = 3}, 4, false, 1);
}
TEST(OptimiseMilp, SeveralGroupsLieWithinTheGap) {
  compare({.steps_a_day = 8, .program_of_day = {0}, .set_points = 3, .groups = 3, .windows = 1}, 4, false, 1);
}
TEST(OptimiseMilp, SeveralGroupsOnWorkingDaysAndWeekendLieWithinTheGap) {
  compare({.steps_a_day = 6, .program_of_day = {0, 0, 1}, .set_points = 3, .groups = 2, .windows = 1}, 4,
          false, 1);
}

}  // namespace
}  // namespace firstdraw::week
