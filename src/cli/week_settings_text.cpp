// What is keyed in, group by group.
#include <fmt/format.h>

#include <algorithm>

#include "cli/week_sheet.hpp"
#include "cli/week_strip.hpp"
#include "units/clock.hpp"

namespace firstdraw::cli {
namespace {

using units::Kind;

std::string days_in_words(std::uint8_t weekdays) {
  constexpr std::uint8_t every = 0x7f;
  return weekdays == every ? "every day" : units::weekdays_text(weekdays);
}

std::string from_when(const settings::SeasonOfYear& season) {
  static constexpr std::array months{"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                     "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
  return fmt::format("from {} {}", season.from_day,
                     months.at(static_cast<std::size_t>(std::clamp(season.from_month, 1, 12) - 1)));
}

/// "Group main, Main and risers, sensor on R-07".
std::string title(const WeekSheet& sheet, const std::string& id) {
  const auto group = std::ranges::find(sheet.job.groups, id, &job::ControlGroup::id);
  std::string text = "Group " + id;
  if (group == sheet.job.groups.end()) return text;
  if (!group->name.empty() && group->name != id) text += ", " + group->name;
  if (group->kind == job::ControlKind::entered_ambient) return text + ", no sensor: ambient keyed in";
  return text + (group->sensor_run.empty() ? ", no sensor" : ", sensor on " + group->sensor_run);
}

std::string setting(const WeekSheet& sheet, const settings::Entry& entry) {
  return entry.hold_c ? sheet.show(*entry.hold_c, Kind::temperature) : "off";
}

void add_entries(Page& page, const WeekSheet& sheet, const settings::GroupTimetable& group) {
  TextTable table({{"Days", ""}, {"From", ""}, {"Set-point", "", Column::Kind::number}});
  const settings::Entry* before = nullptr;
  for (const settings::Entry& entry : group.entries) {
    const bool same_days = before != nullptr && before->weekdays == entry.weekdays;
    table.add_row({{same_days ? "" : days_in_words(entry.weekdays)},
                   {units::time_of_day_text(entry.begin_s)},
                   {setting(sheet, entry)}});
    before = &entry;
  }
  page.table(table);
}

void add_strip(Page& page, const WeekSheet& sheet, const settings::GroupTimetable& group) {
  const WeekStrip strip = week_strip(group, sheet.view.width);
  if (strip.marks.empty()) return;
  page.verbatim(strip.days);
  page.verbatim(strip.marks);
  page.paragraph(fmt::format("one mark: the highest set-point within {}; · off",
                             units::show(strip.mark_s, Kind::duration, sheet.job.units)),
                 "", Style::dim);
}

void add_group(Page& page, const WeekSheet& sheet, const settings::GroupTimetable& group) {
  page.blank();
  page.paragraph(title(sheet, group.group));
  if (group.constant()) {
    const settings::Entry& always = group.entries.front();
    page.paragraph(
        always.hold_c ? fmt::format("{} day and night, all week", setting(sheet, always)) : "off all week",
        "  ");
    return;
  }
  add_entries(page, sheet, group);
  add_strip(page, sheet, group);
}

/// What the search could not bring about.
std::string doubts(const WeekSheet& sheet, const settings::SeasonAnswer& season) {
  if (season.cheapest.settled || season.cheapest.missed_run.empty()) return {};
  return fmt::format("by the search's model run {} stays {} below what is asked of it; the simulation judges",
                     season.cheapest.missed_run,
                     sheet.show(season.cheapest.missed_k, Kind::temperature_difference));
}

}  // namespace

void add_week_settings(Page& page, const WeekSheet& sheet) {
  for (const settings::SeasonAnswer& season : sheet.week.seasons) {
    const std::string name = season.season.name;
    page.heading(sheet.many_seasons() ? fmt::format("Settings: {}, {}", name, from_when(season.season))
                                      : "Settings: all year");
    page.paragraph(
        "Set-points are readings of the sensor, times those of the controller's clock. A set-point is in "
        "force "
        "until the next entry, over midnight too.");
    for (const settings::GroupTimetable& group : season.timetable.groups) add_group(page, sheet, group);
    if (const std::string text = doubts(sheet, season); !text.empty())
      page.paragraph(text, "Doubt: ", Style::yellow);
  }
}

}  // namespace firstdraw::cli
