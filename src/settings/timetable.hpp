// What is keyed into the controllers: for each control group, from when on which set-point, every week of a
// season.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "job/job.hpp"

namespace firstdraw::settings {

/// From `begin_s` of these weekdays on, until the next entry.
struct Entry {
  std::uint8_t weekdays = 0x7f;  // bit 0 Monday ... bit 6 Sunday
  double begin_s = 0;            // of the day, on the controller's clock
  std::optional<double> hold_c;  // set-point; empty: off
  bool operator==(const Entry&) const = default;
};

struct GroupTimetable {
  std::string group;
  std::vector<Entry> entries;  // by weekdays (programs), then by begin_s; never empty; one entry that begins
                               // at 00:00 of all days: a constant set-point
  bool constant() const { return entries.size() == 1; }
  bool operator==(const GroupTimetable&) const = default;
};

struct Timetable {
  std::string season;
  std::vector<GroupTimetable> groups;  // like job.groups
  bool operator==(const Timetable&) const = default;
};

/// Set-point in force at a time of the week from Monday 00:00; empty: off. What was in force last on Sunday
/// runs on into Monday.
std::optional<double> set_point_c(const GroupTimetable& group, double time_s);
/// The same by even step of a week, at each step's beginning; cable off as week::cable_off_c.
std::vector<double> by_step(const GroupTimetable& group, double step_s);
double highest_c(const GroupTimetable& group);  // cable_off_c when it is always off
double lowest_c(const GroupTimetable& group);   // cable_off_c when it is off at times
/// The inverse of by_step, in its one plain form: days that are alike share a program, and only changes are
/// entries (a midnight only where the day before does not run on into all days of the program).
/// Equal weeks have equal entries. Throws std::invalid_argument where the steps do not fill a week.
GroupTimetable from_steps(std::string group, std::span<const double> set_points_c, double step_s);

/// The job with its periods replaced by the timetable (maintain becomes the highest set-point, so that what
/// stands between periods is never lower; setback the lowest that heats), so that any other room can live
/// through it. Cut-outs and alarms stay. Throws std::invalid_argument where a group has no timetable.
job::Job with_timetable(const job::Job& job, const Timetable& timetable);
/// The week that the job's own periods describe, in the form of from_steps.
Timetable timetable_of(const job::Job& job);
/// Every group at its maintain temperature, day and night: what savings are counted from.
Timetable always_on(const job::Job& job);

/// "[[period]]" tables that make the job's own week this one, to paste into job.toml, and as comments the
/// maintain and setback that belong into its groups. Begins must be whole seconds.
std::string as_toml(const job::Job& job, const Timetable& timetable);

}  // namespace firstdraw::settings
