// How the sheets of the week name days, times, set-points and alarms.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "paper/sheets.hpp"
#include "settings/settings.hpp"

namespace firstdraw::paper {

/// Whether there is a week to show: settings were found.
bool has_week(const Pack& pack);

std::string days_text(std::uint8_t weekdays);  // "Mon–Fri", "Mon, Wed", "every day"; "" for none
std::string clock_text(double of_day_s);       // "05:30", of 24 hours
std::string day_of_year(int month, int day);   // "1 October"
std::string elapsed_text(double duration_s);   // "25 min", "1.5 h", "never"
std::string after_text(double duration_s);     // "10 min", "1 h", "1 day"
/// In both unit systems, the job's first: "131 °F · 55 °C".
std::string in_both(const Pack& pack, double value_si, Kind kind);
/// A set-point in both, or "off".
std::string set_point_in_both(const Pack& pack, const std::optional<double>& hold_c);

/// Days that follow the same list of entries.
struct WeekProgram {
  std::uint8_t weekdays = 0;
  std::vector<settings::Entry> entries{};  // by time; none: what was in force goes on
};
/// In the order of their first day; every day of the week is in one.
std::vector<WeekProgram> programs_of(const settings::GroupTimetable& timetable);
/// What is in force as the days of a program begin: "131 °F · 55 °C", or day by day where they differ.
std::string at_midnight(const Pack& pack, const settings::GroupTimetable& timetable,
                        const WeekProgram& program);

/// The group's timetable of a season; null when the season has none for it.
const settings::GroupTimetable* timetable_in(const settings::SeasonAnswer& season, const std::string& group);
/// Seasons whose settings of a group differ, each with the names of those that share them.
struct SeasonTimetable {
  std::string seasons;
  const settings::GroupTimetable* timetable = nullptr;
};
std::vector<SeasonTimetable> timetables_of(const settings::WeekAnswer& week, const std::string& group);

std::string alarm_name(const settings::Alarm& alarm);
/// Limit and delay, as they are keyed in: "107.6 °F · 42 °C, after 25 min".
std::string alarm_limit(const Pack& pack, const settings::Alarm& alarm);
const settings::GroupAlarms* alarms_of(const Pack& pack, const std::string& group);
const settings::GroupReadings* readings_of(const Pack& pack, const std::string& group);
/// The plan's findings, then those of the week that are not among them; stops first.
std::vector<plan::Finding> all_findings(const Pack& pack);
/// Lowest temperature that a set-point of the job lets its group fall to, with the group; none without
/// groups. A period that is off has none: `off` then.
struct LowestSetPoint {
  std::string group;
  double temp_c = 0;
  bool off = false;
};
std::optional<LowestSetPoint> lowest_set_point(const Pack& pack);
/// Money of a year, whole.
std::string yearly(const Pack& pack, double amount);

}  // namespace firstdraw::paper
