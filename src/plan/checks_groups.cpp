// Spaces with their air, and control groups with their runs and sensors: what shows without computing
// anything.
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <numbers>
#include <set>

#include "plan/check_context.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

void check_assumed_air(const Survey& survey, Findings& found) {
  std::set<std::string_view> fields;
  for (const auto& assumption : survey.job.assumptions) fields.insert(assumption.field);
  for (const auto& space : survey.job.spaces) {
    std::string missing;
    for (const char* which : {"low", "usual", "high"})
      if (fields.contains(fmt::format("space.{}.air_{}", space.id, which)))
        missing += (missing.empty() ? "" : ", ") + std::string(which);
    if (missing.empty()) continue;
    found.add(
        "air-assumed", about(space),
        fmt::format("No air temperature was given for space {} ({}): taken as {} low, {} usual, {} high.",
                    space.id, missing, survey.show.temperature(space.air.low_c),
                    survey.show.temperature(space.air.usual_c), survey.show.temperature(space.air.high_c)),
        "Measure or ask, and enter air_low, air_usual and air_high of the space.");
  }
}

void check_air(const Survey& survey, const job::AirTemperatures& air, const Subject& subject,
               Findings& found) {
  constexpr double coldest_c = -40, hottest_c = 60;
  const std::string three =
      fmt::format("{} low, {} usual, {} high", survey.show.temperature(air.low_c),
                  survey.show.temperature(air.usual_c), survey.show.temperature(air.high_c));
  if (air.low_c > air.usual_c || air.usual_c > air.high_c)
    found.add("air-order", subject, fmt::format("The air around {} is given as {}.", subject.id, three),
              "Enter them in rising order.",
              {"Firstdraw", "", "worst cases use the lowest and highest air", "computed"});
  else if (air.low_c < coldest_c || air.high_c > hottest_c)
    found.add("air-implausible", subject, fmt::format("The air around {} is given as {}.", subject.id, three),
              "Check the values and their unit.");
}

void check_air_temperatures(const Survey& survey, Findings& found) {
  for (const auto& space : survey.job.spaces) check_air(survey, space.air, about(space), found);
  for (const auto& run : survey.job.runs)
    if (run.air) check_air(survey, *run.air, about(run), found);
}

void check_group_membership(const Survey& survey, Findings& found) {
  for (std::size_t r = 0; r < survey.job.runs.size(); ++r) {
    const auto& run = survey.job.runs[r];
    if (!run.traced || survey.group_of_run[r] != piping::none) continue;
    found.add("traced-no-group", about(run),
              fmt::format("Run {} is traced but belongs to no control group.", run.id),
              "Enter its group in runs.csv, or mark it untraced.");
  }
  for (std::size_t g = 0; g < survey.job.groups.size(); ++g) {
    if (!survey.traced_runs[g].empty()) continue;
    const auto& group = survey.job.groups[g];
    found.add("group-empty", about(group),
              fmt::format("No traced run belongs to group {} ({}).", group.id, group.name),
              "Assign runs to it in runs.csv, or delete the group.");
  }
}

void check_mixing_valve(const Survey& survey, Findings& found) {
  const auto& supply = survey.job.supply;
  if (survey.has_mixing_valve() || supply.delivered_c >= supply.stored_c - 0.1) return;
  found.add(
      "mixing-valve-none", about_site(),
      fmt::format("Water is stored at {} and said to be delivered at {}, but no mixing valve is in the job.",
                  survey.show.temperature(supply.stored_c), survey.show.temperature(supply.delivered_c)),
      "Enter supply.mixing_valve_node, or the true delivered temperature.");
}

constexpr SurveyCheck space_checks[] = {check_assumed_air, check_air_temperatures, check_group_membership,
                                        check_mixing_valve};

rules::Citation sensor_practice() {
  return {"Common practice", "", "sensor opposite the cable, downstream of the mixing valve",
          "common practice, no source"};
}

void check_sensor_presence(const Survey& survey, Findings& found) {
  for (const auto& group : survey.job.groups) {
    if (group.kind == job::ControlKind::entered_ambient)
      found.add(
          "open-loop", about(group),
          fmt::format(
              "Group {} holds {} from an entered ambient, without a pipe sensor: it has no high alarm, no "
              "low alarm and no high-temperature cut-out.",
              group.id, survey.show.temperature(group.maintain_c)),
          "Consider a pipe sensor; otherwise have the pipes checked by thermometer.", sensor_practice());
    else if (group.sensor_run.empty())
      found.add("sensor-none", about(group), fmt::format("Group {} has no sensor.", group.id),
                "Enter sensor_run of the group: the traced run that loses most.", sensor_practice());
  }
}

void check_sensor_place(const Survey& survey, Findings& found) {
  for (std::size_t g = 0; g < survey.job.groups.size(); ++g) {
    const auto& group = survey.job.groups[g];
    const int sensor = survey.sensor_of_group[g];
    if (sensor == piping::none) continue;
    const auto& run = survey.run(sensor);
    if (!run.traced)
      found.add("sensor-untraced", about(group),
                fmt::format("The sensor of group {} is on run {}, which is not traced.", group.id, run.id),
                "Move it to a traced run of the group.", sensor_practice());
    else if (survey.group_of_run[at(sensor)] != static_cast<int>(g))
      found.add("sensor-other-group", about(group),
                fmt::format("The sensor of group {} is on run {}, which belongs to group {}.", group.id,
                            run.id, run.group),
                "Move it to a run of its own group.", sensor_practice());
    if (survey.has_mixing_valve() && survey.network.reached[at(sensor)] && !survey.tempered(sensor))
      found.add(
          "sensor-above-valve", about(group),
          fmt::format(
              "The sensor of group {} is on run {}, upstream of the mixing valve: it sees water of {} where "
              "the group should hold {}.",
              group.id, run.id, survey.show.temperature(survey.job.supply.stored_c),
              survey.show.temperature(group.maintain_c)),
          "Move it to a traced run downstream of the mixing valve.", sensor_practice());
  }
}

void check_sensor_angle(const Survey& survey, Findings& found) {
  constexpr double beside_rad = std::numbers::pi / 2;
  for (const auto& group : survey.job.groups) {
    if (group.kind != job::ControlKind::pipe_sensor || group.sensor_run.empty()) continue;
    if (group.sensor_angle_rad >= beside_rad - 1e-9) continue;
    found.add("sensor-angle", about(group),
              fmt::format("The sensor of group {} sits {:.0f} degrees from the cable and reads its warmth.",
                          group.id, group.sensor_angle_rad * 180 / std::numbers::pi),
              "Fix it opposite the cable, at 180 degrees, under the insulation.", sensor_practice());
  }
}

/// Usual air, weighted by the length of the group's traced runs; NaN without length.
double mean_air_c(const Survey& survey, const std::vector<int>& runs) {
  double weighted = 0, length_m = 0;
  for (const int run : runs) {
    weighted += survey.run(run).length_m * job::air_around(survey.job, survey.run(run)).usual_c;
    length_m += survey.run(run).length_m;
  }
  return weighted / length_m;
}

void check_entered_ambient(const Survey& survey, Findings& found) {
  constexpr double far_k = 5;
  for (std::size_t g = 0; g < survey.job.groups.size(); ++g) {
    const auto& group = survey.job.groups[g];
    if (!group.entered_ambient_c) {
      if (group.kind == job::ControlKind::entered_ambient)
        found.add("ambient-missing", about(group),
                  fmt::format("Group {} is controlled from an entered ambient, but none is given.", group.id),
                  "Enter ambient of the group.", sensor_practice());
      continue;
    }
    const double air_c = mean_air_c(survey, survey.traced_runs[g]);
    if (!(std::abs(*group.entered_ambient_c - air_c) > far_k)) continue;
    found.add(
        "ambient-far", about(group),
        fmt::format("Group {} {} an entered ambient of {}; the usual air around its runs is {}.", group.id,
                    group.kind == job::ControlKind::entered_ambient ? "works with" : "falls back on",
                    survey.show.temperature(*group.entered_ambient_c), survey.show.temperature(air_c)),
        fmt::format("Enter {}, or divide the group by space.", survey.show.temperature(air_c)));
  }
}

constexpr SurveyCheck sensors[] = {check_sensor_presence, check_sensor_place, check_sensor_angle,
                                   check_entered_ambient};

}  // namespace

std::span<const SurveyCheck> space_and_group_checks() { return space_checks; }
std::span<const SurveyCheck> sensor_checks() { return sensors; }

}  // namespace firstdraw::plan
