#include "settings/hygiene.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "physics/inactivation.hpp"
#include "rules/rules.hpp"
#include "settings/group_limits.hpp"
#include "settings/guideline.hpp"
#include "units/quantity.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr double endless = std::numeric_limits<double>::infinity();
constexpr double hour_s = 3600, day_s = 86400;
/// Longest stay in the growth band where neither the guideline nor the user gives one (our choice, after the
/// 8 h of DVGW W 551).
constexpr double usual_band_h = 8;

std::string shown(const NeedsTask& task, double water_c) {
  return units::show(water_c, units::Kind::temperature, task.job.units);
}
std::string shown_s(const NeedsTask& task, double time_s) {
  return units::show(time_s, units::Kind::duration, task.job.units);
}

void ask_always(const NeedsTask& task, const Guideline& guideline, GroupNeeds& needs) {
  needs.always_c = guideline.distributed_c;
  needs.why.push_back(fmt::format("{} at all times in every run: {} ({}){}.", shown(task, needs.always_c),
                                  guideline.document.name, guideline.document.citation.basis,
                                  guideline.holding.given
                                      ? "; " + guideline.holding.citation.clause
                                      : "; it gives no hours, that it means all of them is our reading"));
}

/// At most `below_s` on end below what the guideline asks.
void ask_hours(const NeedsTask& task, const Guideline& guideline, GroupNeeds& needs) {
  const double allowed_h = guideline.holding.colder_h_per_day;
  needs.below_c = guideline.distributed_c;
  needs.most_below_s = hour_s * std::min(allowed_h, task.asked.band_h.value_or(endless));
  needs.why.push_back(
      fmt::format("Below {} for {} on end at most: {}, {} ({}){}.", shown(task, needs.below_c),
                  shown_s(task, needs.most_below_s), guideline.document.name,
                  guideline.holding.citation.clause, guideline.holding.citation.basis,
                  task.asked.band_h && *task.asked.band_h < allowed_h ? "; the job asks for less" : ""));
}

void ask_band(const NeedsTask& task, GroupNeeds& needs) {
  const rules::GrowthBand band = rules::growth_band();
  needs.below_c = band.high_c;
  needs.most_below_s = hour_s * task.asked.band_h.value_or(usual_band_h);
  needs.why.push_back(fmt::format(
      "Below {}, where Legionella multiplies, for {} on end at most: {}; band: {}.",
      shown(task, needs.below_c), shown_s(task, needs.most_below_s),
      task.asked.band_h ? "the job" : "assumed, no guideline gives hours for it (our choice, no source)",
      band.citation.text()));
}

/// A washing outlet that can give the group's water as it comes.
struct OpenOutlet {
  const job::Outlet* outlet;
  double limit_c;
  std::string clause;
};

bool passes_group(const draw::Scene& scene, const draw::Tap& tap, int group) {
  for (int run = tap.run; run != draw::none; run = scene.runs[at(run)].upstream)
    if (scene.runs[at(run)].group == group) return true;
  return false;
}

std::vector<OpenOutlet> open_outlets(const NeedsTask& task, int group) {
  std::vector<OpenOutlet> open;
  const job::Requirements& asked = task.job.requirements;
  for (const draw::Tap& tap : task.scene.taps) {
    const job::Outlet& outlet = task.job.outlets[at(tap.outlet)];
    const bool seen = !open.empty() && open.back().outlet == &outlet;
    if (seen || outlet.safe_outlet_valve || !passes_group(task.scene, tap, group)) continue;
    const rules::OutletLimit limit = rules::outlet_limit(asked.rules, outlet.fixture, asked.building_kind);
    if (!std::isnan(limit.water_c)) open.push_back({&outlet, limit.water_c, limit.citation.text()});
  }
  return open;
}

void lower(double most_c, std::string why, GroupNeeds& needs) {
  if (!(most_c < needs.most_c)) return;
  needs.most_c = most_c;
  needs.why.push_back(std::move(why));
}

void refuse(const NeedsTask& task, const std::string& because, GroupNeeds& needs) {
  needs.hot_hold_refused =
      fmt::format("No weekly hot hold at {}: {}.", shown(task, task.job.week.hot_hold_c), because);
}

/// Why the group must not or cannot be held hot; empty: nothing stands against it.
std::string against_heat(const NeedsTask& task, const GroupModel& model) {
  const double hot_c = task.job.week.hot_hold_c;
  for (const OpenOutlet& open : open_outlets(task, model.group))
    if (open.limit_c < hot_c)
      return fmt::format("outlet {} ({}) has no safe-outlet valve and may give {} ({})", open.outlet->id,
                         open.outlet->fixture, shown(task, open.limit_c), open.clause);
  const std::vector<double> asked(model.runs.size(), hot_c);
  if (std::isinf(set_point_for(model, asked)))
    return fmt::format("the coldest run of group {} does not get there; {}", model.id, model.most_because);
  return {};
}

}  // namespace

void ask_hygiene(const NeedsTask& task, GroupNeeds& needs) {
  needs.always_c = -endless;
  needs.most_below_s = endless;
  const Guideline guideline = guideline_of(task.job);
  const bool gives = task.asked.guideline_temperature && std::isfinite(guideline.distributed_c);
  if (gives && guideline.holding.colder_h_per_day > 0)
    ask_hours(task, guideline, needs);
  else if (gives)
    ask_always(task, guideline, needs);
  else
    ask_band(task, needs);
}

void limit_heat(const NeedsTask& task, const GroupModel& model, GroupNeeds& needs) {
  needs.most_c = endless;
  for (const ModelRun& run : model.runs) {
    if (run.job_run < 0) continue;
    const MaterialLimit limit = material_limit(task.job, task.plan, run.job_run);
    lower(limit.water_c - swing_k(task.job.groups[at(model.group)]),
          fmt::format("{} of run {} may reach {}.", limit.of, run.id, shown(task, limit.water_c)), needs);
  }
  const double delivered_c = task.job.supply.delivered_c;
  for (const OpenOutlet& open : open_outlets(task, model.group))
    lower(
        std::max(open.limit_c, delivered_c),
        fmt::format("Outlet {} ({}) has no safe-outlet valve and may give {} ({}): its pipes no hotter than "
                    "{}.{}",
                    open.outlet->id, open.outlet->fixture, shown(task, open.limit_c), open.clause,
                    open.limit_c < delivered_c ? "the water delivered" : "that",
                    open.limit_c < delivered_c ? " Already that is above the limit: fit a valve." : ""),
        needs);
}

double hot_hold_s(double log_reductions, double water_c) {
  const auto sets = physics::inactivation_sets();
  double hottest_c = -endless;
  for (const auto& set : sets) hottest_c = std::max(hottest_c, set.temp_c.back());
  const double counted_c = std::min(water_c, hottest_c);
  double slowest_s = 0;
  for (const auto& set : sets)
    if (counted_c >= set.temp_c.front() && counted_c <= set.temp_c.back())
      slowest_s = std::max(slowest_s, physics::decimal_reduction_s(set, counted_c));
  return slowest_s > 0 ? log_reductions * slowest_s : endless;
}

void ask_hot_hold(const NeedsTask& task, const GroupModel& model, GroupNeeds& needs) {
  constexpr double slack = 1e-9;
  if (!task.asked.hot_hold) return;
  const job::WeekWishes& wishes = task.job.week;
  const double time_s = hot_hold_s(wishes.hot_hold_log, wishes.hot_hold_c);
  if (!(time_s <= day_s))
    return refuse(task, "it would take longer than a day, or the published times do not reach down to it",
                  needs);
  if (const std::string because = against_heat(task, model); !because.empty())
    return refuse(task, because, needs);
  const double steps = std::max(1.0, std::ceil(time_s / task.step_s - slack));
  needs.hot_hold = week::HotHold{wishes.hot_hold_c, static_cast<int>(steps)};
  needs.why.push_back(fmt::format(
      "Once a week {} at {} or more in the coldest run: {:g} tenfold reductions of Legionella in free "
      "suspension by the slowest of the published times ({}); biofilm is not covered.",
      shown_s(task, steps * task.step_s), shown(task, wishes.hot_hold_c), wishes.hot_hold_log,
      physics::inactivation_sets().front().source));
}

}  // namespace firstdraw::settings
