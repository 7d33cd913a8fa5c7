// The optimiser against every schedule there is, one by one, and against closed forms.
#include "week/optimise.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <set>

#include "week/optimise_scenes.hpp"

namespace firstdraw::week {
namespace {

/// All cycles that keep the rules: every sequence of set-points from every temperature.
std::vector<std::vector<double>> all_loads(const GroupTask& group, const Days& days) {
  const auto choices = static_cast<int>(group.automaton.set_points_c.size());
  std::vector<int> sequence(static_cast<std::size_t>(days.steps()), 0);
  std::set<std::vector<double>> loads;
  for (bool more = true; more;) {
    for (int from = 0; from < group.automaton.grid.count; ++from)
      if (const auto run = settle(group.automaton, sequence, from);
          run && first_breach(group, days, *run).what == Breach::What::none)
        loads.insert(run->power_w);
    std::size_t place = 0;
    while (place < sequence.size() && ++sequence[place] == choices) sequence[place++] = 0;
    more = place < sequence.size();
  }
  return {loads.begin(), loads.end()};
}

double cost(const WeekTask& task, const std::vector<double>& power_w) {
  return cost_of(task.prices, power_w, task.groups.front().automaton.step_s, task.other_load_w).total();
}

/// The least cost of all groups together; no_schedule where there is none.
constexpr double no_schedule = std::numeric_limits<double>::infinity();
double best_of_all(const WeekTask& task) {
  std::vector<std::vector<double>> sums = {
      std::vector<double>(static_cast<std::size_t>(task.days.steps()), 0.0)};
  for (const GroupTask& group : task.groups) {
    std::vector<std::vector<double>> next;
    for (const auto& load : all_loads(group, task.days))
      for (std::vector<double> sum : sums) {
        std::ranges::transform(sum, load, sum.begin(), std::plus<>());
        next.push_back(std::move(sum));
      }
    sums = std::move(next);
  }
  double best = no_schedule;
  for (const auto& sum : sums) best = std::min(best, cost(task, sum));
  return best;
}

void expect_sound(const WeekTask& task, const WeekPlan& plan) {
  std::vector<double> sum(static_cast<std::size_t>(task.days.steps()), 0.0);
  for (std::size_t g = 0; g < task.groups.size(); ++g) {
    const Trajectory& run = plan.groups[g].run;
    EXPECT_EQ(first_breach(task.groups[g], task.days, run).what, Breach::What::none);
    EXPECT_EQ(run.temperature.front(), run.temperature.back());
    std::ranges::transform(sum, run.power_w, sum.begin(), std::plus<>());
  }
  EXPECT_NEAR(plan.cost.total(), cost(task, sum), 1e-9);
}

struct Tally {
  int possible = 0, closed = 0;
};

/// `exact`: the optimum must be met; else it lies between bound and cost.
Tally compare(const SceneSize& size, int seeds, bool exact) {
  Tally tally;
  for (int seed = 0; seed < seeds; ++seed) {
    SCOPED_TRACE(fmt::format("seed {}", seed));
    const WeekTask task = SceneMaker(static_cast<unsigned>(seed), size).make();
    const double best = best_of_all(task);
    const WeekPlan plan = optimise(task);
    if (best == no_schedule || !plan.possible) {
      EXPECT_FALSE(plan.possible);
      if (exact) {
        EXPECT_EQ(best, no_schedule);
      }
      continue;
    }
    ++tally.possible;
    expect_sound(task, plan);
    EXPECT_GE(plan.cost.total(), best * (1 - 1e-9));
    EXPECT_LE(plan.bound, best * (1 + 1e-9));
    if (exact) {
      EXPECT_NEAR(plan.cost.total(), best, 1e-8 * best);
    }
    if (exact) {
      EXPECT_NEAR(plan.bound, best, 1e-8 * best);
    }
    if (plan.cost.total() <= best * (1 + 1e-9)) ++tally.closed;
  }
  return tally;
}

TEST(OptimiseAgainstAll, EnergyOneDay) {
  EXPECT_GT(compare({.steps_a_day = 8, .program_of_day = {0}}, 40, true).possible, 25);
}
TEST(OptimiseAgainstAll, EnergyEachDayItsOwn) {
  EXPECT_GT(compare({.steps_a_day = 4, .program_of_day = {0, 1}}, 40, true).possible, 25);
}
TEST(OptimiseAgainstAll, EnergyOneProgram) {
  EXPECT_GT(compare({.steps_a_day = 4, .program_of_day = {0, 0}}, 40, true).possible, 25);
}
TEST(OptimiseAgainstAll, BandAndHotHold) {
  EXPECT_GT(compare({.steps_a_day = 8, .program_of_day = {0}, .band = true}, 40, true).possible, 15);
  EXPECT_GT(compare({.steps_a_day = 4, .program_of_day = {0, 1}, .band = true, .hot_hold = true}, 40, true)
                .possible,
            8);
  EXPECT_GT(compare({.steps_a_day = 4, .program_of_day = {0, 0}, .hot_hold = true}, 40, true).possible, 15);
}
TEST(OptimiseAgainstAll, DemandOfOneGroup) {
  EXPECT_GT(compare({.steps_a_day = 8, .program_of_day = {0}, .windows = 1}, 40, true).possible, 25);
  EXPECT_GT(
      compare({.steps_a_day = 4, .program_of_day = {0, 1}, .windows = 2, .band = true}, 40, true).possible,
      15);
  EXPECT_GT(compare({.steps_a_day = 4, .program_of_day = {0, 0}, .windows = 3}, 40, true).possible, 25);
}
TEST(OptimiseAgainstAll, WorkingDaysAndWeekendLieWithinTheGap) {
  const Tally tally = compare({.steps_a_day = 3, .program_of_day = {0, 0, 1}}, 40, false);
  EXPECT_GT(tally.possible, 20);
  if (std::getenv("FIRSTDRAW_SHOW")) fmt::print("{} of {} optimal\n", tally.closed, tally.possible);
}
TEST(OptimiseAgainstAll, TwoGroupsLieWithinTheGap) {
  const Tally tally =
      compare({.steps_a_day = 6, .program_of_day = {0}, .groups = 2, .windows = 1}, 40, false);
  EXPECT_GT(tally.possible, 20);
  EXPECT_GT(tally.closed, tally.possible / 2);
  if (std::getenv("FIRSTDRAW_SHOW")) fmt::print("{} of {} optimal\n", tally.closed, tally.possible);
}

/// A week of half hours, one schedule; set-points 40, 45, 50, 55 degC.
WeekTask plain_week(const LinearPipe& pipe, double grid_k = 0.5) {
  WeekTask task;
  GroupTask group;
  group.automaton =
      reduce(pipe.law(), {20, grid_k, static_cast<int>(40 / grid_k) + 1}, 1800, {40, 45, 50, 55});
  group.needs.least_c.assign(static_cast<std::size_t>(task.days.steps()), 20);
  task.groups.push_back(group);
  task.prices.per_kwh.assign(static_cast<std::size_t>(task.days.steps()), 0.2);
  return task;
}

void need_at(WeekTask& task, int step_of_day, double least_c) {
  for (int day = 0; day < task.days.days(); ++day) {
    const int step = day * task.days.steps_a_day + step_of_day;
    task.groups.front().needs.least_c[static_cast<std::size_t>(step)] = least_c;
  }
}

TEST(OptimiseClosedForm, NothingAskedAndOnePriceMeansTheLowestSetPoint) {
  const LinearPipe pipe;
  const WeekPlan plan = optimise(plain_week(pipe));
  ASSERT_TRUE(plan.possible);
  for (const int set_point : plan.groups.front().run.set_point) EXPECT_EQ(set_point, 0);
  // Loss at 40 degC: what the cable gives is heating rate plus cooling rate; energy is duty times power.
  const double duty = (40 - pipe.air_c) / pipe.cooling_s / (pipe.heating_k_per_s * pipe.fade(40));
  EXPECT_NEAR(plan.cost.total(), 0.2 * 168 * duty * pipe.power_w * pipe.fade(40) / 1000, 1e-9);
}

TEST(OptimiseClosedForm, PreheatingTakesTheTimeOfTheLaw) {
  const LinearPipe pipe{.heating_k_per_s = 0.0018, .fade_per_k = 0};
  WeekTask task = plain_week(pipe);
  task.groups.front().automaton = reduce(pipe.law(), {20, 0.05, 801}, 1800, {40, 55});
  task.groups.front().limits.most_changes_a_day = 2;  // up and down, no bursts
  need_at(task, 14, 55);                              // 7:00
  const WeekPlan plan = optimise(task);
  ASSERT_TRUE(plan.possible);
  // dT/dt = h - (T - air)/tau from 40 to 55 degC.
  const double limit_k = pipe.heating_k_per_s * pipe.cooling_s;
  const double time_s = pipe.cooling_s * std::log((limit_k - 20) / (limit_k - 35));
  const auto& periods = plan.groups.front().programs.front();
  const auto begin = std::ranges::find(periods, 55.0, &SchedulePeriod::set_point_c);
  ASSERT_NE(begin, periods.end());
  EXPECT_EQ(begin->begin_step, 14 - static_cast<int>(std::ceil(time_s / 1800)));
  EXPECT_GT(time_s / 1800, 4);
}

TEST(OptimiseClosedForm, HeatingMovesBeforeTheDearHours) {
  LinearPipe pipe;
  pipe.cooling_s = 2e5;  // keeps its heat well enough to store some
  WeekTask task = plain_week(pipe);
  for (std::size_t k = 0; k < task.prices.per_kwh.size(); ++k)
    if (k % 48 >= 34 && k % 48 < 40) task.prices.per_kwh[k] = 4;  // from 17:00
  const WeekPlan plan = optimise(task);
  ASSERT_TRUE(plan.possible);
  const auto& run = plan.groups.front().run;
  for (std::size_t k = 34; k < 40; ++k) EXPECT_EQ(run.power_w[k], 0) << k;
  EXPECT_GT(task.groups.front().automaton.set_points_c[static_cast<std::size_t>(run.set_point[33])], 40);
}

TEST(OptimiseMonotone, EasierNeverCostsMore) {
  for (unsigned seed = 0; seed < 30; ++seed) {
    const WeekTask task = SceneMaker(seed, {.steps_a_day = 12,
                                            .program_of_day = {0, 1, 2},
                                            .set_points = 5,
                                            .windows = 1,
                                            .grid_k = 1,
                                            .band = true})
                              .make();
    const WeekPlan plan = optimise(task);
    if (!plan.possible) continue;
    for (const RulePrice& price : rule_prices(task, plan)) EXPECT_GT(price.saving, 0);
    double before = -no_schedule;
    for (const FrontierPoint& point : comfort_frontier(task, {-4, -2, 0})) {
      ASSERT_TRUE(point.plan.possible);
      EXPECT_GE(point.plan.cost.total(), before - 1e-7);
      before = point.plan.cost.total();
    }
    before = no_schedule;
    for (const FrontierPoint& point : band_frontier(task, {3, 4, 8})) {
      if (point.plan.possible) {
        EXPECT_LE(point.plan.cost.total(), before + 1e-7);
      }
      if (point.plan.possible) before = point.plan.cost.total();
    }
  }
}

TEST(OptimiseRules, ADemandForHotWaterHasItsPrice) {
  WeekTask task = plain_week(LinearPipe{});
  need_at(task, 14, 50);
  const auto prices = rule_prices(task, optimise(task), 5);
  ASSERT_FALSE(prices.empty());
  EXPECT_EQ(prices.front().rule, RulePrice::Rule::least_temperature);
  EXPECT_EQ(prices.front().from_step, 14);
  // Demand is the only reason to heat above 40 degC; 5 K less of it cannot save more than no demand at all.
  EXPECT_LT(prices.front().saving,
            optimise(task).cost.total() - optimise(plain_week(LinearPipe{})).cost.total());
}

TEST(OptimiseJudges, ArraysThatDoNotFitAndRulesNobodyCanKeep) {
  WeekTask task = plain_week(LinearPipe{});
  task.groups.front().needs.least_c.assign(336, 58);
  const WeekPlan plan = optimise(task);
  EXPECT_FALSE(plan.possible);
  EXPECT_NE(plan.impossible.find("group 0"), std::string::npos);
  task.prices.per_kwh.pop_back();
  EXPECT_THROW(optimise(task), std::invalid_argument);
}

}  // namespace
}  // namespace firstdraw::week
