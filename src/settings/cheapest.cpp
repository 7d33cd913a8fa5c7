#include "settings/cheapest.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "settings/cheapest_raise.hpp"
#include "settings/cheapest_search.hpp"
#include "settings/cheapest_task.hpp"
#include "settings/simpler.hpp"
#include "week/over_threads.hpp"

namespace firstdraw::settings {
namespace {

constexpr double inf = std::numeric_limits<double>::infinity();

using Groups = std::vector<std::size_t>;

bool demand_is_priced(const week::Prices& prices) {
  return std::ranges::any_of(prices.demand,
                             [](const week::DemandPrice& demand) { return demand.per_kw > 0; });
}

/// Set-points of a schedule, off apart.
std::set<int> used_set_points(const week::Automaton& automaton, const week::Trajectory& run) {
  std::set<int> used(run.set_point.begin(), run.set_point.end());
  std::erase_if(
      used, [&](int s) { return automaton.set_points_c[static_cast<std::size_t>(s)] == week::cable_off_c; });
  return used;
}

class Search {
 public:
  Search(const job::Job& job, std::span<const GroupModel> models, std::span<const GroupNeeds> needs,
         const SeasonOfYear& season, const SearchOptions& options)
      : job_(job), models_(models), needs_(needs), season_(season), options_(options) {
    options_.effort.threads = options.threads;
  }

  std::optional<week::WeekTask> task(const Menu& menu) {
    return build(menu) ? std::optional(std::move(week_.task)) : std::nullopt;
  }

  CheapestWeek run(const Menu& menu) {
    if (!build(menu)) return std::move(week_);
    if (!first()) return std::move(week_);
    live(everyone());
    raise_until_settled();
    finish();
    return std::move(week_);
  }

 private:
  Groups everyone() const {
    Groups all;
    for (std::size_t g = 0; g < models_.size(); ++g) all.push_back(g);
    return all;
  }

  bool build(const Menu& menu) {
    week_.task = {days_of(job_, options_.step_s), {}, prices_by_step(season_, options_.step_s), {}};
    if (job_.tariff.other_load_w > 0)
      week_.task.other_load_w.assign(week_.task.prices.per_kwh.size(), job_.tariff.other_load_w);
    for (const std::size_t g : everyone()) {
      auto asked = sensor_needs(job_, models_[g], needs_[g], options_);
      if (!asked) {
        week_.plan.impossible = asked.error();
        return false;
      }
      rest_.push_back(asked->needs);
      full_.push_back(group_task(job_, models_[g], *asked, menu[g], options_));
    }
    week_.task.groups = full_;
    week_.lived.resize(models_.size());
    return true;
  }

  bool first() {
    week_.plan = week::optimise(week_.task, options_.effort);
    if (!week_.plan.possible) {
      if (!stopped()) week_.plan.impossible = why_impossible();
      return false;
    }
    week_.bound = week_.plan.bound;
    if (narrow(everyone()).empty() || solve(everyone())) return true;
    week_.plan = {};
    week_.plan.impossible = "no schedule found with as few set-points as the controller takes";
    return false;
  }

  bool stopped() const { return options_.effort.progress && !options_.effort.progress(0); }

  // --- solving groups again ---

  week::WeekTask alone(std::size_t g) const {
    week::WeekTask one{week_.task.days, {week_.task.groups[g]}, week_.task.prices, week_.task.other_load_w};
    if (!demand_is_priced(one.prices)) return one;
    one.other_load_w.resize(one.prices.per_kwh.size(), 0.0);
    for (std::size_t other = 0; other < week_.plan.groups.size(); ++other)
      for (std::size_t k = 0; k < one.other_load_w.size() && other != g; ++k)
        one.other_load_w[k] += week_.plan.groups[other].run.power_w[k];
    return one;
  }

  week::Effort quick() const {
    week::Effort effort = options_.effort;
    effort.gap_frac = std::max(effort.gap_frac, 2e-3);
    effort.most_searches = std::min(effort.most_searches, 12);
    effort.bound = false;
    effort.threads = 1;
    return effort;
  }

  /// Groups one after the other before the load of the rest. False: one has no schedule; nothing is changed.
  bool solve(const Groups& groups) {
    week::WeekPlan plan = week_.plan;
    if (!demand_is_priced(week_.task.prices)) {
      std::vector<week::WeekPlan> found(groups.size());
      week::over_threads(options_.threads, groups.size(),
                         [&](std::size_t i) { found[i] = week::optimise(alone(groups[i]), quick()); });
      for (std::size_t i = 0; i < groups.size(); ++i)
        if (!take(groups[i], std::move(found[i]), plan)) return false;
    } else {
      for (const std::size_t g : groups) {
        if (!take(g, week::optimise(alone(g), quick()), plan)) return false;
        week_.plan.groups[g] = plan.groups[g];
      }
    }
    week_.plan = std::move(plan);
    add_up();
    return true;
  }

  static bool take(std::size_t g, week::WeekPlan found, week::WeekPlan& plan) {
    if (!found.possible) return false;
    plan.groups[g] = std::move(found.groups.front());
    return true;
  }

  void add_up() {
    std::vector<double> power_w(week_.task.prices.per_kwh.size(), 0.0);
    for (const week::Schedule& group : week_.plan.groups)
      for (std::size_t k = 0; k < power_w.size(); ++k) power_w[k] += group.run.power_w[k];
    week_.plan.cost = week::cost_of(week_.task.prices, power_w, options_.step_s, week_.task.other_load_w);
    week_.plan.bound = std::min(week_.bound, week_.plan.cost.total());
  }

  // --- as few set-points as the controller takes ---

  int most_set_points() const { return settings::most_set_points(job_.controller); }

  /// Groups whose schedule uses too many set-points lose the least valuable ones. Returns those groups.
  Groups narrow(const Groups& groups) {
    Groups narrowed;
    for (const std::size_t g : groups) {
      const auto used = used_set_points(week_.task.groups[g].automaton, week_.plan.groups[g].run);
      if (static_cast<int>(used.size()) <= most_set_points()) continue;
      narrowed.push_back(g);
      week_.task.groups[g] = narrow_one(g, used);
    }
    return narrowed;
  }

  /// One set-point: the best of all; else the used ones without those that cost least to lose.
  week::GroupTask narrow_one(std::size_t g, std::set<int> kept) const {
    const week::GroupTask& all = week_.task.groups[g];
    if (most_set_points() == 1) {
      kept.clear();
      for (int s = 0; s < static_cast<int>(all.automaton.set_points_c.size()); ++s) kept.insert(s);
      std::erase_if(kept, [&](int s) { return is_off(all, s); });
      return only_set_points(all, best_of(g, kept, [](int s) { return std::set<int>{s}; }));
    }
    std::vector<int> best(kept.begin(), kept.end());
    while (static_cast<int>(kept.size()) > most_set_points()) {
      best = best_of(g, kept, [&](int s) {
        std::set<int> rest = kept;
        rest.erase(s);
        return rest;
      });
      std::set<int> rest(best.begin(), best.end());
      std::erase_if(rest, [&](int s) { return is_off(all, s); });
      if (rest.size() >= kept.size()) break;
      kept = std::move(rest);
    }
    return only_set_points(all, best);
  }

  static bool is_off(const week::GroupTask& task, int s) {
    return task.automaton.set_points_c[static_cast<std::size_t>(s)] == week::cable_off_c;
  }

  /// The cheapest for the group of the sets that `set_of` makes of each of `choices`, with off where there is
  /// one.
  template <class SetOf>
  std::vector<int> best_of(std::size_t g, const std::set<int>& choices, const SetOf& set_of) const {
    std::vector<std::vector<int>> sets;
    for (const int s : choices) {
      std::set<int> set = set_of(s);
      if (is_off(week_.task.groups[g], 0)) set.insert(0);
      sets.emplace_back(set.begin(), set.end());
    }
    std::vector<double> costs(sets.size(), inf);
    week::over_threads(options_.threads, sets.size(), [&](std::size_t i) {
      week::WeekTask task = alone(g);
      task.groups.front() = only_set_points(task.groups.front(), sets[i]);
      const week::WeekPlan plan = week::optimise(task, quick());
      if (plan.possible) costs[i] = plan.cost.total();
    });
    return sets[static_cast<std::size_t>(std::ranges::min_element(costs) - costs.begin())];
  }

  // --- runs that miss ---

  std::vector<double> set_points_c(std::size_t g) const {
    std::vector<double> by_step;
    const std::vector<double>& all = week_.task.groups[g].automaton.set_points_c;
    for (const int s : week_.plan.groups[g].run.set_point)
      by_step.push_back(all[static_cast<std::size_t>(s)]);
    return by_step;
  }

  void live(const Groups& groups) {
    week::over_threads(options_.threads, groups.size(), [&](std::size_t i) {
      week_.lived[groups[i]] = live_lumped(models_[groups[i]], set_points_c(groups[i]), options_.step_s);
    });
  }

  Miss miss_of(std::size_t g) const {
    return worst_miss(models_[g], needs_[g], week_.lived[g], week_.task.days.steps_a_day);
  }

  Groups missing() const {
    Groups groups = everyone();
    std::erase_if(groups, [&](std::size_t g) { return !(miss_of(g).by_k > 0); });
    return groups;
  }

  Lag lag_of(std::size_t g) const {
    return {models_[g], needs_[g], rest_[g], full_[g].automaton, week_.task.days.steps_a_day};
  }

  void raise_until_settled() {
    for (int round = 0; round < options_.rounds && !stopped(); ++round) {
      const Groups late = missing();
      if (late.empty()) break;
      ++week_.rounds;
      const bool last = round + 2 >= options_.rounds;
      for (const std::size_t g : late) {
        week::Needs& asked = week_.task.groups[g].needs;
        if (last) ask_flat(lag_of(g), asked);
        raise(lag_of(g), week_.plan.groups[g].run, week_.lived[g], round, asked);
      }
      if (!solve_again(late)) break;
      live(late);
    }
  }

  /// What was raised may need set-points that were dropped.
  bool solve_again(const Groups& groups) {
    const std::vector<week::GroupTask> before = week_.task.groups;
    if (!solve(groups)) {
      for (const std::size_t g : groups) week_.task.groups[g].automaton = full_[g].automaton;
      if (!solve(groups)) {
        week_.task.groups = before;
        return false;
      }
    }
    const Groups narrowed = narrow(groups);
    return narrowed.empty() || solve(narrowed);
  }

  // --- what comes out ---

  void finish() {
    for (const std::size_t g : everyone()) {
      const std::vector<double>& now = week_.task.groups[g].needs.least_c;
      for (std::size_t k = 0; k < now.size(); ++k)
        if (rest_[g].least_c[k] > -inf)
          week_.raised_k = std::max(week_.raised_k, now[k] - rest_[g].least_c[k]);
      if (const Miss miss = miss_of(g); miss.by_k > week_.missed_k) {
        week_.missed_k = miss.by_k;
        week_.missed_run = miss.run;
      }
    }
    week_.settled = !(week_.missed_k > 0);
    week_.timetable = timetable();
  }

  Timetable timetable() const {
    Timetable made{season_.name, {}};
    for (const job::ControlGroup& group : job_.groups)
      made.groups.push_back({group.id, {{0x7f, 0, group.maintain_c}}});
    for (const std::size_t g : everyone()) {
      std::vector<double> readings_c = set_points_c(g);
      for (double& c : readings_c) c += models_[g].sensor_offset_k;
      const auto at = static_cast<std::size_t>(models_[g].group);
      made.groups[at] = from_steps(job_.groups[at].id, readings_c, options_.step_s);
    }
    return made;
  }

  std::string why_impossible() const {
    for (const std::size_t g : everyone()) {
      if (possible_alone(g, [](week::WeekTask&) {})) continue;
      const auto needs = [](week::WeekTask& task) -> week::Needs& { return task.groups.front().needs; };
      std::string what = "what is asked of its runs, in as few periods";
      if (possible_alone(g, [&](week::WeekTask& task) { needs(task).hot_hold.reset(); }))
        what = "the weekly hot hold";
      else if (possible_alone(g, [&](week::WeekTask& task) { needs(task).band.reset(); }))
        what = "the longest time in the growth band";
      return fmt::format("group {}: no schedule of the controller keeps {}", models_[g].id, what);
    }
    return "no schedule found that keeps everything asked";
  }

  template <class Change>
  bool possible_alone(std::size_t g, const Change& change) const {
    week::WeekTask task{week_.task.days, {full_[g]}, week_.task.prices, {}};
    task.prices.demand.clear();
    change(task);
    return week::optimise(task, quick()).possible;
  }

  const job::Job& job_;
  std::span<const GroupModel> models_;
  std::span<const GroupNeeds> needs_;
  const SeasonOfYear& season_;
  SearchOptions options_;
  std::vector<week::Needs> rest_;      // before anything was raised
  std::vector<week::GroupTask> full_;  // with all set-points of the menu
  CheapestWeek week_;
};

}  // namespace

std::expected<Menu, std::string> menu_of(const job::Job& job, std::span<const GroupModel> models,
                                         std::span<const GroupNeeds> needs, const SearchOptions& options) {
  Menu menu;
  for (std::size_t g = 0; g < models.size(); ++g) {
    const auto asked = sensor_needs(job, models[g], needs[g], options);
    if (!asked) return std::unexpected(asked.error());
    menu.push_back(candidates_c(job, models[g], *asked));
  }
  return menu;
}

Menu joined(const Menu& one, const Menu& other) {
  Menu all = one;
  for (std::size_t g = 0; g < all.size(); ++g) {
    all[g].insert(all[g].end(), other[g].begin(), other[g].end());
    std::ranges::sort(all[g]);
    const auto same = [](double a, double b) { return a == b || std::abs(a - b) < 1e-6; };
    all[g].erase(std::ranges::unique(all[g], same).begin(), all[g].end());
  }
  return all;
}

std::optional<week::WeekTask> task_of(const job::Job& job, std::span<const GroupModel> models,
                                      std::span<const GroupNeeds> needs, const SeasonOfYear& season,
                                      const SearchOptions& options, const Menu& menu) {
  return Search(job, models, needs, season, options).task(menu);
}

int most_set_points(const job::ControllerLimits& controller) {
  using Clock = job::ControllerLimits::Clock;
  return controller.clock == Clock::set_points ? std::max(1, controller.set_points) : 1;
}

CheapestWeek search_week(const job::Job& job, std::span<const GroupModel> models,
                         std::span<const GroupNeeds> needs, const SeasonOfYear& season,
                         const SearchOptions& options, const Menu& menu) {
  return Search(job, models, needs, season, options).run(menu);
}

CheapestWeek cheapest_week(const job::Job& job, std::span<const GroupModel> models,
                           std::span<const GroupNeeds> needs, const SeasonOfYear& season,
                           const SearchOptions& options) {
  const auto menu = menu_of(job, models, needs, options);
  CheapestWeek week;
  if (!menu) {
    week.plan.impossible = menu.error();
    return week;
  }
  week = search_week(job, models, needs, season, options, *menu);
  if (week.plan.possible)
    week.timetable =
        simpler(models, needs, week.task.prices, week.task.other_load_w, options.step_s, week.timetable);
  return week;
}

}  // namespace firstdraw::settings
