#include "cli/plan_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/findings_text.hpp"
#include "cli/sections.hpp"
#include "units/quantity.hpp"

namespace firstdraw::cli {
namespace {

using units::Kind;
constexpr Column::Kind number = Column::Kind::number, prose = Column::Kind::wrapping_text;

/// What every section needs: the job, its plan and how numbers are written for them.
struct Sheet {
  const job::Job& job;
  const plan::Plan& plan;
  const PlanView& view;

  std::string show(double value_si, Kind kind) const { return units::show(value_si, kind, job.units); }
  Cell cell(double value_si, Kind kind) const { return {units::show_number(value_si, kind, job.units)}; }
  std::string unit(Kind kind) const { return std::string(units::display_unit(kind, job.units)); }
  std::string run_id(int run) const {
    return run == piping::none ? "–" : job.runs[static_cast<std::size_t>(run)].id;
  }
};

std::string percent(double frac) { return std::isfinite(frac) ? fmt::format("{:.0f}", 100 * frac) : "–"; }

/// Chances never read 100 when they are not quite that.
std::string chance(double prob) {
  if (!std::isfinite(prob)) return "–";
  const double shown = prob < 1 ? std::min(99.9, 100 * prob) : 100;
  return shown > 99 && shown < 100 ? fmt::format("{:.1f}", shown) : fmt::format("{:.0f}", shown);
}

template <class Items>
std::string id_of(const Items& items, int index) {
  return index == piping::none ? "–" : items[static_cast<std::size_t>(index)].id;
}

void add_key_figures(Page& page, const Sheet& sheet) {
  const plan::Totals& totals = sheet.plan.totals;
  page.heading(sheet.job.site.name.empty() ? "Plan" : sheet.job.site.name);
  page.facts({
      {"Traced pipe", fmt::format("{}, with {} of cable on {}", sheet.show(totals.traced_m, Kind::length),
                                  sheet.show(totals.cable_m, Kind::length),
                                  plural(sheet.plan.circuits.size(), "circuit", "circuits"))},
      {"Power",
       fmt::format("{} holding, {} five minutes after a cold start",
                   sheet.show(totals.working_w, Kind::power), sheet.show(totals.settled_w, Kind::power))},
      {"Energy", fmt::format("{:.1f} kWh a day, {:.0f} kWh and {:.0f} {} a year", totals.energy_kwh_per_day,
                             totals.energy_kwh_per_year, totals.cost_per_year, sheet.job.economics.currency)},
      {"All runs hold",
       fmt::format("{} % of {} buildings tried within the tolerances (seed {})", chance(totals.all_hold_prob),
                   sheet.plan.options.samples, sheet.plan.options.seed)},
      {"Findings", in_words(count(sheet.plan.findings))},
      {"Assumed",
       plural(sheet.plan.assumptions.size(), "value", "values") + " (--show assumptions lists them)"},
  });
}

Cell at_maintain(const Sheet& sheet, int run) {
  if (run == piping::none) return {"–"};
  return sheet.cell(sheet.plan.runs[static_cast<std::size_t>(run)].at_maintain_c, Kind::temperature);
}

void add_groups(Page& page, const Sheet& sheet) {
  TextTable table({{"Group", ""},
                   {"Maintain", sheet.unit(Kind::temperature), number},
                   {"Set back", sheet.unit(Kind::temperature), number},
                   {"On, usual", "%", number},
                   {"On, worst", "%", number},
                   {"Power", sheet.unit(Kind::power), number},
                   {"Coldest run", ""},
                   {"at", sheet.unit(Kind::temperature), number},
                   {"Hottest run", ""},
                   {"at", sheet.unit(Kind::temperature), number},
                   {"All hold", "%", number},
                   {"Warm up", "h", number},
                   {"Cost a year", sheet.job.economics.currency, number}});
  for (std::size_t i = 0; i < sheet.job.groups.size(); ++i) {
    const job::ControlGroup& group = sheet.job.groups[i];
    const plan::GroupPlan& held = sheet.plan.groups[i];
    table.add_row({{group.id},
                   sheet.cell(group.maintain_c, Kind::temperature),
                   sheet.cell(group.setback_c, Kind::temperature),
                   {percent(held.duty)},
                   {percent(held.worst_duty)},
                   sheet.cell(held.power_w, Kind::power),
                   {sheet.run_id(held.coldest_run)},
                   {at_maintain(sheet, held.coldest_run)},
                   {sheet.run_id(held.hottest_run)},
                   {at_maintain(sheet, held.hottest_run)},
                   {chance(held.holds_prob)},
                   {std::isfinite(held.heat_up_s) ? fmt::format("{:.1f}", held.heat_up_s / 3600) : "never"},
                   {fmt::format("{:.0f}", held.cost_per_year)}});
  }
  page.heading("Control groups");
  page.table(table);
}

void add_circuits(Page& page, const Sheet& sheet) {
  TextTable table({{"Circuit", ""},
                   {"Group", ""},
                   {"Fed at", "", prose},
                   {"Cable", "", prose},
                   {"Length", sheet.unit(Kind::length), number},
                   {"Longest allowed", sheet.unit(Kind::length), number},
                   {"Breaker", "A", number},
                   {"Poles", "", number},
                   {"Working", "A", number},
                   {"Cold, 5 min", "A", number},
                   {"Cold, peak", "A", number},
                   {"Drop", "%", number},
                   {"Wire", "", prose}});
  for (const power::Circuit& circuit : sheet.plan.circuits) {
    const bool fed = circuit.feed_node != piping::none;
    table.add_row({{circuit.id},
                   {id_of(sheet.job.groups, circuit.group)},
                   {fed ? sheet.plan.network.node_ids[static_cast<std::size_t>(circuit.feed_node)] : "–"},
                   {id_of(sheet.job.cables, circuit.cable)},
                   sheet.cell(circuit.cable_length_m, Kind::length),
                   sheet.cell(circuit.max_length_m, Kind::length),
                   {fmt::format("{:g}", circuit.breaker_a)},
                   {fmt::format("{}", circuit.poles)},
                   {fmt::format("{:.1f}", circuit.working_a)},
                   {fmt::format("{:.1f}", circuit.settled_a)},
                   {fmt::format("{:.1f}", circuit.peak_a)},
                   {fmt::format("{:.1f}", 100 * (circuit.far_drop_frac + circuit.feeder_drop_frac))},
                   {circuit.wiring.conductor}});
  }
  page.heading("Circuits");
  page.table(table);
}

void add_panels(Page& page, const Sheet& sheet) {
  TextTable table({{"Panel", ""},
                   {"Circuits", "", number},
                   {"Poles", "", number},
                   {"Working", "A", number},
                   {"Cold, 5 min", "A", number},
                   {"Working", sheet.unit(Kind::power), number},
                   {"Cold, 5 min", sheet.unit(Kind::power), number}});
  for (const power::PanelLoad& panel : sheet.plan.panels) {
    table.add_row({{id_of(sheet.job.panels, panel.panel)},
                   {fmt::format("{}", panel.circuits.size())},
                   {fmt::format("{}", panel.poles)},
                   {fmt::format("{:.1f}", panel.working_a)},
                   {fmt::format("{:.1f}", panel.settled_a)},
                   sheet.cell(panel.working_w, Kind::power),
                   sheet.cell(panel.settled_w, Kind::power)});
  }
  page.heading("Panels");
  page.table(table);
}

/// Traced runs from the coldest at maintain on; or all of them as the job has them.
std::vector<std::size_t> runs_to_list(const Sheet& sheet) {
  std::vector<std::size_t> runs;
  for (std::size_t i = 0; i < sheet.job.runs.size(); ++i) {
    if (sheet.view.all || sheet.plan.runs[i].cable != piping::none) runs.push_back(i);
  }
  if (sheet.view.all) return runs;
  std::ranges::stable_sort(runs, {}, [&sheet](std::size_t i) { return sheet.plan.runs[i].at_maintain_c; });
  runs.resize(std::min(runs.size(), static_cast<std::size_t>(std::max(0, sheet.view.coldest))));
  return runs;
}

std::string cable_of(const Sheet& sheet, const plan::RunPlan& held) {
  const std::string id = id_of(sheet.job.cables, held.cable);
  return held.passes > 1 ? fmt::format("{} × {}", held.passes, id) : id;
}

std::vector<Column> run_columns(const Sheet& sheet) {
  const std::string degree = sheet.unit(Kind::temperature), watts = sheet.unit(Kind::power_per_length);
  return {{"Run", ""},
          {"Pipe", "", prose},
          {"Length", sheet.unit(Kind::length), number},
          {"Insulation", sheet.unit(Kind::size), number},
          {"Cable", "", prose},
          {"Loss", watts, number},
          {"Output", watts, number},
          {"Spare at worst", "%", number},
          {"Held at", degree, number},
          {"Worst cold", degree, number},
          {"5 % are below", degree, number},
          {"Stuck on", degree, number},
          {"Hold", "%", number}};
}

std::vector<Cell> run_cells(const Sheet& sheet, std::size_t i) {
  const job::Run& run = sheet.job.runs[i];
  const plan::RunPlan& held = sheet.plan.runs[i];
  const bool traced = held.cable != piping::none;
  const auto if_traced = [traced](const Cell& cell) { return traced ? cell : Cell{"–"}; };
  return {{run.id},
          {fmt::format("{} {}", run.pipe.material, run.pipe.size)},
          sheet.cell(run.length_m, Kind::length),
          sheet.cell(held.insulation.nominal_thickness_m, Kind::size),
          {cable_of(sheet, held)},
          if_traced(sheet.cell(held.loss_w_per_m, Kind::power_per_length)),
          if_traced(sheet.cell(held.output_w_per_m, Kind::power_per_length)),
          if_traced({percent(held.spare_frac), held.spare_frac < 0 ? Style::red : Style::plain}),
          if_traced(sheet.cell(held.at_maintain_c, Kind::temperature)),
          if_traced(sheet.cell(held.worst_cold_c, Kind::temperature)),
          if_traced(sheet.cell(held.water_c.p5, Kind::temperature)),
          if_traced(sheet.cell(held.stuck_on_c, Kind::temperature)),
          if_traced({chance(held.holds_prob)})};
}

void add_runs(Page& page, const Sheet& sheet) {
  const std::vector<std::size_t> runs = runs_to_list(sheet);
  TextTable table(run_columns(sheet));
  for (const std::size_t i : runs) table.add_row(run_cells(sheet, i));
  page.heading(sheet.view.all ? fmt::format("Runs: all {}", runs.size())
                              : fmt::format("Runs: the {} coldest of {} (--all lists every one)", runs.size(),
                                            sheet.job.runs.size()));
  page.table(table);
}

std::string rejected_in_words(const plan::Choice& choice, bool all) {
  const std::size_t shown = all ? choice.rejected.size() : std::min<std::size_t>(1, choice.rejected.size());
  std::string text;
  for (std::size_t i = 0; i < shown; ++i) {
    text += fmt::format("{}{}: {}", i == 0 ? "" : "; ", choice.rejected[i].option, choice.rejected[i].why);
  }
  const std::size_t left = choice.rejected.size() - shown;
  return left == 0 ? text : fmt::format("{} (and {} more)", text, left);
}

void add_choices(Page& page, const Sheet& sheet) {
  TextTable table({{"Class", ""},
                   {"Of runs like", "", prose},
                   {"Runs", "", number},
                   {"Chosen", "", prose},
                   {"Life cost", sheet.job.economics.currency, number},
                   {"Rejected", "", prose}});
  for (const plan::Choice& choice : sheet.plan.choices) {
    table.add_row({{choice.run_class},
                   {choice.description},
                   {fmt::format("{}", choice.runs)},
                   {choice.chosen},
                   {std::isfinite(choice.lifetime_cost) ? fmt::format("{:.0f}", choice.lifetime_cost) : "–"},
                   {rejected_in_words(choice, sheet.view.all)}});
  }
  page.heading("Choices");
  page.table(table);
}

void add_materials(Page& page, const Sheet& sheet) {
  TextTable table({{"Section", ""},
                   {"Item", "", prose},
                   {"Detail", "", prose},
                   {"Quantity", "", number},
                   {"Unit", ""},
                   {"Basis", "", prose}});
  for (const plan::MaterialLine& line : sheet.plan.materials) {
    const std::string quantity = std::floor(line.quantity) == line.quantity
                                     ? fmt::format("{:.0f}", line.quantity)
                                     : fmt::format("{:.1f}", line.quantity);
    table.add_row({{line.section}, {line.item}, {line.detail}, {quantity}, {line.unit}, {line.basis}});
  }
  page.heading("Materials");
  page.table(table);
}

void add_settings(Page& page, const Sheet& sheet) {
  TextTable table({{"Group", ""}, {"Setting", "", prose}, {"Value", "", prose}, {"Note", "", prose}});
  for (const plan::Setting& setting : sheet.plan.settings) {
    table.add_row({{setting.group}, {setting.name}, {setting.value}, {setting.note}});
  }
  page.heading("Control settings");
  page.table(table);
}

const std::vector<Section<Sheet>>& sections() {
  static const std::vector<Section<Sheet>> all{
      {"key", true, add_key_figures},
      {"groups", true, add_groups},
      {"circuits", true, add_circuits},
      {"panels", true, add_panels},
      {"runs", true, add_runs},
      {"choices", true, add_choices},
      {"materials", false, add_materials},
      {"settings", false, add_settings},
      {"findings", true, [](Page& page, const Sheet& sheet) { add_findings(page, sheet.plan.findings); }},
      {"assumptions", false,
       [](Page& page, const Sheet& sheet) { add_assumptions(page, sheet.plan.assumptions); }},
  };
  return all;
}

}  // namespace

const std::vector<std::string>& plan_sections() {
  static const std::vector<std::string> names = names_of(sections(), false);
  return names;
}

std::vector<std::string> usual_plan_sections() { return names_of(sections(), true); }

void add_plan(Page& page, const job::Job& job, const plan::Plan& plan, const PlanView& view) {
  const Sheet sheet{job, plan, view};
  add_sections(page, sections(), sheet, view.sections);
}

}  // namespace firstdraw::cli
