#include "settings/findings.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "plan/check_context.hpp"
#include "plan/checks.hpp"
#include "plan/run_classes.hpp"
#include "rules/rules.hpp"
#include "settings/kept.hpp"
#include "units/quantity.hpp"

namespace firstdraw::settings {
namespace {

using plan::Findings;
using units::Kind;

// When something is worth a word: our choices, no source.
constexpr double gap_worth_a_word_frac = 0.05, saving_worth_a_word_frac = 0.02;
constexpr std::size_t names_shown = 5;

/// "R1, R2 and 3 more".
std::string names(const std::vector<std::string>& ids) {
  const std::size_t shown = std::min(ids.size(), names_shown);
  std::string text = fmt::format("{}", fmt::join(ids.begin(), ids.begin() + static_cast<long>(shown), ", "));
  if (ids.size() > shown) text += fmt::format(" and {} more", ids.size() - shown);
  return text;
}

struct View {
  const job::Job& job;
  const plan::Plan& plan;
  const std::vector<GroupModel>& models;
  const WeekAnswer& week;
  plan::Show show;

  std::string money(double amount) const { return fmt::format("{:.0f} {}", amount, job.economics.currency); }
  std::string hours(double s) const { return units::show(s, Kind::duration, job.units); }
  plan::Subject group(const std::string& id) const {
    return plan::about(job.groups.at(static_cast<std::size_t>(plan::index_of(job.groups, id))));
  }
};

void impossible(const View& view, Findings& found) {
  for (const std::string& why : view.week.unmet)
    found.add("week-impossible", plan::about_site(), why,
              "Ease what it names, or give the coldest runs more insulation or cable.");
}

void cold_runs(const View& view, Findings& found) {
  for (const GroupModel& model : view.models) {
    if (model.hopeless.empty()) continue;
    found.add(
        "week-run-cold", view.group(model.id),
        fmt::format(
            "Group {}: {} of {} runs stay below what is asked of them even at {}, as high as the group may "
            "be set ({}): {}.",
            model.id, model.hopeless.size(), model.runs.size(), view.show.temperature(model.most_settable_c),
            model.most_because, names(model.hopeless)),
        "Give these runs thicker insulation, more cable or a group of their own.");
  }
}

/// Heated runs of a group that did not keep what is asked, hopeless ones aside: they are told above.
std::vector<std::string> short_runs(const View& view, const GroupModel& model) {
  std::vector<std::string> ids;
  for (const SeasonAnswer& season : view.week.seasons)
    for (const RunProof& run : season.proof.runs) {
      const job::Run& there = view.job.runs.at(static_cast<std::size_t>(run.run));
      if (there.group != model.id || kept(view.job, run)) continue;
      if (std::ranges::find(model.hopeless, there.id) != model.hopeless.end()) continue;
      if (std::ranges::find(ids, there.id) == ids.end()) ids.push_back(there.id);
    }
  return ids;
}

void runs_short(const View& view, Findings& found) {
  for (const GroupModel& model : view.models) {
    const std::vector<std::string> ids = short_runs(view, model);
    if (ids.empty()) continue;
    found.add(
        "week-run-short", view.group(model.id),
        fmt::format(
            "Group {}: {} of {} runs keep what is asked of them in fewer than {} of the simulated buildings: "
            "{}.",
            model.id, ids.size(), model.runs.size(), plan::percent(view.job.week.confidence_frac),
            names(ids)),
        "Trace untraced pipe above these runs, move the sensor to a run that little water passes, or give "
        "them "
        "more insulation or cable.");
  }
}

void comfort(const View& view, Findings& found) {
  for (const SeasonAnswer& season : view.week.seasons)
    for (const ComfortAnswer& answer : season.proof.comfort) {
      if (std::isnan(answer.reached_frac) || answer.reached_frac >= answer.asked_frac) continue;
      found.add("week-comfort-missed", plan::about_site(),
                fmt::format("{}: {} of the draws at {} are hot within {:.0f} s, {} were asked.",
                            season.season.name, plan::percent(answer.reached_frac), answer.fixture,
                            answer.within_s, plan::percent(answer.asked_frac)),
                "Shorten the runouts of the slowest taps, or set a target that the building can reach.");
    }
}

/// Runs of one group that stood too long in the growth band, longest first.
std::vector<const RunProof*> long_in_band(const View& view, const Proof& proof, const std::string& group,
                                          double most_s) {
  std::vector<const RunProof*> runs;
  for (const RunProof& run : proof.runs)
    if (view.job.runs.at(static_cast<std::size_t>(run.run)).group == group && run.longest_in_band_s > most_s)
      runs.push_back(&run);
  std::ranges::sort(runs, std::ranges::greater{}, &RunProof::longest_in_band_s);
  return runs;
}

double most_in_band_s(const View& view) {
  constexpr double usual_h = 8;
  return view.job.week.band_h.value_or(usual_h) * draw::hour_s;
}

void band(const View& view, Findings& found) {
  for (const SeasonAnswer& season : view.week.seasons)
    for (const job::ControlGroup& group : view.job.groups) {
      const auto runs = long_in_band(view, season.proof, group.id, most_in_band_s(view));
      if (runs.empty()) continue;
      std::vector<std::string> ids;
      for (const RunProof* run : runs) ids.push_back(view.job.runs[static_cast<std::size_t>(run->run)].id);
      found.add("week-band-long", view.group(group.id),
                fmt::format(
                    "{}, group {}: water stands in the growth band for up to {} on end, {} were allowed: {}.",
                    season.season.name, group.id, view.hours(runs.front()->longest_in_band_s),
                    view.hours(most_in_band_s(view)), names(ids)),
                "Insulate or heat these runs better, or have them flushed as the water management plan says.",
                rules::growth_band().citation);
    }
}

void scald(const View& view, Findings& found) {
  std::vector<std::string> taps;
  const TapScald* hottest = nullptr;
  for (const SeasonAnswer& season : view.week.seasons)
    for (const TapScald& tap : season.proof.scald) {
      if (tap.valve || !(tap.hottest_c > tap.limit_c)) continue;
      if (hottest == nullptr || tap.hottest_c > hottest->hottest_c) hottest = &tap;
      if (std::ranges::find(taps, tap.tap) == taps.end()) taps.push_back(tap.tap);
    }
  if (hottest == nullptr) return;
  found.add(
      "week-scald", plan::about_site(),
      fmt::format(
          "Water of up to {} reaches taps without a safe-outlet valve, {} are allowed there: {}. It burns "
          "adult skin in about {:.1f} s, children's and old people's sooner.",
          view.show.temperature(hottest->hottest_c), view.show.temperature(hottest->limit_c), names(taps),
          hottest->second_degree_s),
      "Fit safe-outlet valves at these taps; no set-point that keeps the pipes hygienic is safe for skin.");
}

void unseen_faults(const View& view, Findings& found) {
  for (const GroupAlarms& group : view.week.alarms) {
    std::vector<std::string> unseen, otherwise;
    for (const Planted& planted : group.planted) {
      if (planted.in_time) continue;
      unseen.push_back(planted.fault);
      if (!planted.otherwise.empty() && std::ranges::find(otherwise, planted.otherwise) == otherwise.end())
        otherwise.push_back(planted.otherwise);
    }
    if (unseen.empty()) continue;
    found.add("week-unseen-fault", view.group(group.group),
              fmt::format("Group {}: no alarm shows within {}: {}.", group.group,
                          view.hours(view.job.week.catch_within_s), names(unseen)),
              otherwise.empty() ? "Test the group at fixed intervals."
                                : fmt::format("{}", fmt::join(otherwise, " ")));
  }
}

void sensor_places(const View& view, Findings& found) {
  for (const SensorChoice& best : view.week.sensors) {
    if (!best.best || best.present) continue;
    const auto now = std::ranges::find_if(view.week.sensors, [&](const SensorChoice& choice) {
      return choice.group == best.group && choice.present;
    });
    if (now == view.week.sensors.end()) continue;
    const bool helps = best.keeps && !now->keeps;
    if (!helps && now->cost_per_year - best.cost_per_year < saving_worth_a_word_frac * now->cost_per_year)
      continue;
    found.add(
        "week-sensor-place", view.group(best.group),
        fmt::format(
            "Group {}: with the sensor on {} at {} the group would cost {} a year, on {} it costs {}{}.",
            best.group, best.run, view.show.temperature(best.set_point_c), view.money(best.cost_per_year),
            now->run, view.money(now->cost_per_year), helps ? " and leaves runs colder than asked" : ""),
        fmt::format("Move the sensor to {} and search the week again.", best.run));
  }
}

void energy_code(const View& view, Findings& found) {
  const job::Requirements& asked = view.job.requirements;
  const auto guideline = rules::find_guideline(asked.guideline);
  if (asked.energy_code == "none" || !guideline || std::isnan(guideline->distributed_c)) return;
  found.add(
      "week-energy-code", plan::about_site(),
      fmt::format(
          "{} asks for {} in the pipes; energy codes ({}) want heating of pipes switched off or down when "
          "nobody draws.",
          guideline->name, view.show.temperature(guideline->distributed_c), asked.energy_code),
      "Have the person responsible for the water and the authority having jurisdiction decide, in writing.",
      guideline->citation);
}

void gap(const View& view, Findings& found) {
  const double cost = view.week.model_cost_per_year, bound = view.week.bound_per_year;
  if (!(cost - bound > gap_worth_a_word_frac * cost)) return;
  found.add(
      "week-gap", plan::about_site(),
      fmt::format("By the reduced model this week costs {} a year; no week can cost less than {}.",
                  view.money(cost), view.money(bound)),
      "Nothing has to be done; part of the gap is what the larger models asked for on top of the search's.");
}

void differs(const View& view, Findings& found) {
  const CostOfYear* week = view.week.cost("week");
  const CostOfYear* described = view.week.cost("as-described");
  if (week == nullptr || described == nullptr ||
      view.week.seasons.front().timetable.groups == timetable_of(view.job).groups)
    return;
  found.add("week-settings-differ", plan::about_site(),
            fmt::format("The week of job.toml costs {} a year, the settings found {}.",
                        view.money(described->total), view.money(week->total)),
            "Take the settings over with firstdraw week JOB --toml, or keep the job's and say why.");
}

}  // namespace

std::vector<plan::Finding> week_findings(const job::Job& job, const plan::Plan& plan,
                                         const std::vector<GroupModel>& models, const WeekAnswer& week) {
  const View view{job, plan, models, week, plan::Show(job.units)};
  Findings found;
  for (const auto check :
       {impossible, cold_runs, runs_short, comfort, band, scald, unseen_faults, sensor_places, gap})
    check(view, found);
  if (!week.seasons.empty()) {
    energy_code(view, found);
    differs(view, found);
  }
  std::vector<plan::Finding> all = found.take();
  plan::apply_acceptances(job, all);
  plan::sort_findings(all);
  return all;
}

}  // namespace firstdraw::settings
