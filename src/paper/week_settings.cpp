#include "paper/week_settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "paper/install.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
using Clock = job::ControllerLimits::Clock;

/// Lines of the plan's sheet that this one replaces or shows elsewhere, by name or by the end of it.
constexpr std::array<const char*, 19> replaced{"Sensor place",
                                               "Sensor angle from the cable",
                                               "Sensor kind",
                                               "Maintain temperature",
                                               "Setback temperature",
                                               "Control method",
                                               "Cycle",
                                               "Differential",
                                               "Shortest time on",
                                               "Shortest time off",
                                               "When the sensor is lost",
                                               "Ambient to enter",
                                               "Low alarm",
                                               "High alarm",
                                               "High-temperature cut-out",
                                               " start delay",
                                               "Warm-up expected",
                                               " current, pipe at maintain",
                                               " current, 5 min after a cold start"};

bool is_replaced(const std::string& name) {
  return std::ranges::any_of(replaced, [&](const std::string_view each) {
    return each.starts_with(' ') ? name.ends_with(each) : name == each;
  });
}

std::string date_words(const week::Date& date) {
  static constexpr std::array<const char*, 7> days{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"};
  return fmt::format("{} {}", days[static_cast<std::size_t>(week::weekday_of(date))],
                     day_of_year(static_cast<int>(static_cast<unsigned>(date.month())),
                                 static_cast<int>(static_cast<unsigned>(date.day()))));
}

/// "clock forward Sun 8 March, back Sun 1 November 2026"; empty when it is never changed.
std::string clock_changes(const settings::Inputs& inputs) {
  std::string text;
  for (const week::ZoneSpan& span : inputs.calendar.zone.spans) {
    const std::int64_t moment_s = span.from_unix_s;
    if (moment_s <= inputs.calendar.zone.from_unix_s || moment_s >= inputs.calendar.zone.to_unix_s) continue;
    const week::LocalTime local = week::local_time(inputs.calendar.zone, moment_s);
    if (static_cast<int>(local.date.year()) != inputs.year) continue;
    const bool forward = local.utc_offset_s > week::utc_offset_s(inputs.calendar.zone, moment_s - 1);
    text += (text.empty() ? "clock " : ", ") + std::string(forward ? "forward " : "back ") +
            date_words(local.date);
  }
  return text.empty() ? text : text + fmt::format(" {}", inputs.year);
}

/// Writes the lines of one group.
class Keys {
 public:
  Keys(const Pack& pack, int index) : pack_(pack), index_(index), group_(pack.job.groups.at(at(index))) {}

  std::vector<KeyLine> write() {
    sensor();
    method();
    clock();
    set_points();
    fallback();
    alarms();
    cut_out();
    the_rest();
    return std::move(lines_);
  }

 private:
  void add(std::string name, std::string value, std::string note = "") {
    lines_.push_back({std::move(name), std::move(value), std::move(note)});
  }
  std::string temperature(double c) const { return in_both(pack_, c, Kind::temperature); }
  std::string difference(double k) const { return in_both(pack_, k, Kind::temperature_difference); }
  bool has_sensor() const { return group_.kind == job::ControlKind::pipe_sensor; }

  void sensor() {
    if (!has_sensor())
      return add("Sensor", "none", "open loop: no alarm and no cut-out by temperature; see Findings");
    add("Sensor",
        fmt::format("{}, {:.0f}° from the cable",
                    group_.sensor_run.empty() ? "run not given" : "run " + group_.sensor_run,
                    group_.sensor_angle_rad * 180 / std::numbers::pi),
        "under the insulation. " + reads());
  }

  std::string reads() const {
    const double offset_k =
        at(index_) < pack_.plan.groups.size() ? pack_.plan.groups[at(index_)].sensor_offset_k : std::nan("");
    if (!std::isfinite(offset_k)) return "Its reading against the water is not known.";
    if (std::abs(offset_k) < 0.05) return "Reads the same as the water.";
    return fmt::format("It reads about {} {} the water; set-points here are readings.",
                       difference(std::abs(offset_k)), offset_k < 0 ? "below" : "above");
  }

  void method() {
    const bool pulsed = group_.method == job::ControlMethod::pulsed;
    const std::string cycle = "cycle " + units::show(group_.cycle_s, Kind::duration, pack_.job.units);
    if (!has_sensor())
      add("Control method", "open loop, " + cycle, "a share of every cycle, from the entered ambient");
    else if (pulsed)
      add("Control method", "pulsed, " + cycle, "a share of every cycle, from the sensor");
    else
      add("Control method, differential", "thermostat, " + difference(group_.differential_k),
          "between switching on and off");
    if (group_.min_on_s > 0 || group_.min_off_s > 0)
      add("Shortest time on · off", units::show(group_.min_on_s, Kind::duration, pack_.job.units) + " · " +
                                        units::show(group_.min_off_s, Kind::duration, pack_.job.units));
  }

  void clock() {
    if (pack_.job.controller.clock == Clock::none || constant()) return;
    const std::string changes = clock_changes(pack_.week->inputs);
    add("Clock", pack_.week->inputs.calendar.zone.name, "24 hours; set it first, from a reliable clock");
    add("Daylight-saving rule", changes.empty() ? "off" : "on",
        changes.empty() ? "this zone does not change its clock" : changes);
  }

  std::vector<SeasonTimetable> all() const { return timetables_of(*pack_.week, group_.id); }
  bool constant() const {
    const auto seasons = all();
    return seasons.size() < 2 &&
           std::ranges::all_of(seasons, [](const auto& each) { return each.timetable->constant(); });
  }

  void set_points() {
    const auto seasons = all();
    for (const SeasonTimetable& each : seasons) {
      const std::string of = seasons.size() > 1 ? ", " + each.seasons : "";
      const double high_c = settings::highest_c(*each.timetable), low_c = settings::lowest_c(*each.timetable);
      if (each.timetable->constant()) {
        add("Set-point" + of, set_point_in_both(pack_, each.timetable->entries.front().hold_c),
            std::isfinite(high_c) ? "day and night, no program" : "switched off all week");
        continue;
      }
      add("Highest · lowest set-point" + of,
          set_point_in_both(pack_, high_c) + "; " + set_point_in_both(pack_, low_c),
          "for its maintain and setback entries");
    }
    if (const std::string changes = season_changes(pack_); seasons.size() > 1 && !changes.empty())
      add("Change of season", changes, "key in the other program, every year");
  }

  void fallback() {
    if (has_sensor()) add("When the sensor is lost", lost_words(), "");
    const bool used = !has_sensor() ||
                      (group_.when_lost != job::SensorLost::on && group_.when_lost != job::SensorLost::off);
    if (group_.entered_ambient_c)
      add("Ambient to enter", temperature(*group_.entered_ambient_c),
          !used          ? "not used with this choice; enter it in case that is changed"
          : has_sensor() ? "used when the sensor is lost"
                         : "sets how long the cable is on");
    else if (used)
      add("Ambient to enter", "none given", "without it nothing holds the pipe when the sensor is lost");
  }

  std::string lost_words() const {
    if (group_.when_lost == job::SensorLost::on) return "on";
    return group_.when_lost == job::SensorLost::off ? "off" : "by the entered ambient";
  }

  void alarms() {
    const settings::GroupAlarms* found = alarms_of(pack_, group_.id);
    if (!found) return job_alarms();
    if (found->alarms.empty())
      add("Alarms", "none", "nothing here raises one: see “Alarms, tried with faults”");
    for (const settings::Alarm& alarm : found->alarms)
      add(alarm_name(alarm), alarm_limit(pack_, alarm), alarm_note(alarm, found->simulated_weeks));
  }

  static std::string alarm_note(const settings::Alarm& alarm, double weeks) {
    std::string note;
    if (alarm.follows_set_point) note = "if the controller can; ";
    if (alarm.kind == settings::Alarm::Kind::low_current) note += "of the whole group, while on; ";
    return note + (alarm.events_per_year > 0
                       ? fmt::format("about {} false a year",
                                     count(alarm.events_per_year, alarm.events_per_year < 0.95 ? 1 : 0))
                       : fmt::format("no false one in {:.0f} weeks", weeks));
  }

  void job_alarms() {
    if (!has_sensor()) return;
    const auto limit = [&](const char* name, double limit_c) {
      add(name, limit_c > 0 ? temperature(limit_c) : "none given",
          "as the job gives it; not tried with this week");
    };
    limit("Low alarm", group_.low_alarm_c);
    limit("High alarm", group_.high_alarm_c);
  }

  void cut_out() {
    const settings::GroupAlarms* found = alarms_of(pack_, group_.id);
    const double cutout_c = found ? found->cutout_c : group_.high_cutout_c;
    add("High-temperature cut-out", cutout_c > 0 ? temperature(cutout_c) : "none",
        found ? found->cutout_because : "as the job gives it; needs a working sensor");
  }

  void the_rest() {
    for (const plan::Setting& setting : pack_.plan.settings)
      if (setting.group == group_.id && !is_replaced(setting.name) && !is_expected(setting.name))
        add(setting.name, setting.value, setting.note);
  }
  /// What the plan expects is told below the tables of readings.
  static bool is_expected(const std::string& name) {
    return name.starts_with("Duty expected") || name.starts_with("Mean power expected");
  }

  const Pack& pack_;
  int index_;
  const job::ControlGroup& group_;
  std::vector<KeyLine> lines_;
};

std::string spread(double low, double usual, double high) {
  if (!std::isfinite(usual)) return "–";
  return fmt::format("{:.1f} ({:.1f} to {:.1f})", usual, low, high);
}

/// In one unit without its name, which the row's heading has.
std::string degrees(const settings::ReadingAfter& after, units::System system) {
  const auto shown = [&](double c) { return units::show_number(c, Kind::temperature, system); };
  if (!std::isfinite(after.usual_c)) return "–";
  return fmt::format("{} ({} to {})", shown(after.usual_c), shown(after.low_c), shown(after.high_c));
}

std::vector<double> moments_s(const settings::GroupReadings* readings) {
  std::vector<double> moments;
  if (readings)
    for (const settings::ReadingAfter& each : readings->after) moments.push_back(each.after_s);
  return moments;
}

std::string period_cell(const Pack& pack, const settings::Entry& entry) {
  return clock_text(entry.begin_s) + "  " + set_point_in_both(pack, entry.hold_c);
}

}  // namespace

std::vector<KeyLine> key_lines(const Pack& pack, int group) { return Keys(pack, group).write(); }

std::string season_changes(const Pack& pack) {
  std::string text;
  if (!has_week(pack) || pack.week->seasons.size() < 2) return text;
  for (const settings::SeasonAnswer& each : pack.week->seasons)
    text += (text.empty() ? "" : "\n") + each.season.name + " from " +
            unbroken(day_of_year(each.season.from_month, each.season.from_day));
  return text;
}

Table program_table(const Pack& pack, const settings::GroupTimetable& timetable) {
  constexpr std::size_t most_columns = 4;
  const std::vector<WeekProgram> programs = programs_of(timetable);
  std::size_t columns = 1;
  for (const WeekProgram& each : programs)
    columns = std::max(columns, std::min(each.entries.size(), most_columns));
  Table table;
  table.columns = {{"Program", ""}, {"At midnight", ""}};
  for (std::size_t column = 0; column < columns; ++column)
    table.columns.push_back({fmt::format("Period {}", column + 1), ""});
  table.size_pt = 7.2;
  table.least_row_mm = 4.2;
  table.pad_y_mm = 0.6;
  int number = 0;
  for (const WeekProgram& program : programs) {
    const std::string name = fmt::format("{}: {}", ++number, days_text(program.weekdays));
    if (program.entries.empty()) {
      table.rows.push_back({Row::Kind::plain, {name, at_midnight(pack, timetable, program), "no change"}});
      table.rows.back().cells.resize(2 + columns);
      continue;
    }
    for (std::size_t first = 0; first < program.entries.size(); first += columns) {
      Row row{Row::Kind::plain,
              {first == 0 ? name : fmt::format("{} goes on, periods from {}", number, first + 1),
               first == 0 ? at_midnight(pack, timetable, program) : ""}};
      for (std::size_t each = first; each < std::min(first + columns, program.entries.size()); ++each)
        row.cells.push_back(period_cell(pack, program.entries[each]));
      row.cells.resize(2 + columns);
      table.rows.push_back(std::move(row));
    }
  }
  return table;
}

Table reading_table(const Pack& pack, const std::string& group) {
  const settings::GroupReadings* readings = readings_of(pack, group);
  Table table;
  if (!readings || readings->after.empty()) return table;
  table.columns = {{"Usual (range)", ""}};
  for (const settings::ReadingAfter& each : readings->after)
    table.columns.push_back({"After " + after_text(each.after_s), "", Anchor::end});
  for (const settings::ReadingAfter& each : readings->after)
    table.columns.push_back({"Read, " + after_text(each.after_s), "", Anchor::start, 12});
  table.pad_y_mm = 0.35;
  table.least_row_mm = 4.2;
  const auto row = [&](const std::string& name, auto text) {
    Row made{Row::Kind::plain, {name}};
    for (const settings::ReadingAfter& each : readings->after) made.cells.push_back(text(each));
    made.cells.resize(table.columns.size());
    table.rows.push_back(std::move(made));
  };
  const auto us = pack.job.units,
             metric = us == units::System::us ? units::System::metric : units::System::us;
  for (const units::System system : {us, metric})
    row("Sensor, " + std::string(units::display_unit(Kind::temperature, system)),
        [&](const settings::ReadingAfter& each) { return degrees(each, system); });
  row("Cable on, share", [](const settings::ReadingAfter& each) { return percent(each.duty_frac); });
  return table;
}

Table current_table(const Pack& pack, int group) {
  const settings::GroupReadings* readings = readings_of(pack, pack.job.groups.at(at(group)).id);
  const std::vector<double> moments = moments_s(readings);
  Table table;
  table.columns = {{"Circuit", ""},
                   {"Start delay", "s", Anchor::end},
                   {"At switching on", "A", Anchor::end},
                   {"5 min later", "A", Anchor::end}};
  for (const double moment_s : moments)
    table.columns.push_back({"After " + after_text(moment_s), "A, while on", Anchor::end});
  table.columns.push_back({"Pipe at maintain", "A", Anchor::end});
  table.columns.push_back({"Breaker", "A", Anchor::end});
  table.columns.push_back({"As read, A", "", Anchor::start, 16});
  table.pad_y_mm = 0.35;
  table.least_row_mm = 4.2;
  for (const power::Circuit* circuit : circuits_of(pack.plan, group)) {
    Row row{Row::Kind::plain,
            {circuit->id, circuit->start.delay_s > 0 ? count(circuit->start.delay_s) : "none",
             count(circuit->peak_a, 1), count(circuit->settled_a, 1)}};
    const settings::CircuitAfter* after = nullptr;
    if (readings)
      for (const settings::CircuitAfter& each : readings->circuits)
        if (each.circuit == circuit->id) after = &each;
    for (std::size_t each = 0; each < moments.size(); ++each)
      row.cells.push_back(after && each < after->usual_a.size() && each < after->low_a.size() &&
                                  each < after->high_a.size()
                              ? spread(after->low_a[each], after->usual_a[each], after->high_a[each])
                              : "–");
    row.cells.push_back(count(circuit->working_a, 1));
    row.cells.push_back(count(circuit->breaker_a));
    row.cells.emplace_back();
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::vector<std::string> what_the_maker_knows(const Pack& pack, int group) {
  std::vector<std::string> all{
      "its words for maintain, setback, program, differential and cut-out;",
      "whether its differential lies around the set-point, as reckoned here, or below it;",
      "whether alarms take a delay and whether their limits follow the set-point;"};
  if (pack.job.controller.clock != Clock::none)
    all.emplace_back(
        "whether its clock changes for daylight saving by itself and outlasts a power cut; whether a program "
        "goes on over midnight or each day needs a period at 00:00 (then take the second column);");
  all.emplace_back("its steps: round set-points up, high alarm and cut-out down;");
  if (pack.job.groups.at(at(group)).kind == job::ControlKind::pipe_sensor)
    all.emplace_back("whether and how it tells a lost sensor from a cold pipe.");
  return all;
}

}  // namespace firstdraw::paper
