#include "settings/week_changes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <stdexcept>

namespace firstdraw::settings {
namespace {

/// A day as a clock's program has it: what holds at midnight first.
struct DayShape {
  std::vector<Change> of_day;  // begin_s from midnight
  bool runs_on = false;        // nothing changes at midnight
};

std::vector<DayShape> day_shapes(const std::vector<Change>& changes) {
  std::vector<DayShape> days;
  std::optional<double> hold_c = changes.back().hold_c;  // the week repeats
  for (int day = 0; day < days_a_week; ++day) {
    DayShape shape{{{0, hold_c}}, true};
    for (const Change& change : changes) {
      const double of_day_s = change.begin_s - day * a_day_s;
      if (of_day_s < 0 || of_day_s >= a_day_s) continue;
      hold_c = change.hold_c;
      if (of_day_s == 0)
        shape = {{{0, hold_c}}, false};
      else
        shape.of_day.push_back({of_day_s, hold_c});
    }
    days.push_back(std::move(shape));
  }
  return days;
}

void add_program(const std::vector<DayShape>& days, std::uint8_t weekdays, std::vector<Entry>& entries) {
  const std::vector<Change>& of_day = days[static_cast<std::size_t>(std::countr_zero(weekdays))].of_day;
  bool all_run_on = true;
  for (std::size_t day = 0; day < days.size(); ++day)
    if ((weekdays >> day & 1) != 0) all_run_on = all_run_on && days[day].runs_on;
  for (std::size_t i = all_run_on ? 1 : 0; i < of_day.size(); ++i)
    entries.push_back({weekdays, of_day[i].begin_s, of_day[i].hold_c});
}

void add_period(const job::Period& period, std::vector<job::Period>& periods) {
  const auto same = std::ranges::find_if(periods, [&](const job::Period& other) {
    return other.begin_s == period.begin_s && other.end_s == period.end_s &&
           other.setting == period.setting && other.hold_c == period.hold_c;
  });
  if (same == periods.end()) return periods.push_back(period);
  same->weekdays = static_cast<std::uint8_t>(same->weekdays | period.weekdays);
}

/// From one moment to another at most a day later.
job::Period period_between(double begin_s, double end_s, job::Period period) {
  const int day = static_cast<int>(begin_s / a_day_s);
  period.weekdays = static_cast<std::uint8_t>(1u << (day % days_a_week));
  period.begin_s = begin_s - day * a_day_s;
  const double end_of_day_s = std::fmod(end_s, a_day_s);
  period.end_s = end_of_day_s == 0 ? a_day_s : end_of_day_s;
  return period;
}

}  // namespace

std::vector<Change> only_changes(std::vector<Change> changes) {
  std::ranges::stable_sort(changes, {}, &Change::begin_s);
  std::vector<Change> last_of_each;
  for (const Change& change : changes) {
    if (!last_of_each.empty() && last_of_each.back().begin_s == change.begin_s) last_of_each.pop_back();
    last_of_each.push_back(change);
  }
  std::vector<Change> kept;
  for (std::size_t i = 0; i < last_of_each.size(); ++i) {
    const Change& before = i == 0 ? last_of_each.back() : last_of_each[i - 1];
    if (last_of_each[i].hold_c != before.hold_c) kept.push_back(last_of_each[i]);
  }
  if (kept.empty()) kept.push_back({0, last_of_each.front().hold_c});
  return kept;
}

std::vector<Change> changes_of(const GroupTimetable& group) {
  std::vector<Change> changes;
  for (const Entry& entry : group.entries)
    for (int day = 0; day < days_a_week; ++day)
      if ((entry.weekdays >> day & 1) != 0) changes.push_back({day * a_day_s + entry.begin_s, entry.hold_c});
  if (changes.empty())
    throw std::invalid_argument(fmt::format("timetable: no entry for the control group \"{}\"", group.group));
  return only_changes(std::move(changes));
}

std::vector<Entry> entries_of(const std::vector<Change>& changes) {
  if (changes.size() == 1) return {{0x7f, 0, changes.front().hold_c}};
  const std::vector<DayShape> days = day_shapes(changes);
  std::vector<Entry> entries;
  unsigned done = 0;
  for (std::size_t day = 0; day < days.size(); ++day) {
    if ((done >> day & 1) != 0) continue;
    unsigned alike = 0;
    for (std::size_t other = day; other < days.size(); ++other)
      if (days[other].of_day == days[day].of_day) alike |= 1u << other;
    add_program(days, static_cast<std::uint8_t>(alike), entries);
    done |= alike;
  }
  return entries;
}

std::vector<job::Period> periods_of(const std::vector<Change>& changes, const std::string& group,
                                    double maintain_c) {
  std::vector<job::Period> periods;
  for (std::size_t i = 0; i < changes.size(); ++i) {
    const Change& change = changes[i];
    if (change.hold_c == maintain_c) continue;
    job::Period period{group, 0, 0, 0, job::Period::Setting::off, 0};
    if (change.hold_c) period = {group, 0, 0, 0, job::Period::Setting::temperature, *change.hold_c};
    const bool last = i + 1 == changes.size();
    const double end_s = last ? changes.front().begin_s + a_week_s : changes[i + 1].begin_s;
    double begin_s = change.begin_s;
    for (; end_s - begin_s > a_day_s;) {
      const double midnight_s = (std::floor(begin_s / a_day_s) + 1) * a_day_s;
      add_period(period_between(begin_s, midnight_s, period), periods);
      begin_s = midnight_s;
    }
    add_period(period_between(begin_s, end_s, period), periods);
  }
  return periods;
}

}  // namespace firstdraw::settings
