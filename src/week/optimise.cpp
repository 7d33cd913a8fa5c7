#include "week/optimise.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "week/optimise_groups.hpp"
#include "week/optimise_improve.hpp"
#include "week/optimise_peak.hpp"
#include "week/over_threads.hpp"

namespace firstdraw::week {
namespace {

void demand_that(bool kept, const std::string& message) {
  if (!kept) throw std::invalid_argument(message);
}

void judge_days(const Days& days) {
  demand_that(days.steps_a_day > 0 && days.days() > 0, "days: at least one day of one step");
  int next = 0;
  for (const int program : days.program_of_day) {
    demand_that(program >= 0 && program <= next, "days.program_of_day: numbered as they first come up");
    next = std::max(next, program + 1);
  }
}

void judge_group(const GroupTask& group, const WeekTask& task, std::size_t i) {
  const auto name = [&](const char* field) { return fmt::format("groups[{}].{}", i, field); };
  const Automaton& automaton = group.automaton;
  const std::size_t places = automaton.set_points_c.size() * static_cast<std::size_t>(automaton.grid.count);
  demand_that(places > 0 && automaton.to.size() == places && automaton.energy_j.size() == places,
              name("automaton: one move for each set-point and temperature"));
  demand_that(automaton.set_points_c.size() <= 200, name("automaton.set_points_c: at most 200"));
  demand_that(automaton.step_s == task.groups.front().automaton.step_s,
              name("automaton.step_s: as of the first"));
  demand_that(group.needs.least_c.size() == static_cast<std::size_t>(task.days.steps()),
              name("needs.least_c: one for each step"));
  demand_that(group.limits.most_changes_a_day >= 0 && group.limits.begin_every_steps >= 1, name("limits"));
  if (group.needs.band) demand_that(group.needs.band->most_steps >= 0, name("needs.band.most_steps"));
  if (!group.needs.hot_hold) return;
  demand_that(group.needs.hot_hold->steps >= 1, name("needs.hot_hold.steps"));
  demand_that(!group.needs.band || group.needs.hot_hold->at_least_c >= group.needs.band->high_c,
              name("needs.hot_hold.at_least_c: not below the top of the band"));
}

void judge(const WeekTask& task) {
  judge_days(task.days);
  demand_that(!task.groups.empty(), "groups: at least one");
  for (std::size_t i = 0; i < task.groups.size(); ++i) judge_group(task.groups[i], task, i);
  const auto steps = static_cast<std::size_t>(task.days.steps());
  demand_that(task.prices.per_kwh.size() == steps, "prices.per_kwh: one for each step");
  demand_that(task.other_load_w.empty() || task.other_load_w.size() == steps,
              "other_load_w: one for each step");
  for (const DemandPrice& demand : task.prices.demand) {
    demand_that(demand.in_window.size() == steps, "prices.demand.in_window: one for each step");
    demand_that(demand.per_kw >= 0, "prices.demand.per_kw: zero or more");
  }
}

/// Days that are all of one program, or each of its own, are searched exactly; between, a relaxation bounds.
GroupSearch searches_of(const GroupTask& group, const Days& days, const Watch& watch) {
  using Form = CycleSearch::Form;
  const bool each_its_own = days.programs() == days.days();
  GroupSearch made;
  made.schedule = std::make_unique<CycleSearch>(group, days, each_its_own ? Form::chain : Form::hub, watch);
  if (!each_its_own && days.programs() > 1)
    made.relaxed = std::make_unique<CycleSearch>(group, days, Form::chain, watch);
  return made;
}

std::vector<double> other_load(const WeekTask& task) {
  return task.other_load_w.empty() ? std::vector<double>(static_cast<std::size_t>(task.days.steps()), 0.0)
                                   : task.other_load_w;
}

bool groups_share_a_peak(const WeekTask& task) {
  return task.groups.size() > 1 &&
         std::ranges::any_of(task.prices.demand, [](const DemandPrice& demand) { return demand.per_kw > 0; });
}

void improve(PeakFound& found, const WeekTask& task, std::size_t g, const std::vector<double>& other_load_w) {
  const GroupTask& group = task.groups[g];
  found.run = improved(group, task.days, task.prices, other_load_w, std::move(found.run));
  found.cost = cost_of(task.prices, found.run.power_w, group.automaton.step_s, other_load_w).total();
}

Together each_alone(const WeekTask& task, const std::vector<GroupSearch>& searches, const Effort& effort) {
  const PeakTask alone{task.prices, task.groups.front().automaton.step_s, other_load(task)};
  std::vector<PeakFound> found(searches.size());
  std::vector<double> bounds(searches.size());
  over_threads(effort.threads, searches.size(), [&](std::size_t g) {
    const Automaton& automaton = task.groups[g].automaton;
    found[g] = with_demand(*searches[g].schedule, automaton, alone, effort);
    if (searches[g].relaxed && found[g].cost < no_cost) improve(found[g], task, g, alone.other_load_w);
    bounds[g] = !searches[g].relaxed ? found[g].bound
                : effort.bound       ? with_demand(*searches[g].relaxed, automaton, alone, effort).bound
                                     : -no_cost;
  });
  Together all{{}, 0, 0};
  for (std::size_t g = 0; g < found.size(); ++g) {
    if (found[g].cost == no_cost) return {};
    all.runs.push_back(std::move(found[g].run));
    all.cost += found[g].cost;
    all.bound += bounds[g];
  }
  return all;
}

Schedule schedule_of(const GroupTask& group, const WeekTask& task, Trajectory run) {
  Prices prices = task.prices;
  if (task.groups.size() > 1) prices.demand.clear();
  Schedule schedule{std::move(run), {}, {}};
  schedule.cost = cost_of(prices, schedule.run.power_w, group.automaton.step_s, task.other_load_w);
  for (int program = 0; program < task.days.programs(); ++program) {
    const auto day = std::ranges::find(task.days.program_of_day, program) - task.days.program_of_day.begin();
    schedule.programs.push_back(
        periods_of_day(group.automaton, task.days, schedule.run.set_point, static_cast<int>(day)));
  }
  return schedule;
}

/// The first group that has no schedule even when nothing costs anything.
std::string why_not(const WeekTask& task, const std::vector<GroupSearch>& searches) {
  const auto steps = static_cast<std::size_t>(task.days.steps());
  for (std::size_t g = 0; g < searches.size(); ++g) {
    const CycleSearch& search = *searches[g].schedule;
    const StepTerms free{std::vector<double>(steps, 0.0), std::vector<double>(steps, no_cost),
                         search.least()};
    if (search.cheapest(free).cost == no_cost)
      return fmt::format("group {}: no schedule keeps every rule{}", g,
                         searches[g].relaxed ? " and has the same temperature at every midnight" : "");
  }
  return "no schedule found within the effort";
}

}  // namespace

WeekPlan optimise(const WeekTask& task, const Effort& effort) {
  judge(task);
  Watch watch{effort.progress, 0};
  std::vector<GroupSearch> searches;
  for (const GroupTask& group : task.groups) searches.push_back(searches_of(group, task.days, watch));
  Together found = groups_share_a_peak(task)
                       ? with_common_peak(task, searches, other_load(task), effort, watch)
                       : each_alone(task, searches, effort);
  WeekPlan plan;
  if (found.runs.empty()) {
    if (watch.go_on()) plan.impossible = why_not(task, searches);
    return plan;
  }
  plan.possible = true;
  std::vector<double> power_w(static_cast<std::size_t>(task.days.steps()), 0.0);
  for (std::size_t g = 0; g < task.groups.size(); ++g) {
    for (std::size_t k = 0; k < power_w.size(); ++k) power_w[k] += found.runs[g].power_w[k];
    plan.groups.push_back(schedule_of(task.groups[g], task, std::move(found.runs[g])));
  }
  plan.cost = cost_of(task.prices, power_w, task.groups.front().automaton.step_s, task.other_load_w);
  plan.bound = std::min(found.bound, plan.cost.total());  // sums in another order
  return plan;
}

}  // namespace firstdraw::week
