// What the rules cost: the optimum again with one of them eased.
#include <algorithm>
#include <cmath>

#include "week/optimise.hpp"

namespace firstdraw::week {
namespace {

using Rule = RulePrice::Rule;

template <class List>
auto at(const List& list, int i) {
  return list[static_cast<std::size_t>(i)];
}

/// One group before the load of the others.
WeekTask alone(const WeekTask& task, const WeekPlan& plan, std::size_t group) {
  WeekTask one{task.days, {task.groups[group]}, task.prices, task.other_load_w};
  one.other_load_w.resize(static_cast<std::size_t>(task.days.steps()), 0.0);
  for (std::size_t g = 0; g < plan.groups.size(); ++g)
    for (std::size_t k = 0; k < one.other_load_w.size() && g != group; ++k)
      one.other_load_w[k] += plan.groups[g].run.power_w[k];
  return one;
}

class Easing {
 public:
  Easing(WeekTask task, int group, const Effort& effort)
      : task_(std::move(task)), group_(group), effort_(effort), plan_(optimise(task_, effort)) {}

  template <class Change>
  void ease(Rule rule, double by, const Change& change, int from_step = 0, int to_step = 0) {
    WeekTask eased = task_;
    change(eased);
    const WeekPlan plan = optimise(eased, effort_);
    if (!plan.possible || !plan_.possible) return;
    const RulePrice price{rule,
                          group_,
                          from_step,
                          to_step,
                          by,
                          plan_.cost.total() - plan.cost.total(),
                          plan_.gap() + plan.gap()};
    if (price.saving > price.uncertain + 1e-9 * std::abs(plan_.cost.total())) prices.push_back(price);
  }

  /// Every stretch of one demand within a day that the optimum meets without room to spare, eased on all days
  /// of its program.
  void ease_least(double by_k) {
    const std::vector<double>& least_c = needs().least_c;
    const int day_steps = days().steps_a_day;
    for (int from = 0, to = 0; from < days().steps(); from = to) {
      const int day_end = (from / day_steps + 1) * day_steps;
      while (to < day_end && at(least_c, to) == at(least_c, from)) ++to;
      const int day = from / day_steps, program = at(days().program_of_day, day);
      const std::vector<int> alike = days_of(program);
      if (alike.front() != day || !tight(alike, from % day_steps, to - from)) continue;
      const auto lower = [&](WeekTask& eased) {
        for (const int other : alike)
          for (int k = from % day_steps; k < from % day_steps + to - from; ++k) {
            const int step = other * day_steps + k;
            eased.groups.front().needs.least_c[static_cast<std::size_t>(step)] -= by_k;
          }
      };
      ease(Rule::least_temperature, by_k, lower, from, to);
    }
  }

  const Needs& needs() const { return task_.groups.front().needs; }
  const ControllerLimits& limits() const { return task_.groups.front().limits; }
  const Days& days() const { return task_.days; }
  std::vector<RulePrice> prices;

 private:
  std::vector<int> days_of(int program) const {
    std::vector<int> alike;
    for (int day = 0; day < days().days(); ++day)
      if (at(days().program_of_day, day) == program) alike.push_back(day);
    return alike;
  }

  bool tight(const std::vector<int>& alike, int from, int steps) const {
    if (!plan_.possible) return false;
    const TemperatureGrid& grid = task_.groups.front().automaton.grid;
    const std::vector<int>& temperature = plan_.groups.front().run.temperature;
    for (const int day : alike)
      for (int k = day * days().steps_a_day + from, left = steps; left > 0; ++k, --left)
        if (std::min(at(temperature, k), at(temperature, k + 1)) <= grid.at_or_above(at(needs().least_c, k)))
          return true;
    return false;
  }

  WeekTask task_;
  int group_;
  Effort effort_;
  WeekPlan plan_;
};

void ease_needs(Easing& easing) {
  const auto needs = [](WeekTask& task) -> Needs& { return task.groups.front().needs; };
  if (std::isfinite(easing.needs().most_c))
    easing.ease(Rule::most_temperature, 0,
                [&](WeekTask& task) { needs(task).most_c = std::numeric_limits<double>::infinity(); });
  if (easing.needs().band)
    easing.ease(Rule::band, 1, [&](WeekTask& task) { ++needs(task).band->most_steps; });
  if (easing.needs().hot_hold)
    easing.ease(Rule::hot_hold, easing.needs().hot_hold->steps,
                [&](WeekTask& task) { needs(task).hot_hold.reset(); });
}

void ease_limits(Easing& easing) {
  const auto limits = [](WeekTask& task) -> ControllerLimits& { return task.groups.front().limits; };
  easing.ease(Rule::changes, 1, [&](WeekTask& task) { ++limits(task).most_changes_a_day; });
  if (easing.limits().begin_every_steps > 1)
    easing.ease(Rule::begin_steps, easing.limits().begin_every_steps - 1,
                [&](WeekTask& task) { limits(task).begin_every_steps = 1; });
  if (easing.limits().least_change_k > 0)
    easing.ease(Rule::least_change, easing.limits().least_change_k,
                [&](WeekTask& task) { limits(task).least_change_k = 0; });
  if (easing.days().programs() == easing.days().days()) return;
  easing.ease(Rule::programs, easing.days().days() - easing.days().programs(), [](WeekTask& task) {
    for (std::size_t day = 0; day < task.days.program_of_day.size(); ++day)
      task.days.program_of_day[day] = static_cast<int>(day);
  });
}

}  // namespace

std::vector<RulePrice> rule_prices(const WeekTask& task, const WeekPlan& plan, double ease_k,
                                   const Effort& effort) {
  std::vector<RulePrice> all;
  for (std::size_t g = 0; plan.possible && g < task.groups.size(); ++g) {
    Easing easing(alone(task, plan, g), static_cast<int>(g), effort);
    easing.ease_least(ease_k);
    ease_needs(easing);
    ease_limits(easing);
    all.insert(all.end(), easing.prices.begin(), easing.prices.end());
  }
  std::ranges::stable_sort(all, [](const RulePrice& a, const RulePrice& b) { return a.saving > b.saving; });
  return all;
}

std::vector<FrontierPoint> comfort_frontier(const WeekTask& task, const std::vector<double>& margins_k,
                                            const Effort& effort) {
  std::vector<FrontierPoint> points;
  for (const double margin_k : margins_k) {
    WeekTask moved = task;
    for (GroupTask& group : moved.groups)
      for (double& least_c : group.needs.least_c) least_c += margin_k;
    points.push_back({margin_k, optimise(moved, effort)});
  }
  return points;
}

std::vector<FrontierPoint> band_frontier(const WeekTask& task, const std::vector<int>& most_steps,
                                         const Effort& effort) {
  std::vector<FrontierPoint> points;
  for (const int most : most_steps) {
    WeekTask moved = task;
    for (GroupTask& group : moved.groups)
      if (group.needs.band) group.needs.band->most_steps = most;
    points.push_back({most * task.groups.front().automaton.step_s / 3600, optimise(moved, effort)});
  }
  return points;
}

}  // namespace firstdraw::week
