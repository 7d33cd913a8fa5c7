// The week: better places and insulation, alarms tried with planted faults, what wrong settings look like.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "paper/week_words.hpp"

namespace firstdraw::paper {
namespace {

Column number(const char* title, const std::string& unit = "") { return {title, unit, Anchor::end}; }

int group_index(const Pack& pack, const std::string& id) {
  const auto found = std::ranges::find(pack.job.groups, id, &job::ControlGroup::id);
  return found == pack.job.groups.end() ? -1 : static_cast<int>(found - pack.job.groups.begin());
}

/// A row with the group's name where the group changes.
void group_row(Table& table, const Pack& pack, const std::string& group, std::string& last) {
  if (group == last) return;
  last = group;
  table.rows.push_back({Row::Kind::group, {"Group " + group_name(pack.job, group_index(pack, group))}});
}

std::string signed_percent(double frac) {
  if (!std::isfinite(frac)) return "–";
  const double whole = std::round(frac * 100);
  return fmt::format("{}{:.0f} %", whole > 0 ? "+" : whole < 0 ? "−" : "", std::abs(whole));
}

std::string signed_difference(const Pack& pack, double change_k) {
  if (!std::isfinite(change_k)) return "–";
  const double shown = pack.show.value(std::abs(change_k), Kind::temperature_difference);
  const std::string size = count(shown, 1);
  return size == "0.0" ? "0" : (change_k > 0 ? "+" : "−") + size;
}

std::string sensor_word(const settings::SensorChoice& choice) {
  if (choice.present && choice.best) return "as it is, best";
  return choice.present ? "as it is" : choice.best ? "best" : "";
}

void sensor_table(Book& book, const Pack& pack) {
  Table table;
  table.columns = {{"Sensor on run", ""},
                   {"", ""},
                   number("Set-point needed", pack.show.unit(Kind::temperature)),
                   number("Cost a year", pack.job.economics.currency),
                   number("Coldest water", pack.show.unit(Kind::temperature)),
                   number("Longest below the guideline", "h"),
                   {"Keeps what is asked", ""}};
  std::string last;
  for (const settings::SensorChoice& each : pack.week->sensors) {
    group_row(table, pack, each.group, last);
    table.rows.push_back({Row::Kind::plain,
                          {each.run, sensor_word(each), pack.show.number(each.set_point_c, Kind::temperature),
                           count(each.cost_per_year), pack.show.number(each.coldest_c, Kind::temperature),
                           count(each.longest_below_s / 3600, 1), each.keeps ? "yes" : "no"}});
  }
  heading(book, "Where the sensor sits best", 30);
  paragraph(book,
            "Each place lived through under the same draws, with a constant set-point as high as the group "
            "then needs. Best: the "
            "cheapest that keeps what is asked; where none does, the one that keeps it longest.",
            small_style);
  flow(book, table);
}

std::string runs_text(const std::vector<std::string>& runs) {
  constexpr std::size_t shown = 6;
  std::string text = fmt::format(
      "{}", fmt::join(runs.begin(), runs.begin() + static_cast<long>(std::min(shown, runs.size())), ", "));
  return runs.size() > shown ? text + fmt::format(" and {} more", runs.size() - shown) : text;
}

void insulation_table(Book& book, const Pack& pack) {
  const std::string money = pack.job.economics.currency;
  Table table;
  table.columns = {{"Class", ""},
                   {"Runs", ""},
                   number("Pipe", pack.show.unit(Kind::length)),
                   number("From"),
                   number("To"),
                   number("Costs now", money),
                   number("Saves a year", money),
                   number("Pays back in", "years"),
                   number("Worth over its life", money)};
  std::string last;
  for (const settings::InsulationChange& each : pack.week->insulation) {
    group_row(table, pack, each.group, last);
    table.rows.push_back(
        {Row::Kind::plain,
         {each.run_class, runs_text(each.runs), pack.show.number(each.pipe_length_m, Kind::length), each.from,
          each.to, count(each.first_cost), count(each.saving_per_year), count(each.pays_back_years, 1),
          count(each.worth)}});
  }
  heading(book, "Insulation that pays", 30);
  if (table.rows.empty())
    return paragraph(book, "No thicker insulation among the thicknesses allowed pays back within its life.");
  paragraph(book,
            "In the order in which to take them: each assumes those above it. Worth: present value of the "
            "savings less the "
            "first cost. Settings change with the insulation: search the week again afterwards.",
            small_style);
  flow(book, table);
}

std::string caught_by(const settings::Planted& planted) {
  if (!planted.caught_by) return "no alarm";
  return alarm_name({.kind = *planted.caught_by});
}

Table planted_table(const settings::GroupAlarms& group) {
  Table table;
  table.columns = {{"Fault planted", ""},
                   {"Caught by", ""},
                   number("After, slowest"),
                   {"", ""},
                   {"What would find it", ""}};
  for (const settings::Planted& each : group.planted)
    table.rows.push_back({Row::Kind::plain,
                          {each.fault, caught_by(each), elapsed_text(each.after_s),
                           each.in_time ? "in time" : "! not in time", each.otherwise}});
  return table;
}

void limits_table(Book& book, const Pack& pack, const settings::GroupAlarms& group) {
  Table table;
  table.columns = {
      {"Alarm", ""}, {"Limit, delay", ""}, number("False ones", "a year"), {"Worst ordinary reading", ""}};
  for (const settings::Alarm& alarm : group.alarms) {
    const bool current = alarm.kind == settings::Alarm::Kind::low_current;
    const std::string worst =
        current ? fmt::format("{:.1f} A", alarm.worst_ordinary)
        : alarm.follows_set_point
            ? in_both(pack, std::abs(alarm.worst_ordinary), Kind::temperature_difference) +
                  (alarm.worst_ordinary < 0 ? " below the set-point" : " above the set-point")
            : in_both(pack, alarm.worst_ordinary, Kind::temperature);
    table.rows.push_back(
        {Row::Kind::plain,
         {alarm_name(alarm), alarm_limit(pack, alarm),
          alarm.events_per_year > 0 ? count(alarm.events_per_year, 1) : "none seen", worst}});
  }
  if (!table.rows.empty()) flow(book, table);
}

Table wrong_table(const Pack& pack) {
  const std::string degree = pack.show.unit(Kind::temperature_difference);
  Table table;
  table.columns = {{"Set or fitted wrong", ""},
                   number("Energy", "change"),
                   number("Mean reading", degree + " change"),
                   number("Coldest run", degree + " change"),
                   number("Growth band", "h a day"),
                   number("Hot in 10 s", "change"),
                   number("Current while on", "change"),
                   {"Where it shows", ""},
                   {"Harm", ""}};
  table.size_pt = 7.2;
  std::string last;
  for (const settings::WrongSetting& each : pack.week->wrong) {
    group_row(table, pack, each.group, last);
    table.rows.push_back(
        {Row::Kind::plain,
         {each.what, signed_percent(each.kwh_change_frac), signed_difference(pack, each.reading_change_k),
          signed_difference(pack, each.coldest_change_k), count(each.band_h_per_day, 1),
          signed_percent(each.hot_change_frac), signed_percent(each.current_change_frac), each.seen,
          each.harm.empty() ? "little" : each.harm}});
  }
  return table;
}

}  // namespace

void week_improvements(Book& book, const Pack& pack) {
  if (pack.week->sensors.empty() && pack.week->insulation.empty()) return;
  sheet(book, "The week: better sensor places and insulation that pays", "");
  if (!pack.week->sensors.empty()) sensor_table(book, pack);
  insulation_table(book, pack);
}

void week_alarms(Book& book, const Pack& pack) {
  if (pack.week->alarms.empty()) return;
  sheet(book, "The week: alarms, tried with faults",
        fmt::format(
            "Asked: at most {} false alarm{} a year of each, a real fault within {}. Faults were planted in "
            "the full "
            "simulation at several times of the week; the slowest counts. What no alarm finds must be found "
            "by test.",
            count(pack.job.week.false_alarms_per_year, pack.job.week.false_alarms_per_year < 1 ? 1 : 0),
            pack.job.week.false_alarms_per_year == 1 ? "" : "s", elapsed_text(pack.job.week.catch_within_s)));
  for (const settings::GroupAlarms& group : pack.week->alarms) {
    heading(book, group_name(pack.job, group_index(pack, group.group)), 40);
    limits_table(book, pack, group);
    if (!group.planted.empty()) flow(book, planted_table(group));
    for (const std::string& note : group.notes) paragraph(book, note, small_style);
  }
}

void week_wrong_settings(Book& book, const Pack& pack) {
  if (pack.week->wrong.empty()) return;
  sheet(book, "The week: what wrong settings look like",
        "One thing wrong at a time, against the same week set right. Compare with what the site reads: the "
        "line that fits in "
        "several columns is the first to look for. Hot in 10 s: share of draws, in points.",
        Book::Way::wide);
  flow(book, wrong_table(pack));
}

}  // namespace firstdraw::paper
