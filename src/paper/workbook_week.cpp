// The week's tables in the workbook: what to key in, when, alarms with the faults they were tried with, wrong
// settings.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "paper/week_settings.hpp"
#include "paper/workbook.hpp"
#include "paper/workbook_writer.hpp"

namespace firstdraw::paper {
namespace {

constexpr const char *one = "0.0", *two = "0.00", *share = "0.0 %";
constexpr double hour_s = 3600;
const double none = std::nan("");

double in(units::System system, double temp_c) {
  return units::from_si(temp_c, units::display_unit(Kind::temperature, system), Kind::temperature);
}

void settings_lines(WorkbookWriter& writer, const Pack& pack) {
  std::vector<std::vector<Cell>> rows;
  for (int group = 0; group < std::ssize(pack.job.groups); ++group)
    for (const KeyLine& line : key_lines(pack, group))
      rows.push_back({pack.job.groups[static_cast<std::size_t>(group)].id, line.name, line.value, line.note,
                      std::string()});
  writer.sheet("Settings", {{"Group", 14}, {"Setting", 34}, {"Value", 28}, {"Note", 60}, {"As left", 16}},
               rows);
}

void timetable(WorkbookWriter& writer, const Pack& pack) {
  std::vector<std::vector<Cell>> rows;
  for (const settings::SeasonAnswer& season : pack.week->seasons)
    for (const settings::GroupTimetable& group : season.timetable.groups) {
      int number = 0;
      for (const WeekProgram& program : programs_of(group)) {
        ++number;
        for (const settings::Entry& entry : program.entries) {
          const double held_c = entry.hold_c.value_or(none);
          rows.push_back({season.season.name, group.group, static_cast<double>(number),
                          days_text(program.weekdays), clock_text(entry.begin_s),
                          std::string(entry.hold_c ? "" : "off"), in(units::System::us, held_c),
                          in(units::System::metric, held_c)});
        }
      }
    }
  writer.sheet("Timetable",
               {{"Season", 16},
                {"Group", 14},
                {"Program", 8, "0"},
                {"Days", 16},
                {"From", 8},
                {"Off", 6},
                {"Set-point (°F)", 12, one},
                {"Set-point (°C)", 12, one}},
               rows);
}

void alarms(WorkbookWriter& writer, const Pack& pack) {
  std::vector<std::vector<Cell>> limits, planted;
  for (const settings::GroupAlarms& group : pack.week->alarms) {
    for (const settings::Alarm& alarm : group.alarms)
      limits.push_back({group.group, alarm_name(alarm), alarm_limit(pack, alarm), alarm.delay_s / 60,
                        alarm.events_per_year, group.simulated_weeks});
    for (const settings::Planted& each : group.planted)
      planted.push_back({group.group, each.fault,
                         each.caught_by ? alarm_name({.kind = *each.caught_by}) : std::string("no alarm"),
                         each.after_s / hour_s, std::string(each.in_time ? "yes" : "no"), each.otherwise});
  }
  writer.sheet("Alarms",
               {{"Group", 14},
                {"Alarm", 32},
                {"Limit, delay", 36},
                {"Delay (min)", 10, one},
                {"False ones a year", 10, one},
                {"Simulated weeks", 10, "0"}},
               limits);
  writer.sheet("Alarm tests",
               {{"Group", 14},
                {"Fault planted", 40},
                {"Caught by", 20},
                {"After, slowest (h; empty: never)", 14, two},
                {"In time", 8},
                {"What would find it", 60}},
               planted);
}

void wrong(WorkbookWriter& writer, const Pack& pack) {
  const std::string degree = pack.show.unit(Kind::temperature),
                    change = pack.show.unit(Kind::temperature_difference);
  const auto difference = [&](double k) { return pack.show.value(k, Kind::temperature_difference); };
  std::vector<std::vector<Cell>> rows;
  for (const settings::WrongSetting& each : pack.week->wrong)
    rows.push_back({each.group, each.what, each.fault, each.kwh_per_week, each.kwh_change_frac,
                    pack.show.value(each.mean_reading_c, Kind::temperature),
                    difference(each.reading_change_k), pack.show.value(each.coldest_run_c, Kind::temperature),
                    difference(each.coldest_change_k), each.band_h_per_day, each.hot_in_10_s_frac,
                    each.hot_change_frac, each.current_change_frac, each.seen, each.harm});
  writer.sheet("Wrong settings",
               {{"Group", 14},
                {"Set or fitted wrong", 34},
                {"As a fault", 26},
                {"Energy (kWh a week)", 11, one},
                {"Energy, change", 10, share},
                {headed("Mean reading", degree), 11, one},
                {headed("Reading, change", change), 11, one},
                {headed("Coldest run, mean", degree), 11, one},
                {headed("Coldest run, change", change), 11, one},
                {"In growth band (h a day)", 11, two},
                {"Hot within 10 s", 10, share},
                {"Hot within 10 s, change", 11, share},
                {"Current while on, change", 11, share},
                {"Where it shows", 60},
                {"Harm", 60}},
               rows);
}

void costs(WorkbookWriter& writer, const Pack& pack) {
  const std::string money = pack.job.economics.currency;
  std::vector<std::vector<Cell>> rows;
  for (const settings::CostOfYear& each : pack.week->costs)
    rows.push_back({each.name, each.energy, each.demand, each.total, each.kwh, each.basis});
  writer.sheet("Week costs",
               {{"Way", 34},
                {headed("Energy", money), 12, two},
                {headed("Demand", money), 12, two},
                {headed("Total", money), 12, two},
                {"Energy (kWh a year)", 12, "0"},
                {"Basis", 60}},
               rows);
}

}  // namespace

void write_week_settings(WorkbookWriter& writer, const Pack& pack) { settings_lines(writer, pack); }

void write_week(WorkbookWriter& writer, const Pack& pack) {
  timetable(writer, pack);
  alarms(writer, pack);
  wrong(writer, pack);
  costs(writer, pack);
}

}  // namespace firstdraw::paper
