#include "settings/comfort.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>

#include "settings/use_hours.hpp"
#include "units/quantity.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr double least_taken_k = 1;      // of the runout; its wall warms too (our choice, no source)
constexpr double below_delivered_k = 2;  // never ask for more (our choice, no source)
constexpr double seconds_an_hour = 3600;

using Taps = std::vector<const draw::TapUse*>;

const std::string& fixture_of(const NeedsTask& task, const draw::TapUse& use) {
  return task.job.outlets[at(task.scene.taps[at(use.tap)].outlet)].fixture;
}

std::map<std::string, Taps> taps_by_fixture(const NeedsTask& task) {
  std::map<std::string, Taps> taps;
  for (const draw::TapUse& use : task.demand.taps) taps[fixture_of(task, use)].push_back(&use);
  return taps;
}

/// The target of a fixture, else the one for every other; null: none asked.
const job::ComfortTarget* target_of(const job::Job& job, const std::string& fixture) {
  const auto& all = job.week.comfort;
  auto found = std::ranges::find(all, fixture, &job::ComfortTarget::fixture);
  if (found == all.end()) found = std::ranges::find(all, "*", &job::ComfortTarget::fixture);
  return found == all.end() ? nullptr : &*found;
}

double hot_flow_m3_per_s(const draw::TapUse& use, double hot_c, double cold_c) {
  return use.kind.mean_flow_m3_per_s * draw::hot_share(use.kind.use_c, hot_c, cold_c);
}

/// The tap's runout is filled once; more does not count here.
double filling_s(const NeedsTask& task, const draw::TapUse& use) {
  const draw::Tap& tap = task.scene.taps[at(use.tap)];
  const draw::SceneRun& runout = task.scene.runs[at(tap.run)];
  const double bore_m2 = 0.25 * std::numbers::pi * runout.inner_diameter_m * runout.inner_diameter_m;
  return runout.length_m * bore_m2 / hot_flow_m3_per_s(use, tap.hot_c, task.scene.supply.cold_c.at(0));
}

struct Ask {
  double run_c = 0;
  bool lowered = false;
};

Ask asked_of_run(const NeedsTask& task, const draw::TapUse& use) {
  const double wanted_c = task.scene.taps[at(use.tap)].hot_c + taken_by_runout_k(task.scene, use);
  const double most_c = task.job.supply.delivered_c - below_delivered_k;
  return {std::min(wanted_c, most_c), wanted_c > most_c};
}

/// One kind of fixture within one group.
struct Told {
  int taps = 0, lowered = 0, slow = 0;
  double least_c = std::numeric_limits<double>::infinity(), most_c = -least_c;
};

void raise(const NeedsTask& task, const std::vector<bool>& hours, std::size_t run, double run_c,
           GroupNeeds& needs) {
  const auto steps_an_hour = static_cast<std::size_t>(std::lround(seconds_an_hour / task.step_s));
  for (std::size_t s = 0; s < needs.steps; ++s) {
    double& least_c = needs.comfort_c[run * needs.steps + s];
    if (hours[s / steps_an_hour % hours_a_week]) least_c = std::max(least_c, run_c);
  }
}

std::string sentence(const NeedsTask& task, const job::ComfortTarget& target, const std::string& fixture,
                     std::ptrdiff_t hours, const Told& told) {
  const auto shown = [&](double c) { return units::show(c, units::Kind::temperature, task.job.units); };
  std::string text = fmt::format(
      "Hot at {} of draws at {} {}{}: their pipes hold {} in the {} busiest hours of the week (hot at a tap: "
      "VDI 6003 where it names the fixture; with what the runout takes, at least 1 K, our choice).",
      units::show(target.hot_frac * task.asked.comfort_frac_scale, units::Kind::fraction, task.job.units),
      told.taps, fixture, told.taps == 1 ? " tap" : " taps",
      told.most_c - told.least_c < 0.05 ? shown(told.most_c)
                                        : shown(told.least_c) + " to " + shown(told.most_c),
      hours);
  if (told.lowered > 0)
    text +=
        fmt::format(" At {} of them no more than 2 K below the water delivered can be asked.", told.lowered);
  if (told.slow > 0)
    text += fmt::format(" {} of them cannot keep {}: the runout alone takes longer to fill.", told.slow,
                        units::show(target.within_s, units::Kind::duration, task.job.units));
  return text;
}

Told ask_of_group(const NeedsTask& task, const job::ComfortTarget& target, const Taps& taps,
                  const std::vector<bool>& hours, const GroupModel& model, GroupNeeds& needs) {
  Told told;
  for (const draw::TapUse* use : taps) {
    const int run = feeding_run(task.scene, task.scene.taps[at(use->tap)], model);
    if (run == draw::none) continue;
    const Ask ask = asked_of_run(task, *use);
    raise(task, hours, at(run), ask.run_c, needs);
    ++told.taps;
    told.lowered += ask.lowered ? 1 : 0;
    told.slow += filling_s(task, *use) > target.within_s ? 1 : 0;
    told.least_c = std::min(told.least_c, ask.run_c);
    told.most_c = std::max(told.most_c, ask.run_c);
  }
  return told;
}

}  // namespace

int feeding_run(const draw::Scene& scene, const draw::Tap& tap, const GroupModel& model) {
  int run = scene.runs[at(tap.run)].upstream;
  while (run != draw::none && scene.runs[at(run)].group == draw::none) run = scene.runs[at(run)].upstream;
  if (run == draw::none || scene.runs[at(run)].group != model.group) return draw::none;
  const auto found = std::ranges::find(model.runs, scene.runs[at(run)].job_run, &ModelRun::job_run);
  return found == model.runs.end() ? draw::none : static_cast<int>(found - model.runs.begin());
}

double taken_by_runout_k(const draw::Scene& scene, const draw::TapUse& use) {
  const draw::Tap& tap = scene.taps[at(use.tap)];
  const draw::SceneRun& runout = scene.runs[at(tap.run)];
  const double rise_k = std::max(0.0, tap.hot_c - runout.air_c.at(0));
  const double lost_w =
      runout.length_m * rise_k * (runout.loss_u0 + rise_k * (runout.loss_u1 + rise_k * runout.loss_u2));
  const double flow_m3_per_s = hot_flow_m3_per_s(use, tap.hot_c, scene.supply.cold_c.at(0));
  return flow_m3_per_s > 0 ? std::max(least_taken_k, lost_w / (scene.water_j_per_m3_k * flow_m3_per_s))
                           : least_taken_k;
}

void ask_comfort(const NeedsTask& task, std::span<const GroupModel> models, std::span<GroupNeeds> needs) {
  for (const auto& [fixture, taps] : taps_by_fixture(task)) {
    const job::ComfortTarget* target = target_of(task.job, fixture);
    const double share_frac = target ? target->hot_frac * task.asked.comfort_frac_scale : 0;
    if (!(share_frac > 0)) continue;
    const std::vector<bool> hours = busiest_hours(draws_by_hour(taps), share_frac);
    for (std::size_t g = 0; g < models.size(); ++g) {
      const Told told = ask_of_group(task, *target, taps, hours, models[g], needs[g]);
      if (told.taps > 0)
        needs[g].why.push_back(sentence(task, *target, fixture, std::ranges::count(hours, true), told));
    }
  }
}

}  // namespace firstdraw::settings
