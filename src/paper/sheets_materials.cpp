// Bill of materials, control settings, design choices.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "paper/week_words.hpp"

namespace firstdraw::paper {
namespace {

bool has_prices(const plan::Plan& plan) {
  return std::ranges::any_of(plan.materials,
                             [](const plan::MaterialLine& line) { return std::isfinite(line.price); });
}

std::string quantity(double value) {
  return std::abs(value - std::round(value)) < 1e-9 ? count(value) : count(value, 1);
}

void settings_of(Book& book, const Pack& pack, const job::ControlGroup& group) {
  Table table;
  table.columns = {{"Setting", ""},
                   {"Value", "", Anchor::end},
                   {"Note", ""},
                   {"As left", "", Anchor::start, 24},
                   {"Date, initials", "", Anchor::start, 24}};
  table.least_row_mm = 6.2;
  table.pad_y_mm = 0.5;
  for (const plan::Setting& setting : pack.plan.settings)
    if (setting.group == group.id)
      table.rows.push_back({Row::Kind::plain, {setting.name, setting.value, setting.note, "", ""}});
  flow(book, table);
}

void group_figures(Book& book, const Pack& pack, std::size_t index) {
  if (index >= pack.plan.groups.size()) return;
  const plan::GroupPlan& group = pack.plan.groups[index];
  const auto run_id = [&](int run) {
    return run == piping::none ? "–" : pack.job.runs[static_cast<std::size_t>(run)].id;
  };
  facts(book,
        {{"Duty at maintain", percent(group.duty)},
         {"Duty at setback", percent(group.setback_duty)},
         {"Power at maintain", fmt::format("{} W", count(group.power_w))},
         {"Slowest run heats up in", hours(group.heat_up_s)},
         {"Coldest run", run_id(group.coldest_run)},
         {"Hottest run", run_id(group.hottest_run)},
         {"Every run holds", probability(group.holds_prob)},
         {"Sensor minus water", pack.show.with_unit(group.sensor_offset_k, Kind::temperature_difference)},
         {"Energy", fmt::format("{} kWh a day, {} kWh a year", count(group.energy_kwh_per_day, 1),
                                count(group.energy_kwh_per_year))},
         {"Cost a year", money(group.cost_per_year, pack.job.economics.currency)}});
}

void choice(Book& book, const Pack& pack, const plan::Choice& made) {
  heading(book, fmt::format("Class {} · {}", made.run_class, made.description), 34);
  facts(book,
        {{"Runs", fmt::format("{}", made.runs)},
         {"Pipe", pack.show.with_unit(made.pipe_length_m, Kind::length)},
         {"Lifetime cost", money(made.lifetime_cost, pack.job.economics.currency)}},
        3);
  paragraph(book, "Chosen: " + made.chosen, {8.5, 600});
  if (made.rejected.empty()) return;
  Table table;
  table.columns = {
      {"Not chosen", ""}, {"Why", ""}, {"Lifetime cost", pack.job.economics.currency, Anchor::end}};
  for (const plan::Choice::Rejected& rejected : made.rejected)
    table.rows.push_back({Row::Kind::plain, {rejected.option, rejected.why, count(rejected.lifetime_cost)}});
  flow(book, table);
}

}  // namespace

void bill_of_materials(Book& book, const Pack& pack) {
  part(book, "Bill of materials");
  const bool prices = has_prices(pack.plan);
  Table table;
  table.columns = {{"Item", ""}, {"Detail", ""}, {"Quantity", "", Anchor::end}, {"Unit", ""}, {"Basis", ""}};
  if (prices) table.columns.push_back({"Price", pack.job.economics.currency, Anchor::end});
  std::string section;
  double total = 0;
  for (const plan::MaterialLine& line : pack.plan.materials) {
    if (line.section != section) table.rows.push_back({Row::Kind::group, {section = line.section}});
    Row row{Row::Kind::plain, {line.item, line.detail, quantity(line.quantity), line.unit, line.basis}};
    if (prices) row.cells.push_back(std::isfinite(line.price) ? count(line.price, 2) : "–");
    if (std::isfinite(line.price)) total += line.price;
    table.rows.push_back(std::move(row));
  }
  if (prices)
    table.rows.push_back({Row::Kind::total, {"Sum of what has a price", "", "", "", "", count(total, 2)}});
  flow(book, table);
}

void settings_sheets(Book& book, const Pack& pack) {
  if (has_week(pack)) return week_settings_sheets(book, pack);
  part(book, "Control settings");
  paragraph(book,
            "Enter each value, then write what the controller shows. A maintain temperature far from these "
            "values changes "
            "energy, hygiene and the risk of scalding: ask before changing it.",
            small_style);
  for (std::size_t index = 0; index < pack.job.groups.size(); ++index) {
    heading(book, group_name(pack.job, static_cast<int>(index)), 60);
    group_figures(book, pack, index);
    settings_of(book, pack, pack.job.groups[index]);
  }
}

void design_choices(Book& book, const Pack& pack) {
  part(book, "Design choices");
  paragraph(book,
            "Runs of a class are alike in pipe, air, group and what the contractor fixed; they share cable "
            "and insulation. "
            "Of what holds in the worst case the cheapest over its life was chosen.",
            small_style);
  if (pack.plan.choices.empty())
    paragraph(book, "Nothing was left open: cable and insulation are those the job names.");
  for (const plan::Choice& made : pack.plan.choices) choice(book, pack, made);
}

}  // namespace firstdraw::paper
