// What is keyed into the controllers: for each control group, from when on which set-point, every week of a
// season.
#pragma once

#include <cstdint>
#include <optional>
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

/// The job with its periods replaced by the timetable (maintain becomes the highest set-point, so that what
/// stands between periods is never lower), so that any other room can live through it.
job::Job with_timetable(const job::Job& job, const Timetable& timetable);
/// The week that the job's own periods describe.
Timetable timetable_of(const job::Job& job);
/// Every group at its maintain temperature, day and night: what savings are counted from.
Timetable always_on(const job::Job& job);

/// "[[period]]" tables and set-points that make the job's own week this one, to paste into job.toml.
std::string as_toml(const job::Job& job, const Timetable& timetable);

}  // namespace firstdraw::settings
