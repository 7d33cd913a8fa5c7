// What the controller and the technician watch: alarms, readings to expect, what wrong settings look like.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/findings_text.hpp"
#include "cli/week_sheet.hpp"
#include "units/clock.hpp"

namespace firstdraw::cli {
namespace {

using settings::Alarm;
using settings::GroupAlarms;
using settings::GroupReadings;
using settings::WrongSetting;
using units::Kind;
constexpr Column::Kind number = Column::Kind::number, prose = Column::Kind::wrapping_text;

std::string name_of(Alarm::Kind kind) {
  switch (kind) {
    case Alarm::Kind::low_temperature:
      return "low temperature";
    case Alarm::Kind::high_temperature:
      return "high temperature";
    case Alarm::Kind::low_current:
      return "low current";
  }
  return "";
}

/// A limit or a reading, counted as the alarm counts it.
std::string reading(const WeekSheet& sheet, const Alarm& alarm, double value) {
  if (alarm.kind == Alarm::Kind::low_current) return sheet.show(value, Kind::current);
  if (!alarm.follows_set_point) return sheet.show(value, Kind::temperature);
  return fmt::format("{} {} set-point", sheet.show(std::abs(value), Kind::temperature_difference),
                     value < 0 ? "below" : "above");
}

void add_limits(Page& page, const WeekSheet& sheet, const GroupAlarms& group) {
  TextTable table({{"Alarm", ""},
                   {"Limit", "", prose},
                   {"for", ""},
                   {"False a year", "", number},
                   {"Ordinary extreme", "", prose}});
  for (const Alarm& alarm : group.alarms)
    table.add_row({{name_of(alarm.kind)},
                   {reading(sheet, alarm, alarm.limit)},
                   {sheet.show(alarm.delay_s, Kind::duration)},
                   {week_decimals(alarm.events_per_year, 1)},
                   {reading(sheet, alarm, alarm.worst_ordinary)}});
  if (!table.empty()) page.table(table);
  if (std::isfinite(group.cutout_c))
    page.paragraph(fmt::format("{}: {}", sheet.show(group.cutout_c, Kind::temperature), group.cutout_because),
                   "High cut-out ");
  if (!std::isfinite(group.cutout_c)) page.paragraph(group.cutout_because, "No high cut-out: ");
}

void add_planted(Page& page, const WeekSheet& sheet, const GroupAlarms& group) {
  if (group.planted.empty()) return;
  TextTable table({{"Planted fault", "", prose},
                   {"Caught by", "", prose},
                   {"after", "", number},
                   {"What else would find it", "", prose}});
  for (const settings::Planted& planted : group.planted) {
    const bool caught = planted.caught_by.has_value();
    table.add_row(
        {{planted.fault},
         {caught ? name_of(*planted.caught_by) : "no alarm", planted.in_time ? Style::plain : Style::yellow},
         {caught && std::isfinite(planted.after_s) ? sheet.show(planted.after_s, Kind::duration) : "–"},
         {planted.otherwise}});
  }
  page.blank();
  page.table(table);
}

/// What is said of every group is said once.
void add_notes(Page& page, const std::vector<GroupAlarms>& groups) {
  std::vector<std::string> said;
  for (const GroupAlarms& group : groups)
    for (const std::string& note : group.notes)
      if (std::ranges::find(said, note) == said.end()) said.push_back(note);
  if (!said.empty()) page.blank();
  for (const std::string& note : said) page.paragraph(note, "· ", Style::dim);
}

std::string ampere_range(const WeekSheet& sheet, double low_a, double high_a) {
  return fmt::format("{} to {}", units::show_number(low_a, Kind::current, sheet.job.units),
                     units::show_number(high_a, Kind::current, sheet.job.units));
}

void add_sensor_readings(Page& page, const WeekSheet& sheet, const GroupReadings& group) {
  const std::string degree = sheet.unit(Kind::temperature);
  TextTable table({{"After", ""}, {"Reading", degree, number}, {"9 of 10", degree}, {"Duty", "%", number}});
  for (const settings::ReadingAfter& after : group.after)
    table.add_row({{sheet.show(after.after_s, Kind::duration)},
                   sheet.cell(after.usual_c, Kind::temperature),
                   {fmt::format("{} to {}", sheet.cell(after.low_c, Kind::temperature).text,
                                sheet.cell(after.high_c, Kind::temperature).text)},
                   {week_percent(after.duty_frac)}});
  page.table(table);
}

void add_circuit_currents(Page& page, const WeekSheet& sheet, const GroupReadings& group) {
  if (group.circuits.empty()) return;
  std::vector<Column> columns{{"Circuit", ""}};
  for (const settings::ReadingAfter& after : group.after)
    columns.push_back({"after " + sheet.show(after.after_s, Kind::duration), "A"});
  TextTable table(columns);
  for (const settings::CircuitAfter& circuit : group.circuits) {
    std::vector<Cell> row{{circuit.circuit}};
    for (std::size_t i = 0; i < group.after.size(); ++i)
      row.push_back({fmt::format("{} ({})", sheet.cell(circuit.usual_a.at(i), Kind::current).text,
                                 ampere_range(sheet, circuit.low_a.at(i), circuit.high_a.at(i)))});
    table.add_row(row);
  }
  page.blank();
  page.table(table);
}

void add_wrong_figures(Page& page, const WeekSheet& sheet, const std::vector<const WrongSetting*>& of_group) {
  TextTable table({{"Wrong", "", prose},
                   {"Energy", "%", number},
                   {"Mean reading", sheet.unit(Kind::temperature_difference), number},
                   {"Coldest run", sheet.unit(Kind::temperature_difference), number},
                   {"In band", "h a day", number},
                   {"Hot in 10 s", "points", number},
                   {"Current", "%", number}});
  const auto change = [&](double value_k) {
    const std::string text = sheet.cell(value_k, Kind::temperature_difference).text;
    return Cell{value_k > 0 ? "+" + text : text};
  };
  for (const WrongSetting* wrong : of_group)
    table.add_row({{wrong->what},
                   {week_signed_percent(wrong->kwh_change_frac)},
                   change(wrong->reading_change_k),
                   change(wrong->coldest_change_k),
                   {week_decimals(wrong->band_h_per_day, 1)},
                   {week_signed_percent(wrong->hot_change_frac)},
                   {week_signed_percent(wrong->current_change_frac)}});
  page.table(table);
  page.blank();
  for (const WrongSetting* wrong : of_group)
    if (const std::string text = wrong->seen + (wrong->harm.empty() ? "" : " " + wrong->harm); !text.empty())
      page.paragraph(text, wrong->what + ": ", Style::cyan);
}

}  // namespace

void add_week_alarms(Page& page, const WeekSheet& sheet) {
  if (sheet.week.alarms.empty()) return;
  page.heading(sheet.heading("Alarms", sheet.week.alarms.empty() || sheet.week.seasons.empty()
                                           ? ""
                                           : sheet.week.seasons.front().season.name));
  page.paragraph(fmt::format(
      "Asked: at most {:.3g} false ones a year of each alarm, a planted fault caught within {}.",
      sheet.job.week.false_alarms_per_year, sheet.show(sheet.job.week.catch_within_s, Kind::duration)));
  for (const GroupAlarms& group : sheet.week.alarms) {
    page.blank();
    page.paragraph("Group " + group.group);
    add_limits(page, sheet, group);
    add_planted(page, sheet, group);
  }
  add_notes(page, sheet.week.alarms);
}

void add_week_readings(Page& page, const WeekSheet& sheet) {
  if (sheet.week.readings.empty()) return;
  page.heading("Readings to expect after switching on, no water drawn");
  for (const GroupReadings& group : sheet.week.readings) {
    page.blank();
    page.paragraph(
        fmt::format("Group {}, from {}", group.group, sheet.show(group.start_c, Kind::temperature)));
    add_sensor_readings(page, sheet, group);
    add_circuit_currents(page, sheet, group);
  }
}

void add_week_wrong(Page& page, const WeekSheet& sheet) {
  if (sheet.week.wrong.empty()) return;
  page.heading("What wrong settings look like, against the same week set right");
  std::vector<std::string> groups;
  for (const WrongSetting& wrong : sheet.week.wrong)
    if (std::ranges::find(groups, wrong.group) == groups.end()) groups.push_back(wrong.group);
  for (const std::string& id : groups) {
    std::vector<const WrongSetting*> of_group;
    for (const WrongSetting& wrong : sheet.week.wrong)
      if (wrong.group == id) of_group.push_back(&wrong);
    page.blank();
    page.paragraph("Group " + id);
    add_wrong_figures(page, sheet, of_group);
  }
}

}  // namespace firstdraw::cli
