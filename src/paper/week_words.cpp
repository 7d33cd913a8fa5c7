#include "paper/week_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace firstdraw::paper {
namespace {

constexpr double minute_s = 60, hour_s = 3600, day_s = 86400;
constexpr std::uint8_t all_days = 0x7f;
constexpr std::array<const char*, 7> day_names{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};

bool has_day(std::uint8_t weekdays, std::size_t day) { return (weekdays >> day & 1U) != 0; }

template <class T>
const T* of_group(const std::vector<T>& all, const std::string& group) {
  const auto found = std::ranges::find(all, group, &T::group);
  return found == all.end() ? nullptr : &*found;
}

std::string numbered(double value, const char* unit) {
  return fmt::format("{:.{}f} {}", value, std::abs(value - std::round(value)) < 0.05 ? 0 : 1, unit);
}

units::System other_system(units::System system) {
  return system == units::System::us ? units::System::metric : units::System::us;
}

}  // namespace

bool has_week(const Pack& pack) { return pack.week != nullptr && !pack.week->seasons.empty(); }

std::string days_text(std::uint8_t weekdays) {
  if ((weekdays & all_days) == all_days) return "every day";
  std::string text;
  for (std::size_t day = 0; day < 7; ++day) {
    if (!has_day(weekdays, day)) continue;
    std::size_t last = day;
    while (last + 1 < 7 && has_day(weekdays, last + 1)) ++last;
    if (!text.empty()) text += ", ";
    text += day_names[day];
    if (last > day) text += std::string(last > day + 1 ? "–" : ", ") + day_names[last];
    day = last;
  }
  return text;
}

std::string clock_text(double of_day_s) {
  const auto minutes = static_cast<int>(std::lround(of_day_s / minute_s));
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

std::string day_of_year(int month, int day) {
  static constexpr std::array<const char*, 12> months{"January",   "February", "March",    "April",
                                                      "May",       "June",     "July",     "August",
                                                      "September", "October",  "November", "December"};
  const bool known = month >= 1 && month <= 12;
  return known ? fmt::format("{} {}", day, months[static_cast<std::size_t>(month - 1)]) : "–";
}

std::string elapsed_text(double duration_s) {
  if (std::isnan(duration_s)) return "–";
  if (std::isinf(duration_s)) return "never";
  if (duration_s < 120) return numbered(duration_s, "s");
  return duration_s < 2 * hour_s ? numbered(duration_s / minute_s, "min")
                                 : numbered(duration_s / hour_s, "h");
}

std::string after_text(double duration_s) {
  if (duration_s >= day_s) return numbered(duration_s / day_s, duration_s < 1.5 * day_s ? "day" : "days");
  return duration_s < hour_s ? numbered(duration_s / minute_s, "min") : numbered(duration_s / hour_s, "h");
}

std::string in_both(const Pack& pack, double value_si, Kind kind) {
  if (!std::isfinite(value_si)) return "–";
  return unbroken(units::show(value_si, kind, pack.job.units)) + " · " +
         unbroken(units::show(value_si, kind, other_system(pack.job.units)));
}

std::string set_point_in_both(const Pack& pack, const std::optional<double>& hold_c) {
  return hold_c && std::isfinite(*hold_c) ? in_both(pack, *hold_c, Kind::temperature) : "off";
}

std::vector<WeekProgram> programs_of(const settings::GroupTimetable& timetable) {
  std::vector<WeekProgram> programs;
  for (const settings::Entry& entry : timetable.entries) {
    const auto found = std::ranges::find(programs, entry.weekdays, &WeekProgram::weekdays);
    if (found == programs.end())
      programs.push_back({entry.weekdays, {entry}});
    else
      found->entries.push_back(entry);
  }
  unsigned covered = 0;
  for (WeekProgram& program : programs) {
    covered |= program.weekdays;
    std::ranges::stable_sort(program.entries, {}, &settings::Entry::begin_s);
  }
  if (const auto rest = static_cast<std::uint8_t>(all_days & ~covered)) programs.push_back({rest, {}});
  const auto first_day = [](const WeekProgram& program) {
    std::size_t day = 0;
    while (day < 7 && !has_day(program.weekdays, day)) ++day;
    return day;
  };
  std::ranges::stable_sort(programs, {}, first_day);
  return programs;
}

std::string at_midnight(const Pack& pack, const settings::GroupTimetable& timetable,
                        const WeekProgram& program) {
  std::vector<std::pair<std::string, std::uint8_t>> found;  // text and the days it holds for
  for (std::size_t day = 0; day < 7; ++day) {
    if (!has_day(program.weekdays, day)) continue;
    const std::string text =
        set_point_in_both(pack, settings::set_point_c(timetable, static_cast<double>(day) * day_s));
    const auto same = std::ranges::find(found, text, &std::pair<std::string, std::uint8_t>::first);
    const auto bit = static_cast<std::uint8_t>(1U << day);
    if (same == found.end())
      found.emplace_back(text, bit);
    else
      same->second = static_cast<std::uint8_t>(same->second | bit);
  }
  if (found.size() == 1) return found.front().first;
  std::string all;
  for (const auto& [text, days] : found) all += (all.empty() ? "" : "\n") + days_text(days) + ": " + text;
  return all;
}

const settings::GroupTimetable* timetable_in(const settings::SeasonAnswer& season, const std::string& group) {
  return of_group(season.timetable.groups, group);
}

std::vector<SeasonTimetable> timetables_of(const settings::WeekAnswer& week, const std::string& group) {
  std::vector<SeasonTimetable> all;
  for (const settings::SeasonAnswer& season : week.seasons) {
    const settings::GroupTimetable* timetable = timetable_in(season, group);
    if (!timetable) continue;
    const auto same = std::ranges::find_if(
        all, [&](const SeasonTimetable& each) { return each.timetable->entries == timetable->entries; });
    if (same == all.end())
      all.push_back({season.season.name, timetable});
    else
      same->seasons += ", " + season.season.name;
  }
  return all;
}

std::string alarm_name(const settings::Alarm& alarm) {
  switch (alarm.kind) {
    case settings::Alarm::Kind::low_temperature:
      return alarm.follows_set_point ? "Low alarm that follows the set-point" : "Low alarm";
    case settings::Alarm::Kind::high_temperature:
      return alarm.follows_set_point ? "High alarm that follows the set-point" : "High alarm";
    case settings::Alarm::Kind::low_current:
      break;
  }
  return "Low current alarm";
}

std::string alarm_limit(const Pack& pack, const settings::Alarm& alarm) {
  std::string limit;
  if (alarm.kind == settings::Alarm::Kind::low_current)
    limit = fmt::format("{:.1f} A", alarm.limit);
  else if (alarm.follows_set_point)
    limit = in_both(pack, std::abs(alarm.limit), Kind::temperature_difference) +
            (alarm.limit < 0 ? " below it" : " above it");
  else
    limit = in_both(pack, alarm.limit, Kind::temperature);
  return alarm.delay_s > 0 ? limit + ", after " + unbroken(elapsed_text(alarm.delay_s)) : limit + ", at once";
}

const settings::GroupAlarms* alarms_of(const Pack& pack, const std::string& group) {
  return pack.week ? of_group(pack.week->alarms, group) : nullptr;
}

const settings::GroupReadings* readings_of(const Pack& pack, const std::string& group) {
  return pack.week ? of_group(pack.week->readings, group) : nullptr;
}

std::vector<plan::Finding> all_findings(const Pack& pack) {
  std::vector<plan::Finding> all = pack.plan.findings;
  const auto add = [&all](const plan::Finding& each) {
    const auto same = [&](const plan::Finding& other) {
      return other.id == each.id && other.place == each.place && other.what == each.what;
    };
    if (std::ranges::none_of(all, same)) all.push_back(each);
  };
  if (pack.week) std::ranges::for_each(pack.week->findings, add);
  if (pack.field) std::ranges::for_each(pack.field->findings, add);
  std::ranges::stable_sort(all, {}, &plan::Finding::severity);
  return all;
}

std::optional<LowestSetPoint> lowest_set_point(const Pack& pack) {
  std::optional<LowestSetPoint> lowest;
  const auto consider = [&](const std::string& group, double temp_c) {
    const bool off = !std::isfinite(temp_c);
    if (!lowest || (off && !lowest->off) || (!lowest->off && temp_c < lowest->temp_c))
      lowest = {group, temp_c, off};
  };
  if (!has_week(pack)) {
    for (const job::ControlGroup& group : pack.job.groups) consider(group.id, group.setback_c);
    return lowest;
  }
  for (const settings::SeasonAnswer& season : pack.week->seasons)
    for (const settings::GroupTimetable& each : season.timetable.groups)
      consider(each.group, settings::lowest_c(each));
  return lowest;
}

std::string yearly(const Pack& pack, double amount) {
  return std::isfinite(amount) ? unbroken(count(amount) + " " + pack.job.economics.currency) : "–";
}

}  // namespace firstdraw::paper
