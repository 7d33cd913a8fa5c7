// The cheapest week of set-points for the reduced model of src/week/reduced.hpp: dynamic programming over
// (step, temperature, time in band, hot hold, set-point in force, changes used today), cyclic.
// What is exact and what has a bound stands in docs/week.md.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "week/schedule.hpp"

namespace firstdraw::week {

struct WeekTask {
  Days days;
  std::vector<GroupTask> groups;  // all with the same step
  Prices prices;
  std::vector<double> other_load_w;  // by step or empty: what else the meter of the demand charge sees
};

struct Effort {
  double gap_frac = 1e-9;   // of the cost, at which a search with demand charges stops
  int most_searches = 400;  // for demand charges of one group: dynamic programs solved
  int rounds = 30;          // of prices on the common peak, several groups
  int threads = 2;
  bool bound = true;  // false: none is looked for where that takes a search of its own; it is -infinity then
  /// Asked many times a second, by any of the threads. False: stop; the answer is then of no use.
  std::function<bool(double done_frac)> progress{};
};

struct Schedule {
  Trajectory run;
  Cost cost;                                          // energy of this group; demand only where it is alone
  std::vector<std::vector<SchedulePeriod>> programs;  // one list for each program
};

struct WeekPlan {
  bool possible = false;
  std::vector<Schedule> groups;
  Cost cost;         // of all together
  double bound = 0;  // no schedule that keeps the rules costs less
  double gap() const { return cost.total() - bound; }
  std::string impossible;  // names the group and what was tried
};

/// Throws std::invalid_argument where arrays do not fit each other (a programmer's mistake).
WeekPlan optimise(const WeekTask& task, const Effort& effort = {});

/// A rule, and what less of it would save over the time priced: the cost less that of the optimum with this
/// one rule eased. Compares optima, so that a saving is exact to the two gaps.
struct RulePrice {
  enum class Rule {
    least_temperature,
    most_temperature,
    band,
    hot_hold,
    changes,
    begin_steps,
    least_change,
    programs
  };
  Rule rule{};
  int group = 0;
  int from_step = 0,
      to_step = 0;      // of least_temperature: stretch of the first day of a program, eased on all
  double eased_by = 0;  // K, steps or changes
  double saving = 0;
  double uncertain = 0;  // sum of the two gaps
};
/// Only rules that save more than the gaps, dearest first. `ease_k`: of a least temperature.
std::vector<RulePrice> rule_prices(const WeekTask& task, const WeekPlan& plan, double ease_k = 1,
                                   const Effort& effort = {});

struct FrontierPoint {
  double value = 0;  // K above the least temperatures; hours in the band
  WeekPlan plan;
};
/// Cost against room above the least temperatures of every group.
std::vector<FrontierPoint> comfort_frontier(const WeekTask& task, const std::vector<double>& margins_k,
                                            const Effort& effort = {});
/// Cost against the longest time in the band, for the groups that have one.
std::vector<FrontierPoint> band_frontier(const WeekTask& task, const std::vector<int>& most_steps,
                                         const Effort& effort = {});

}  // namespace firstdraw::week
