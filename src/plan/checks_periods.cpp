// What the week of a group does to the water.
#include <fmt/format.h>

#include <bit>
#include <string_view>

#include "plan/check_context.hpp"

namespace firstdraw::plan {

namespace {

/// "22:30".
std::string clock(double time_s) {
  constexpr int minute_s = 60, hour_min = 60;
  const int minutes = static_cast<int>(time_s) / minute_s;
  return fmt::format("{:02}:{:02}", minutes / hour_min, minutes % hour_min);
}

std::string days(const job::Period& period) {
  const int count = std::popcount(period.weekdays);
  return count == 7 ? std::string("every day")
                    : fmt::format("on {} day{} a week", count, count == 1 ? "" : "s");
}

const job::ControlGroup* group_of(const Survey& survey, std::string_view id) {
  for (const auto& group : survey.job.groups)
    if (group.id == id) return &group;
  return nullptr;
}

void add_off(const Survey& survey, const job::ControlGroup& group, const job::Period& period,
             Findings& found) {
  const auto band = rules::growth_band();
  found.add(
      "off-period", about(group),
      fmt::format("Group {} is off from {} to {} {}: its water cools into {} to {}, where Legionella "
                  "multiplies.",
                  group.id, clock(period.begin_s), clock(period.end_s), days(period),
                  survey.show.temperature(band.low_c), survey.show.temperature(band.high_c)),
      "Hold the pipes instead, or have the water management plan cover the hours and a flush after them.",
      band.citation);
}

void add_held_in_band(const Survey& survey, const job::ControlGroup& group, const job::Period& period,
                      Findings& found) {
  const auto band = rules::growth_band();
  if (period.hold_c < band.low_c || period.hold_c > band.high_c) return;
  found.add(
      "setback-growth", about(group),
      fmt::format("Group {} holds {} from {} to {} {}: Legionella multiplies from {} to {}.", group.id,
                  survey.show.temperature(period.hold_c), clock(period.begin_s), clock(period.end_s),
                  days(period), survey.show.temperature(band.low_c), survey.show.temperature(band.high_c)),
      "Raise or leave out the period, or have the water management plan cover it.", band.citation);
}

void check_periods(const Survey& survey, Findings& found) {
  for (const auto& period : survey.job.periods) {
    const job::ControlGroup* group = group_of(survey, period.group);
    if (!group) continue;
    if (period.setting == job::Period::Setting::off) add_off(survey, *group, period, found);
    if (period.setting == job::Period::Setting::temperature) add_held_in_band(survey, *group, period, found);
  }
}

constexpr SurveyCheck periods[] = {check_periods};

}  // namespace

std::span<const SurveyCheck> period_checks() { return periods; }

}  // namespace firstdraw::plan
