#include "settings/timetable.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "draw/control.hpp"
#include "job/describe.hpp"
#include "job/writers.hpp"
#include "settings/week_changes.hpp"
#include "week/reduced.hpp"

namespace firstdraw::settings {
namespace {

const GroupTimetable& timetable_of_group(const Timetable& timetable, const std::string& group) {
  const auto found = std::ranges::find(timetable.groups, group, &GroupTimetable::group);
  if (found != timetable.groups.end()) return *found;
  throw std::invalid_argument(fmt::format("timetable: nothing for the control group \"{}\"", group));
}

std::optional<double> hold_of(const job::Period& period, const job::ControlGroup& group) {
  using enum job::Period::Setting;
  switch (period.setting) {
    case maintain:
      return group.maintain_c;
    case setback:
      return group.setback_c;
    case temperature:
      return period.hold_c;
    case off:
      break;
  }
  return std::nullopt;
}

/// As the controller of the network in time has them, so that there is one rule for what is in force.
draw::ControlSettings settings_of(const job::Job& job, const job::ControlGroup& group) {
  draw::ControlSettings settings;
  settings.hold_c = group.maintain_c;
  for (const job::Period& period : job.periods)
    if (period.group == group.id)
      settings.periods.push_back({period.weekdays, period.begin_s, period.end_s, hold_of(period, group)});
  return settings;
}

GroupTimetable described(const job::Job& job, const job::ControlGroup& group) {
  const draw::ControlSettings settings = settings_of(job, group);
  std::vector<Change> changes{{0, draw::set_point_c(settings, 0)}};
  for (const draw::Period& period : settings.periods)
    for (int day = 0; day < days_a_week; ++day)
      for (const double of_day_s : {period.begin_s, period.end_s}) {
        const double at_s = std::fmod(day * a_day_s + of_day_s, a_week_s);
        changes.push_back({at_s, draw::set_point_c(settings, at_s)});
      }
  return {group.id, entries_of(only_changes(std::move(changes)))};
}

std::string group_comment(const job::ControlGroup& group, units::System system) {
  const auto text = [&](double c) {
    return job::toml_text(units::exact_text(c, units::Kind::temperature, system));
  };
  return fmt::format("# [[group]] id = {}: maintain = {}, setback = {}\n", job::toml_text(group.id),
                     text(group.maintain_c), text(group.setback_c));
}

}  // namespace

std::optional<double> set_point_c(const GroupTimetable& group, double time_s) {
  const double of_week_s = time_s - std::floor(time_s / a_week_s) * a_week_s;
  double least_age_s = std::numeric_limits<double>::infinity();
  std::optional<double> hold_c;
  for (const Entry& entry : group.entries)
    for (int day = 0; day < days_a_week; ++day) {
      if ((entry.weekdays >> day & 1) == 0) continue;
      double age_s = of_week_s - (day * a_day_s + entry.begin_s);
      if (age_s < 0) age_s += a_week_s;
      if (age_s > least_age_s) continue;
      least_age_s = age_s;
      hold_c = entry.hold_c;
    }
  return hold_c;
}

std::vector<double> by_step(const GroupTimetable& group, double step_s) {
  const auto steps = static_cast<std::size_t>(std::lround(a_week_s / step_s));
  std::vector<double> set_points_c;
  for (std::size_t k = 0; k < steps; ++k)
    set_points_c.push_back(set_point_c(group, static_cast<double>(k) * step_s).value_or(week::cable_off_c));
  return set_points_c;
}

double highest_c(const GroupTimetable& group) {
  double highest_c = week::cable_off_c;
  for (const Change& change : changes_of(group))
    highest_c = std::max(highest_c, change.hold_c.value_or(week::cable_off_c));
  return highest_c;
}

double lowest_c(const GroupTimetable& group) {
  double lowest_c = std::numeric_limits<double>::infinity();
  for (const Change& change : changes_of(group))
    lowest_c = std::min(lowest_c, change.hold_c.value_or(week::cable_off_c));
  return lowest_c;
}

GroupTimetable from_steps(std::string group, std::span<const double> set_points_c, double step_s) {
  if (set_points_c.empty() || std::abs(static_cast<double>(set_points_c.size()) * step_s - a_week_s) > 1e-6)
    throw std::invalid_argument("timetable: the steps do not fill a week");
  std::vector<Change> changes;
  for (std::size_t k = 0; k < set_points_c.size(); ++k) {
    const bool off = set_points_c[k] == week::cable_off_c;
    changes.push_back({static_cast<double>(k) * step_s, off ? std::nullopt : std::optional(set_points_c[k])});
  }
  return {std::move(group), entries_of(only_changes(std::move(changes)))};
}

job::Job with_timetable(const job::Job& job, const Timetable& timetable) {
  job::Job out = job;
  out.periods.clear();
  for (job::ControlGroup& group : out.groups) {
    const std::vector<Change> changes = changes_of(timetable_of_group(timetable, group.id));
    std::vector<double> heated_c;
    for (const Change& change : changes)
      if (change.hold_c) heated_c.push_back(*change.hold_c);
    // Of a group that is always off the old figures stay: nothing uses them.
    if (!heated_c.empty()) {
      group.maintain_c = std::ranges::max(heated_c);
      group.setback_c = std::ranges::min(heated_c);
    }
    std::ranges::move(periods_of(changes, group.id, group.maintain_c), std::back_inserter(out.periods));
  }
  return out;
}

Timetable timetable_of(const job::Job& job) {
  Timetable timetable{"all year", {}};
  for (const job::ControlGroup& group : job.groups) timetable.groups.push_back(described(job, group));
  return timetable;
}

Timetable always_on(const job::Job& job) {
  Timetable timetable{"all year", {}};
  for (const job::ControlGroup& group : job.groups)
    timetable.groups.push_back({group.id, {{0x7f, 0, group.maintain_c}}});
  return timetable;
}

std::string as_toml(const job::Job& job, const Timetable& timetable) {
  job::Job set = with_timetable(job, timetable);
  std::string out =
      fmt::format("# Season {}. Set these in the groups of job.toml:\n", job::toml_text(timetable.season));
  for (const job::ControlGroup& group : set.groups) out += group_comment(group, job.units);
  out += "# and put what follows in the place of every [[period]] there.\n";
  for (job::Period& period : set.periods) {
    job::TomlWriter writer(job.units);
    describe(writer, period);
    out += fmt::format("\n[[period]]\n{}", writer.take());
  }
  return out;
}

}  // namespace firstdraw::settings
