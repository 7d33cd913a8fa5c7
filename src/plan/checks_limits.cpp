// What pipe, insulation and cable can bear, above all when the control sticks on; and the insulation itself.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <optional>
#include <tuple>

#include "plan/check_classes.hpp"
#include "plan/check_context.hpp"
#include "plan/code_minimum.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

using physics::Insulation;

/// Insulations by the names the runs use, looked up once.
class Insulations {
 public:
  const Insulation* of(const job::Run& run) {
    const auto [entry, fresh] = known_.try_emplace(run.insulation);
    if (fresh)
      if (auto found = physics::find_insulation(run.insulation)) entry->second = std::move(*found);
    return entry->second ? &*entry->second : nullptr;
  }

 private:
  std::map<std::string_view, std::optional<Insulation>> known_;
};

bool is_wrapped(const RunPlan& planned) {
  return planned.insulation.outer_diameter_m > planned.insulation.bore_m && planned.insulation.bore_m > 0;
}

/// The lowest limit of pipe, insulation and powered cable on a run.
struct Limit {
  double temp_c = 0;
  std::string_view finding;
  std::string of;
  rules::Citation citation;
};

Limit lowest_limit(const Review::Traced& traced, const Insulation* insulation) {
  Limit lowest{traced.run.pipe.max_c,
               "pipe-too-hot",
               traced.run.pipe.material + " pipe",
               {traced.run.pipe.source, "", "highest service temperature", "read"}};
  if (insulation && is_wrapped(traced.planned) && insulation->max_c < lowest.temp_c)
    lowest = {insulation->max_c,
              "insulation-too-hot",
              insulation->name,
              {insulation->source, "", "service limit", "read"}};
  if (traced.cable.max_powered_c < lowest.temp_c)
    lowest = {traced.cable.max_powered_c,
              "cable-too-hot",
              "powered cable " + traced.cable.name,
              {traced.cable.source, "", "maximum powered temperature", "read"}};
  return lowest;
}

/// Stuck on with the cut-out working: the sensor's run stops at the cut-out, others are hotter by what they
/// differ when stuck on for good, at most.
double with_cutout_c(const Review& review, const Review::Traced& traced) {
  const double stuck_c = traced.planned.stuck_on_c;
  const int group = review.survey.group_of_run[at(traced.index)];
  const int sensor = review.survey.sensor_of_group[at(group)];
  if (traced.group.high_cutout_c <= 0 || sensor == piping::none) return stuck_c;
  const double hotter_k = std::max(0.0, stuck_c - review.plan.runs[at(sensor)].stuck_on_c);
  return std::min(stuck_c, traced.group.high_cutout_c + hotter_k);
}

/// 0 unless the run passes its lowest limit for good and `passes_with_cutout` is whether the cut-out leaves
/// it above.
double stuck_excess_k(const Review& review, const Review::Traced& traced, const Limit& limit,
                      bool passes_with_cutout) {
  const bool passes = with_cutout_c(review, traced) > limit.temp_c + 1e-6;
  return passes == passes_with_cutout ? traced.planned.stuck_on_c - limit.temp_c - 1e-6 : 0;
}

void report_stuck(const Review& review, const ClassExcess& alike, const Limit& limit, Findings& found) {
  const auto& traced = *alike.worst;
  const bool late = traced.group.high_cutout_c > 0;
  found.add(limit.finding, about(traced.run),
            fmt::format("With the control stuck on, run {}{} reaches {}; {} may reach {}{}.", traced.run.id,
                        alike.also(), review.show.temperature(traced.planned.stuck_on_c), limit.of,
                        review.show.temperature(limit.temp_c),
                        late ? fmt::format(", and the cut-out at {} does not prevent it",
                                           review.show.temperature(traced.group.high_cutout_c))
                             : ""),
            "Use a weaker cable, materials that bear it, or a cut-out below the limit that is independent of "
            "the controller.",
            limit.citation);
}

void check_stuck_on(const Review& review, Findings& found) {
  Insulations insulations;
  const auto limit = [&](const auto& traced) { return lowest_limit(traced, insulations.of(traced.run)); };
  for (const auto& alike : worst_of_classes(
           review, [&](const auto& traced) { return stuck_excess_k(review, traced, limit(traced), true); }))
    report_stuck(review, alike, limit(*alike.worst), found);
  for (const auto& alike : worst_of_groups(review, [&](const auto& traced) {
         return stuck_excess_k(review, traced, limit(traced), false);
       })) {
    const auto lowest = limit(*alike.worst);
    found.add(
        "cutout-relied-on", about(alike.worst->run),
        fmt::format("With the control stuck on and no cut-out, run {}{} would reach {}; {} may reach {}.",
                    alike.worst->run.id, alike.also(),
                    review.show.temperature(alike.worst->planned.stuck_on_c), lowest.of,
                    review.show.temperature(lowest.temp_c)),
        fmt::format("Set the cut-out of group {} to {}, with a sensor and contactor of its own, and test it.",
                    alike.worst->group.id, review.show.temperature(alike.worst->group.high_cutout_c)),
        lowest.citation);
  }
}

void check_hot_water_on_cable(const Review& review, Findings& found) {
  const auto excess = [&](const auto& traced) {
    return review.survey.supplied_c(traced.index) - traced.cable.max_powered_c - 0.05;
  };
  for (const auto& alike : worst_of_classes(review, excess))
    found.add("cable-hot-water", about(alike.worst->run),
              fmt::format("Water of {} passes run {}{}; powered, {} may be at {} at most.",
                          review.show.temperature(review.survey.supplied_c(alike.worst->index)),
                          alike.worst->run.id, alike.also(), alike.worst->cable.name,
                          review.show.temperature(alike.worst->cable.max_powered_c)),
              "Temper the water before the traced runs, or use a cable rated for it.",
              {alike.worst->cable.source, "", "maximum powered temperature", "read"});
}

void check_cutout_height(const Review& review, Findings& found) {
  Insulations insulations;
  std::map<int, Limit> lowest;
  for (const auto& traced : review.traced) {
    const auto limit = lowest_limit(traced, insulations.of(traced.run));
    const auto [place, fresh] = lowest.try_emplace(review.survey.group_of_run[at(traced.index)], limit);
    if (!fresh && limit.temp_c < place->second.temp_c) place->second = limit;
  }
  for (const auto& [index, limit] : lowest) {
    const auto& group = review.job.groups[at(index)];
    if (group.high_cutout_c <= limit.temp_c) continue;
    found.add("cutout-too-high", about(group),
              fmt::format("Group {} cuts out at {}; {} in it may reach only {}.", group.id,
                          review.show.temperature(group.high_cutout_c), limit.of,
                          review.show.temperature(limit.temp_c)),
              "Set the cut-out below that limit.", limit.citation);
  }
}

void check_clearance(const Review& review, Findings& found) {
  const auto needed_m = [](const auto& traced) {
    return physics::clearance_bore_m(traced.run.pipe.outer_diameter_m, traced.cable.section,
                                     traced.planned.passes);
  };
  const auto excess = [&](const auto& traced) {
    return is_wrapped(traced.planned) ? needed_m(traced) - traced.planned.insulation.bore_m - 1e-6 : 0;
  };
  for (const auto& alike : worst_of_classes(review, excess))
    found.add("insulation-small", about(alike.worst->run),
              fmt::format("Insulation for {} has a bore of {}; pipe and cable of run {}{} need {}.",
                          alike.worst->planned.insulation.made_for,
                          review.show.size(alike.worst->planned.insulation.bore_m), alike.worst->run.id,
                          alike.also(), review.show.size(needed_m(*alike.worst))),
              "Order the next size that clears both.",
              {alike.worst->planned.insulation.source, "", "bore", "read"});
}

void check_bare(const Review& review, Findings& found) {
  for (const auto& alike : worst_of_classes(
           review, [](const auto& traced) { return is_wrapped(traced.planned) ? 0.0 : traced.run.length_m; }))
    found.add("traced-bare", about(alike.worst->run),
              fmt::format("Run {}{} is traced but has no insulation.", alike.worst->run.id, alike.also()),
              "Enter its insulation in runs.csv.",
              {"Firstdraw", "", "steady heat balance of the run", "computed"});
}

/// The energy code is asked once for each different pipe, insulation and temperature.
class CodeMinimum {
 public:
  explicit CodeMinimum(const Review& review) : code_(review.job.requirements.energy_code) {}
  const std::optional<rules::MinimumThickness>& of(const Review::Traced& traced) {
    const job::Run& run = traced.run;
    const auto [entry, fresh] = known_.try_emplace(
        {run.pipe.outer_diameter_m, run.pipe.wall_m, run.pipe.size, traced.group.maintain_c, run.insulation});
    if (fresh)
      if (const auto* insulation = insulations_.of(run))
        entry->second = code_minimum(code_, run, *insulation, traced.group.maintain_c);
    return entry->second;
  }

 private:
  std::string_view code_;
  Insulations insulations_;
  std::map<std::tuple<double, double, std::string_view, double, std::string_view>,
           std::optional<rules::MinimumThickness>>
      known_;
};

void check_code_thickness(const Review& review, Findings& found) {
  CodeMinimum code(review);
  const auto excess = [&](const Review::Traced& traced) {
    const auto& least = code.of(traced);
    return least ? least->thickness_m - traced.planned.insulation.nominal_thickness_m - 1e-5 : 0;
  };
  for (const auto& alike : worst_of_classes(review, excess)) {
    const auto& least = *code.of(*alike.worst);
    found.add("insulation-below-code", about(alike.worst->run),
              fmt::format("Run {}{} has {} of insulation; the energy code wants {}.", alike.worst->run.id,
                          alike.also(), review.show.size(alike.worst->planned.insulation.nominal_thickness_m),
                          review.show.size(least.thickness_m)),
              "Use at least that thickness, or have the authority accept an alternative.", least.citation);
  }
}

constexpr PlanCheck checks[] = {check_stuck_on,      check_hot_water_on_cable,
                                check_cutout_height, check_clearance,
                                check_bare,          check_code_thickness};

}  // namespace

std::span<const PlanCheck> limit_checks() { return checks; }

}  // namespace firstdraw::plan
