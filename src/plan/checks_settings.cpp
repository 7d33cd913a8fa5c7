// What is to be keyed into controllers and what hygiene guidance, code and owner say to it.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

#include "plan/check_context.hpp"

namespace firstdraw::plan {

namespace {

/// Guidelines print whole degrees of one scale; 120 °F and 49 °C mean the same.
constexpr double rounding_k = 0.15;

bool sets_back(const job::ControlGroup& group) {
  return group.setback_c > 0 && group.setback_c < group.maintain_c - 0.05;
}

rules::Citation settings_rule() {
  return {"Firstdraw", "", "alarms and cut-out enclose the maintain temperature", "computed"};
}

void check_setback_order(const Survey& survey, Findings& found) {
  for (const auto& group : survey.job.groups)
    if (group.setback_c > group.maintain_c + 0.05)
      found.add(
          "setback-above-maintain", about(group),
          fmt::format("Group {} sets back to {}, above its maintain temperature of {}.", group.id,
                      survey.show.temperature(group.setback_c), survey.show.temperature(group.maintain_c)),
          "Exchange or correct the two temperatures.", settings_rule());
}

void check_cutout(const Survey& survey, Findings& found) {
  for (const auto& group : survey.job.groups) {
    if (group.kind == job::ControlKind::entered_ambient && group.high_cutout_c <= 0)
      continue;  // open-loop says so
    if (group.high_cutout_c <= 0)
      found.add("cutout-none", about(group),
                fmt::format("Group {} has no high-temperature cut-out.", group.id),
                "Enter cutout of the group, above its maintain temperature.");
    else if (group.high_cutout_c <= group.maintain_c + group.hold_tolerance_k)
      found.add(
          "cutout-low", about(group),
          fmt::format("Group {} cuts out at {}, not above its maintain temperature of {} plus tolerance.",
                      group.id, survey.show.temperature(group.high_cutout_c),
                      survey.show.temperature(group.maintain_c)),
          "Raise the cut-out.", settings_rule());
  }
}

void check_alarms(const Survey& survey, Findings& found) {
  for (const auto& group : survey.job.groups) {
    const std::string maintain = survey.show.temperature(group.maintain_c);
    if (group.low_alarm_c > 0 && group.low_alarm_c >= group.maintain_c)
      found.add("low-alarm-high", about(group),
                fmt::format("Group {} alarms below {}, yet maintains {}.", group.id,
                            survey.show.temperature(group.low_alarm_c), maintain),
                "Lower the low alarm below the maintain temperature less the tolerance.", settings_rule());
    if (group.high_alarm_c > 0 && group.high_alarm_c <= group.maintain_c)
      found.add("high-alarm-low", about(group),
                fmt::format("Group {} alarms above {}, yet maintains {}.", group.id,
                            survey.show.temperature(group.high_alarm_c), maintain),
                "Raise the high alarm above the maintain temperature.", settings_rule());
  }
}

void check_maintain_against_delivered(const Survey& survey, Findings& found) {
  const double delivered_c = survey.job.supply.delivered_c;
  for (const auto& group : survey.job.groups) {
    if (!(group.maintain_c > delivered_c + rounding_k)) continue;
    found.add(
        "maintain-above-delivered", about(group),
        fmt::format(
            "Group {} maintains {}, above the {} that is delivered: standing water gets hotter than flowing.",
            group.id, survey.show.temperature(group.maintain_c), survey.show.temperature(delivered_c)),
        "Lower the maintain temperature, or check every outlet against it.");
  }
}

void check_ground_fault(const Survey& survey, Findings& found) {
  const auto protection = rules::ground_fault(survey.job.requirements.rules);
  for (std::size_t p = 0; p < survey.job.panels.size(); ++p) {
    const auto& panel = survey.job.panels[p];
    if (panel.ground_fault) continue;
    std::size_t runs = 0;
    for (std::size_t g = 0; g < survey.job.groups.size(); ++g)
      if (survey.panel_of_group[g] == static_cast<int>(p)) runs += survey.traced_runs[g].size();
    if (runs == 0) continue;
    found.add("no-ground-fault", about(panel),
              fmt::format(
                  "Panel {} feeds {} traced runs from breakers without ground-fault protection of equipment.",
                  panel.id, runs),
              fmt::format("Use breakers or devices with ground-fault protection of equipment, {:.0f} mA.",
                          1000 * protection.trip_a),
              protection.citation);
  }
}

constexpr SurveyCheck settings[] = {check_setback_order, check_cutout, check_alarms,
                                    check_maintain_against_delivered, check_ground_fault};

bool within(const rules::GrowthBand& band, double temp_c) {
  return temp_c >= band.low_c && temp_c <= band.high_c;
}

void check_growth_band(const Survey& survey, Findings& found) {
  const auto band = rules::growth_band();
  const std::string limits =
      fmt::format("{} to {}", survey.show.temperature(band.low_c), survey.show.temperature(band.high_c));
  for (const auto& group : survey.job.groups) {
    if (within(band, group.maintain_c))
      found.add("maintain-growth", about(group),
                fmt::format("Group {} maintains {}: Legionella multiplies from {}.", group.id,
                            survey.show.temperature(group.maintain_c), limits),
                "Raise the maintain temperature above the band.", band.citation);
    if (sets_back(group) && within(band, group.setback_c))
      found.add("setback-growth", about(group),
                fmt::format("Group {} sets back to {}: Legionella multiplies from {}.", group.id,
                            survey.show.temperature(group.setback_c), limits),
                "Raise or leave out the setback, or have the water management plan cover it.", band.citation);
  }
}

void check_guideline_in_pipes(const Survey& survey, Findings& found) {
  const auto guideline = survey.guideline();
  const std::string asks = fmt::format("{} asks for {} in distribution", guideline.name,
                                       survey.show.temperature(guideline.distributed_c));
  for (const auto& group : survey.job.groups) {
    if (group.maintain_c < guideline.distributed_c - rounding_k)
      found.add("maintain-below-guideline", about(group),
                fmt::format("Group {} maintains {}; {}.", group.id, survey.show.temperature(group.maintain_c),
                            asks),
                "Raise the maintain temperature, or choose the guideline that applies.", guideline.citation);
    else if (sets_back(group) && group.setback_c < guideline.distributed_c - rounding_k)
      found.add("setback-below-guideline", about(group),
                fmt::format("Group {} sets back to {}; {}.", group.id,
                            survey.show.temperature(group.setback_c), asks),
                "Leave out the setback, or have the water management plan cover it.", guideline.citation);
  }
}

void check_guideline_at_heater(const Survey& survey, Findings& found) {
  const auto guideline = survey.guideline();
  const auto& supply = survey.job.supply;
  if (supply.stored_c < guideline.stored_c - rounding_k)
    found.add("stored-below-guideline", about_site(),
              fmt::format("Water is stored at {}; {} asks for {}.", survey.show.temperature(supply.stored_c),
                          guideline.name, survey.show.temperature(guideline.stored_c)),
              "Raise the storage temperature and temper after it.", guideline.citation);
  if (supply.delivered_c < guideline.distributed_c - rounding_k)
    found.add("delivered-below-guideline", about_site(),
              fmt::format("Water is delivered at {}; {} asks for {} in distribution.",
                          survey.show.temperature(supply.delivered_c), guideline.name,
                          survey.show.temperature(guideline.distributed_c)),
              "Raise the mixing valve, and protect the outlets with safe-outlet valves.", guideline.citation);
}

bool anything_traced(const Survey& survey) {
  return std::ranges::any_of(survey.traced_runs, [](const auto& runs) { return !runs.empty(); });
}

void check_healthcare(const Survey& survey, Findings& found) {
  static const std::set<std::string_view> care{"hospital", "healthcare", "clinic", "care-home",
                                               "nursing-home"};
  const auto& kind = survey.job.requirements.building_kind;
  if (!care.contains(kind) || !anything_traced(survey)) return;
  found.add("healthcare-trace", about_site(),
            fmt::format(
                "This building is a {}: some owners of healthcare buildings forbid heat tracing in place of "
                "circulation.",
                kind),
            "Get the owner's and the authority's consent in writing before ordering.",
            {"US Department of Veterans Affairs, Master Construction Specification 22 05 33", "2015",
             "writer's note", "read"});
}

void check_energy_conflict(const Survey& survey, Findings& found) {
  const auto guideline = survey.guideline();
  const auto& code = survey.job.requirements.energy_code;
  if (!code.starts_with("iecc") || !(guideline.distributed_c > 0) || !anything_traced(survey)) return;
  found.add(
      "energy-against-hygiene", about_site(),
      fmt::format(
          "The energy code wants heat trace off when there is no demand; {} asks for {} in distribution.",
          guideline.name, survey.show.temperature(guideline.distributed_c)),
      "Have the responsible person decide the schedule in writing.",
      {"IECC", "2021", "C404.6.2", "memory; same rule read in WAC 51-11C C404.7.2 (2016)"});
}

constexpr SurveyCheck hygiene[] = {check_growth_band, check_guideline_in_pipes, check_guideline_at_heater,
                                   check_healthcare, check_energy_conflict};

}  // namespace

std::span<const SurveyCheck> setting_checks() { return settings; }
std::span<const SurveyCheck> hygiene_checks() { return hygiene; }

}  // namespace firstdraw::plan
