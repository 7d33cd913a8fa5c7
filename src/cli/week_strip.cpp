#include "cli/week_strip.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <vector>

#include "cli/text.hpp"

namespace firstdraw::cli {
namespace {

constexpr int days_a_week = 7;
constexpr double day_s = 86400, look_s = 300;  // clocks of controllers step by no less
constexpr std::array marks_by_height{"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
constexpr std::array day_names{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};

int marks_a_day(int width) {
  for (const int marks : {24, 12, 8, 4, 2, 1})
    if (days_a_week * marks + days_a_week - 1 <= width) return marks;
  return 0;
}

std::optional<double> highest_within(const settings::GroupTimetable& group, double begin_s, double end_s) {
  std::optional<double> highest;
  for (double time_s = begin_s; time_s < end_s; time_s += look_s)
    if (const auto set_c = settings::set_point_c(group, time_s))
      highest = highest ? std::max(*highest, *set_c) : *set_c;
  return highest;
}

/// Levels in use, rising: equal steps of height tell them apart even where they lie close together.
std::vector<double> levels(const settings::GroupTimetable& group) {
  std::vector<double> all;
  for (const settings::Entry& entry : group.entries)
    if (entry.hold_c) all.push_back(*entry.hold_c);
  std::ranges::sort(all);
  const auto again = std::ranges::unique(all);
  all.erase(again.begin(), again.end());
  return all;
}

std::string mark(const std::vector<double>& levels, std::optional<double> set_c) {
  if (!set_c) return "·";
  const auto rank = static_cast<std::size_t>(std::ranges::lower_bound(levels, *set_c) - levels.begin());
  const std::size_t top = marks_by_height.size() - 1;
  if (levels.size() < 2) return marks_by_height[top];
  return marks_by_height[std::min(top, rank * top / (levels.size() - 1))];
}

}  // namespace

WeekStrip week_strip(const settings::GroupTimetable& group, int width) {
  const int marks = marks_a_day(width);
  if (marks == 0) return {};
  WeekStrip strip;
  strip.mark_s = day_s / marks;
  const std::vector<double> known = levels(group);
  for (int day = 0; day < days_a_week; ++day) {
    const std::string name = day_names[static_cast<std::size_t>(day)];
    strip.days += pad_right(name.substr(0, static_cast<std::size_t>(std::min(marks, 3))), marks + 1);
    if (day > 0) strip.marks += "│";
    for (int i = 0; i < marks; ++i) {
      const double begin_s = day * day_s + i * strip.mark_s;
      strip.marks += mark(known, highest_within(group, begin_s, begin_s + strip.mark_s));
    }
  }
  strip.days.erase(strip.days.find_last_not_of(' ') + 1);
  return strip;
}

}  // namespace firstdraw::cli
