// Control settings with a week: one page for each control group, to key in from top to bottom.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "paper/week_settings.hpp"
#include "paper/week_strip.hpp"

namespace firstdraw::paper {
namespace {

constexpr TextStyle dense_style{7, 400, false, colours::quiet};  // everything of a group is one page

using piping::at;

Table key_table(const Pack& pack, int group) {
  Table table;
  table.columns = {{"Set", ""}, {"To", ""}, {"Note", ""}, {"As left", "", Anchor::start, 19}};
  table.size_pt = 7;
  const bool tight = timetables_of(*pack.week, pack.job.groups[at(group)].id).size() > 1;
  table.least_row_mm = tight ? 3.4 : 4;
  table.pad_y_mm = tight ? 0.12 : 0.35;
  for (const KeyLine& line : key_lines(pack, group))
    table.rows.push_back({Row::Kind::plain, {line.name, line.value, line.note, ""}});
  return table;
}

void strips(Book& book, const Pack& pack, const std::vector<SeasonTimetable>& seasons) {
  constexpr double gap_mm = 4;
  const std::size_t across = std::min<std::size_t>(2, seasons.size());
  const double width_mm =
      (book.frame().width_mm() - gap_mm * static_cast<double>(across - 1)) / static_cast<double>(across);
  for (std::size_t first = 0; first < seasons.size(); first += across) {
    book.need(week_strip_height_mm);
    for (std::size_t each = first; each < std::min(first + across, seasons.size()); ++each) {
      const double left_mm = book.frame().left_mm + static_cast<double>(each - first) * (width_mm + gap_mm);
      draw_week_strip(book,
                      {left_mm, book.y_mm(), left_mm + width_mm, book.y_mm() + week_strip_height_mm - 1.5},
                      {(seasons.size() > 1 ? seasons[each].seasons + ", s" : std::string("S")) +
                           "et-points in " + pack.show.unit(Kind::temperature),
                       seasons[each].timetable, pack.job.units});
    }
    book.skip(week_strip_height_mm);
  }
}

std::string clock_note(const Pack& pack) {
  switch (pack.job.controller.clock) {
    case job::ControllerLimits::Clock::none:
      return "The controller has no clock: one set-point, day and night.";
    case job::ControllerLimits::Clock::on_off:
      return "The clock only switches: key the set-point in once and the times as on and off.";
    case job::ControllerLimits::Clock::set_points:
      break;
  }
  return "A set-point is in force from its time until the next one, over midnight too.";
}

/// The programs of every season, one below the other.
Table all_programs(const Pack& pack, const std::vector<SeasonTimetable>& seasons) {
  Table all;
  for (const SeasonTimetable& each : seasons) {
    Table one = program_table(pack, *each.timetable);
    if (one.columns.size() > all.columns.size()) all.columns = one.columns;
    all.size_pt = one.size_pt;
    all.least_row_mm = seasons.size() > 1 ? 3.6 : one.least_row_mm;
    all.pad_y_mm = seasons.size() > 1 ? 0.25 : one.pad_y_mm;
    if (seasons.size() > 1) all.rows.push_back({Row::Kind::group, {"Season: " + each.seasons}});
    std::ranges::move(one.rows, std::back_inserter(all.rows));
  }
  for (Row& row : all.rows)
    if (row.kind == Row::Kind::plain) row.cells.resize(all.columns.size());
  return all;
}

void the_week_to_key_in(Book& book, const Pack& pack, const std::string& group) {
  const std::vector<SeasonTimetable> seasons = timetables_of(*pack.week, group);
  const bool constant =
      std::ranges::all_of(seasons, [](const auto& each) { return each.timetable->constant(); });
  if (constant) return;
  heading(book, "The week", 30);
  paragraph(book, clock_note(pack), dense_style);
  flow(book, all_programs(pack, seasons));
  book.skip(-1.8);
  strips(book, pack, seasons);
}

/// What the plan worked out for settled operation.
std::string expected(const Pack& pack, int index) {
  if (at(index) >= pack.plan.groups.size()) return "";
  const plan::GroupPlan& group = pack.plan.groups[at(index)];
  const job::ControlGroup& of = pack.job.groups[at(index)];
  std::string text = fmt::format("Settled in usual air: on about {} of the time at {}", percent(group.duty),
                                 in_both(pack, of.maintain_c, Kind::temperature));
  if (of.setback_c < of.maintain_c)
    text += fmt::format(", {} at {}", percent(group.setback_duty),
                        in_both(pack, of.setback_c, Kind::temperature));
  text +=
      fmt::format("; mean power {} at the former. ", units::show(group.power_w, Kind::power, pack.job.units));
  return text + (std::isfinite(group.heat_up_s)
                     ? fmt::format("Slowest run warm after {} from {}, water standing.",
                                   elapsed_text(group.heat_up_s),
                                   in_both(pack, pack.job.requirements.start_c, Kind::temperature))
                     : std::string("One run does not get warm from cold by itself: see Findings."));
}

bool has_delays(const Pack& pack, int group) {
  return std::ranges::any_of(pack.plan.circuits, [&](const power::Circuit& circuit) {
    return circuit.group == group && circuit.start.delay_s > 0;
  });
}

/// Readings and alarms are those of the first season.
std::string of_first_season(const Pack& pack) {
  const auto& seasons = pack.week->seasons;
  return seasons.size() < 2 ? ""
                            : fmt::format("Readings and alarms: season {}. ", seasons.front().season.name);
}

void what_to_read(Book& book, const Pack& pack, int index) {
  const job::ControlGroup& group = pack.job.groups[at(index)];
  const settings::GroupReadings* readings = readings_of(pack, group.id);
  heading(book, "What you should read", 30);
  std::string text = expected(pack, index);
  if (readings)
    text = fmt::format(
               "After switching on cold, at {}, a working hour, nobody drawing water; in brackets 5 to 95 of "
               "100 buildings. ",
               in_both(pack, readings->start_c, Kind::temperature)) +
           of_first_season(pack) + text;
  if (has_delays(pack, index))
    text += " Start delays hold after every return of power, not only the first start.";
  paragraph(book, text, dense_style);
  if (const Table table = reading_table(pack, group.id); !table.rows.empty()) {
    flow(book, table);
    book.skip(-1.5);
  }
  if (const Table table = current_table(pack, index); !table.rows.empty()) flow(book, table);
  book.skip(-1);
}

void what_it_cannot_know(Book& book, const Pack& pack, int index) {
  std::string text = "Look up in the maker's instructions ";
  for (const std::string& each : what_the_maker_knows(pack, index)) text += each + " ";
  constexpr double follow_mm = 20;
  heading(book, "What this sheet cannot know", follow_mm);
  paragraph(book, text, dense_style);
}

void cautions_and_signature(Book& book) {
  constexpr double room_mm = 28;
  book.need(room_mm);
  caution(
      book, "Ask the person responsible for the water before changing anything",
      "Lower settings let Legionella multiply, higher ones scald. A controller that is off isolates nothing: "
      "lock out and prove dead. Local codes, the authority having jurisdiction and the cable maker rule.");
  writing_boxes(book, {"Keyed in by, name", "Date, time", "Controller, serial number", "Signature"}, 4, 8);
}

void group_sheet(Book& book, const Pack& pack, int index) {
  const job::ControlGroup& group = pack.job.groups[at(index)];
  const job::Panel* panel = nullptr;
  for (const job::Panel& each : pack.job.panels)
    if (each.id == group.panel) panel = &each;
  sheet(
      book, "Control settings: group " + group_name(pack.job, index),
      fmt::format("Fed from {}. Key in from top to bottom; use the unit your display shows; write down what "
                  "you left.",
                  panel ? panel->id + (panel->location.empty() ? "" : ", " + panel->location) : group.panel),
      Book::Way::upright, index == 0 ? "Control settings" : "");
  flow(book, key_table(pack, index));
  book.skip(-1.5);
  the_week_to_key_in(book, pack, group.id);
  what_to_read(book, pack, index);
  what_it_cannot_know(book, pack, index);
  cautions_and_signature(book);
}

}  // namespace

void week_settings_sheets(Book& book, const Pack& pack) {
  for (int index = 0; index < std::ssize(pack.job.groups); ++index) group_sheet(book, pack, index);
}

}  // namespace firstdraw::paper
