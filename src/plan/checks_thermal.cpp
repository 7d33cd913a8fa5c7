// Does every run hold, together and in the worst case?
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <map>
#include <numbers>

#include "plan/check_classes.hpp"
#include "plan/check_context.hpp"
#include "plan/check_electrical.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

rules::Citation balance() { return {"Firstdraw", "", "steady heat balance of the run", "computed"}; }

void check_has_cable(const Review& review, Findings& found) {
  for (std::size_t r = 0; r < review.plan.runs.size(); ++r) {
    const auto& run = review.job.runs[r];
    if (!run.traced || !(run.length_m > 0) || review.survey.group_of_run[r] == piping::none) continue;
    if (review.plan.runs[r].cable != piping::none) continue;
    found.add("no-cable", about(run), fmt::format("No allowed cable suits run {}.", run.id),
              "Allow a stronger cable, more passes or thicker insulation in job.toml.", balance());
  }
}

void check_worst_case(const Review& review, Findings& found) {
  for (const auto& traced : review.traced) {
    const double spare_frac = spare_without_drop_frac(review, traced.index);  // with it: far-voltage
    if (!(spare_frac < -1e-9)) continue;
    const auto air = job::air_around(review.job, traced.run);
    found.add(
        "hold-cold", about(traced.run),
        fmt::format(
            "Run {} lacks {} of the output it needs to hold {} at air of {}, lowest voltage, weakest cable "
            "and {} margin.",
            traced.run.id, percent(-spare_frac), review.show.temperature(traced.group.maintain_c),
            review.show.temperature(air.low_c), percent(review.job.requirements.margin_frac)),
        "Use thicker insulation, a stronger cable or a second pass.", balance());
  }
}

double above_maintain_k(const Review::Traced& traced) {
  return traced.planned.at_maintain_c - traced.group.maintain_c;
}

std::string settles(const Review& review, const ClassExcess& alike) {
  const auto& traced = *alike.worst;
  return fmt::format("Run {}{} settles at {} while group {} is held at {} by its sensor", traced.run.id,
                     alike.also(), review.show.temperature(traced.planned.at_maintain_c), traced.group.id,
                     review.show.temperature(traced.group.maintain_c));
}

void check_shared_duty(const Review& review, Findings& found) {
  const auto too_cold = [](const auto& traced) {
    return -above_maintain_k(traced) - traced.group.hold_tolerance_k - 1e-6;
  };
  for (const auto& alike : worst_of_classes(review, too_cold))
    found.add("hold-shared", about(alike.worst->run),
              fmt::format("{}: {} colder than its tolerance allows.", settles(review, alike),
                          review.show.difference(too_cold(*alike.worst))),
              "Put the sensor on this run, insulate it better, or give it a group of its own.", balance());

  const auto too_hot = [](const auto& traced) {
    constexpr double hot_k = 5;
    return above_maintain_k(traced) - std::max(hot_k, traced.group.hold_tolerance_k);
  };
  for (const auto& alike : worst_of_groups(review, too_hot))
    found.add("hold-hot", about(alike.worst->run),
              fmt::format("{}: {} hotter.", settles(review, alike),
                          review.show.difference(above_maintain_k(*alike.worst))),
              "Give it a group of its own, or level the insulation between the runs.", balance());
}

/// The run of the group that is most often the first to fail; null when none ever is.
const Review::Traced* first_to_fail(const Review& review, int group) {
  const Review::Traced* weakest = nullptr;
  for (const auto& traced : review.traced) {
    if (review.survey.group_of_run[at(traced.index)] != group || !(traced.planned.first_to_fail_prob > 0))
      continue;
    if (!weakest || traced.planned.first_to_fail_prob > weakest->planned.first_to_fail_prob)
      weakest = &traced;
  }
  return weakest;
}

void check_probability(const Review& review, Findings& found) {
  constexpr double likely = 0.9;
  if (review.plan.options.samples <= 0) return;
  for (std::size_t g = 0; g < review.plan.groups.size(); ++g) {
    const auto& planned = review.plan.groups[g];
    if (review.survey.traced_runs[g].empty() || !(planned.holds_prob < likely)) continue;
    const auto* weakest = first_to_fail(review, static_cast<int>(g));
    const auto& group = review.job.groups[g];
    found.add(
        "hold-unlikely", about(group),
        fmt::format("Tolerances considered, every run of group {} holds {} with a probability of {:.0f} %{}.",
                    group.id, review.show.temperature(group.maintain_c - group.hold_tolerance_k),
                    100 * planned.holds_prob,
                    weakest ? fmt::format("; run {} is most often the first to fail", weakest->run.id) : ""),
        "Add insulation or output where it fails first, move the sensor there, or accept the risk with a "
        "reason.",
        balance());
  }
}

void check_extrapolation(const Review& review, Findings& found) {
  struct Beyond {
    double temp_c = 0;
    std::vector<std::string> runs;
  };
  std::map<int, Beyond> beyond;
  for (const auto& traced : review.traced) {
    const auto& output = traced.cable.output;
    if (output.empty()) continue;
    for (const double temp_c : {traced.planned.worst_cold_c, traced.planned.at_maintain_c}) {
      if (temp_c >= output.front().pipe_c - 1e-9 && temp_c <= output.back().pipe_c + 1e-9) continue;
      Beyond& cable = beyond[traced.planned.cable];
      cable.temp_c = temp_c;
      cable.runs.push_back(traced.run.id);
      break;
    }
  }
  for (const auto& [index, cable] : beyond) {
    const auto& sheet = review.job.cables[at(index)];
    found.add(
        "sheet-extrapolated", about(sheet),
        fmt::format(
            "Output of {} is tabulated from {} to {}, but {} runs work outside it, for example {} at {}.",
            sheet.name, review.show.temperature(sheet.output.front().pipe_c),
            review.show.temperature(sheet.output.back().pipe_c), cable.runs.size(), cable.runs.back(),
            review.show.temperature(cable.temp_c)),
        "Ask the maker for the output there and extend the sheet; the end value was held constant.",
        {sheet.source, "", "output table", "read"});
  }
}

void check_derating(const Review& review, Findings& found) {
  constexpr double noticeable = 0.98;
  for (const auto& alike :
       worst_of_classes(review, [](const auto& traced) { return noticeable - traced.planned.derating_frac; }))
    found.add(
        "plastic-derated", about(alike.worst->run),
        fmt::format(
            "On {} pipe the cable of run {}{} gives {} of its data-sheet output; this is allowed for.",
            alike.worst->run.pipe.material, alike.worst->run.id, alike.also(),
            percent(alike.worst->planned.derating_frac)),
        "Follow the cable maker's instructions for plastic pipe, as a rule an aluminium tape over the cable.",
        {"Firstdraw", "", "temperature around the wall, docs/physics.md", "computed"});
}

void check_warm_up(const Review& review, Findings& found) {
  constexpr double long_s = 12 * 3600;
  for (std::size_t g = 0; g < review.plan.groups.size(); ++g) {
    const double heat_up_s = review.plan.groups[g].heat_up_s;
    if (review.survey.traced_runs[g].empty() || !(heat_up_s > long_s)) continue;
    const auto& group = review.job.groups[g];
    found.add(
        "warm-up-long", about(group),
        std::isinf(heat_up_s) ? fmt::format("From cold, group {} never reaches {} by its cable alone.",
                                            group.id, review.show.temperature(group.maintain_c))
                              : fmt::format("From cold, group {} needs {:.0f} h to reach {}.", group.id,
                                            heat_up_s / 3600, review.show.temperature(group.maintain_c)),
        "Flush with hot water from the heater after a shutdown, before the pipes are given back to use.",
        balance());
  }
}

void check_passes(const Review& review, Findings& found) {
  const auto excess = [](const Review::Traced& traced) {
    if (traced.planned.passes < 2) return 0.0;
    const double around_m = std::numbers::pi * traced.run.pipe.outer_diameter_m;
    return 2 * traced.planned.passes * traced.cable.section.width_m -
           around_m;  // each with a gap of its width
  };
  for (const auto& alike : worst_of_classes(review, excess))
    found.add(
        "passes-do-not-fit", about(alike.worst->run),
        fmt::format("{} passes of a cable {} wide, with gaps as wide, do not fit around run {} of {}{}.",
                    alike.worst->planned.passes, review.show.size(alike.worst->cable.section.width_m),
                    alike.worst->run.id, review.show.size(alike.worst->run.pipe.outer_diameter_m),
                    alike.also()),
        "Use fewer passes of a stronger cable.");
}

constexpr PlanCheck checks[] = {check_has_cable,     check_worst_case, check_shared_duty, check_probability,
                                check_extrapolation, check_derating,   check_warm_up,     check_passes};

}  // namespace

std::span<const PlanCheck> thermal_checks() { return checks; }

}  // namespace firstdraw::plan
