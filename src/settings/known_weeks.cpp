#include "settings/known_weeks.hpp"

#include <algorithm>
#include <tuple>

namespace firstdraw::settings {
namespace {

bool same(const week::Automaton& a, const week::Automaton& b) {
  const auto numbers = [](const week::Automaton& of) {
    return std::tie(of.grid.lowest_c, of.grid.step_k, of.grid.count, of.step_s, of.set_points_c, of.to,
                    of.energy_j);
  };
  return numbers(a) == numbers(b);
}

bool same(const week::ControllerLimits& a, const week::ControllerLimits& b) {
  const auto numbers = [](const week::ControllerLimits& of) {
    return std::tie(of.most_changes_a_day, of.begin_every_steps, of.least_change_k);
  };
  return numbers(a) == numbers(b);
}

bool same(const std::optional<week::GrowthBand>& a, const std::optional<week::GrowthBand>& b) {
  if (!a || !b) return a.has_value() == b.has_value();
  return std::tie(a->low_c, a->high_c, a->most_steps) == std::tie(b->low_c, b->high_c, b->most_steps);
}

bool same(const std::optional<week::HotHold>& a, const std::optional<week::HotHold>& b) {
  if (!a || !b) return a.has_value() == b.has_value();
  return std::tie(a->at_least_c, a->steps) == std::tie(b->at_least_c, b->steps);
}

bool same(const week::Needs& a, const week::Needs& b) {
  return a.least_c == b.least_c && a.most_c == b.most_c && same(a.band, b.band) &&
         same(a.hot_hold, b.hot_hold);
}

bool same(const week::DemandPrice& a, const week::DemandPrice& b) {
  return a.per_kw == b.per_kw && a.in_window == b.in_window;
}

/// Days, prices and how many groups; what is asked of them is not compared.
bool alike(const SteadyTask& a, const SteadyTask& b) {
  const week::Prices &prices = a.task.prices, &others = b.task.prices;
  return a.most_set_points == b.most_set_points && a.task.days.steps_a_day == b.task.days.steps_a_day &&
         a.task.days.program_of_day == b.task.days.program_of_day && prices.per_kwh == others.per_kwh &&
         std::ranges::equal(prices.demand, others.demand,
                            [](const auto& one, const auto& other) { return same(one, other); }) &&
         a.task.other_load_w == b.task.other_load_w && a.task.groups.size() == b.task.groups.size();
}

template <class Compare>
bool every_group(const SteadyTask& a, const SteadyTask& b, const Compare& compare) {
  return std::ranges::equal(a.task.groups, b.task.groups,
                            [&](const week::GroupTask& one, const week::GroupTask& other) {
                              return same(one.automaton, other.automaton) && same(one.limits, other.limits) &&
                                     compare(one.needs, other.needs);
                            });
}

bool no_more(const std::optional<week::GrowthBand>& easier, const std::optional<week::GrowthBand>& harder) {
  if (!easier) return true;
  return harder && easier->low_c >= harder->low_c && easier->high_c <= harder->high_c &&
         easier->most_steps >= harder->most_steps;
}

bool no_more(const std::optional<week::HotHold>& easier, const std::optional<week::HotHold>& harder) {
  if (!easier) return true;
  return harder && easier->at_least_c <= harder->at_least_c && easier->steps <= harder->steps;
}

bool no_more(const week::Needs& easier, const week::Needs& harder) {
  return std::ranges::equal(easier.least_c, harder.least_c, std::ranges::less_equal{}) &&
         easier.most_c >= harder.most_c && no_more(easier.band, harder.band) &&
         no_more(easier.hot_hold, harder.hot_hold);
}

}  // namespace

bool same(const SteadyTask& a, const SteadyTask& b) {
  return alike(a, b) &&
         every_group(a, b, [](const auto& one, const auto& other) { return same(one, other); });
}

bool asks_no_more(const SteadyTask& easier, const SteadyTask& harder) {
  return alike(easier, harder) &&
         every_group(easier, harder, [](const auto& one, const auto& other) { return no_more(one, other); });
}

bool keeps(const SteadyTask& task, const CheapestWeek& found) {
  if (!found.plan.possible) return false;
  for (std::size_t g = 0; g < task.task.groups.size(); ++g) {
    // The week may have been found among fewer set-points: its numbers count those.
    const week::GroupTask asked{found.task.groups[g].automaton, task.task.groups[g].needs,
                                task.task.groups[g].limits};
    if (week::first_breach(asked, task.task.days, found.plan.groups[g].run).what != week::Breach::What::none)
      return false;
  }
  return true;
}

void KnownWeeks::add(SteadyTask task, CheapestWeek week) {
  known_.push_back({std::move(task), std::move(week)});
}

const CheapestWeek* KnownWeeks::find(const SteadyTask& task) const {
  auto found = std::ranges::find_if(known_, [&](const Known& known) { return same(known.task, task); });
  if (found == known_.end())
    found = std::ranges::find_if(known_, [&](const Known& known) {
      return asks_no_more(known.task, task) && keeps(task, known.week);
    });
  return found == known_.end() ? nullptr : &found->week;
}

}  // namespace firstdraw::settings
