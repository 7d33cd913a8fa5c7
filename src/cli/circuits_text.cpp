#include "cli/circuits_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/sections.hpp"
#include "rules/breaker_trip.hpp"
#include "units/quantity.hpp"

namespace firstdraw::cli {
namespace {

using piping::at;
using units::Kind;
constexpr Column::Kind number = Column::Kind::number, prose = Column::Kind::wrapping_text;

struct Sheet {
  const job::Job& job;
  const plan::Plan& plan;
  const CircuitsView& view;

  Cell cell(double value_si, Kind kind) const { return {units::show_number(value_si, kind, job.units)}; }
  std::string unit(Kind kind) const { return std::string(units::display_unit(kind, job.units)); }
  std::string node(int index) const { return index == piping::none ? "–" : plan.network.node_ids[at(index)]; }
  bool wanted(const power::Circuit& circuit) const {
    return view.circuit.empty() || view.circuit == circuit.id;
  }
};

Cell decimal(double value, int digits = 1) {
  return {std::isfinite(value) ? fmt::format("{:.{}f}", value, digits) : "–"};
}

template <class Items>
std::string id_of(const Items& items, int index) {
  return index == piping::none ? "–" : items[at(index)].id;
}

std::string or_dash(const std::string& text) { return text.empty() ? "–" : text; }

std::string run_ids(const Sheet& sheet, const power::Circuit& circuit) {
  std::vector<std::string> ids;
  for (const int run : circuit.runs) ids.push_back(sheet.job.runs[at(run)].id);
  return fmt::format("{}", fmt::join(ids, " "));
}

/// One row for every circuit that is wanted.
template <class MakeRow>
void add_table(Page& page, const Sheet& sheet, const char* heading, TextTable table,
               const MakeRow& make_row) {
  for (const power::Circuit& circuit : sheet.plan.circuits)
    if (sheet.wanted(circuit)) table.add_row(make_row(circuit));
  page.heading(heading);
  page.table(table);
}

void add_division(Page& page, const Sheet& sheet) {
  const power::Division& division = sheet.plan.division;
  const std::string& currency = sheet.job.economics.currency;
  page.heading("Division");
  page.facts({{"Circuits", fmt::format("{}", sheet.plan.circuits.size())},
              {"Cost of the layout", fmt::format("{:.0f} {}", division.cost, currency)},
              {"Proof", division.exact ? "no layout within the limits and pins costs less"
                                       : fmt::format("not proven best: none costs less than {:.0f} {}",
                                                     division.lower_bound, currency)}});
  for (const std::string& conflict : division.conflicts) page.paragraph(conflict, "! ", Style::red);
}

void add_connections(Page& page, const Sheet& sheet) {
  TextTable table({{"Circuit", ""},
                   {"Panel", ""},
                   {"Places", ""},
                   {"Group", ""},
                   {"Fed at", "", prose},
                   {"Cable", ""},
                   {"Length", sheet.unit(Kind::length), number},
                   {"Longest allowed", sheet.unit(Kind::length), number},
                   {"Breaker", "A", number},
                   {"Tees", "", number},
                   {"Ends", "", number},
                   {"Runs", "", prose}});
  add_table(page, sheet, "What to connect", std::move(table), [&](const power::Circuit& circuit) {
    return std::vector<Cell>{{circuit.fixed ? circuit.id + " (fixed)" : circuit.id},
                             {id_of(sheet.job.panels, circuit.panel)},
                             {fmt::format("{} {}", fmt::join(circuit.places, "+"), circuit.phase)},
                             {id_of(sheet.job.groups, circuit.group)},
                             {sheet.node(circuit.feed_node)},
                             {id_of(sheet.job.cables, circuit.cable)},
                             sheet.cell(circuit.cable_length_m, Kind::length),
                             sheet.cell(circuit.max_length_m, Kind::length),
                             {fmt::format("{:g}", circuit.breaker_a)},
                             {fmt::format("{}", circuit.tee_nodes.size())},
                             {fmt::format("{}", circuit.end_nodes.size())},
                             {run_ids(sheet, circuit)}};
  });
}

void add_wiring(Page& page, const Sheet& sheet) {
  TextTable table({{"Circuit", ""},
                   {"One way", sheet.unit(Kind::length), number},
                   {"Conductor", ""},
                   {"Earth", ""},
                   {"May carry", "A", number},
                   {"Raceway", ""},
                   {"Filled", "%", number},
                   {"Mind", "", prose}});
  add_table(page, sheet, "Wiring", std::move(table), [&](const power::Circuit& circuit) {
    const power::BranchWiring& wiring = circuit.wiring;
    const bool raceway = !wiring.conduit.empty();
    return std::vector<Cell>{{circuit.id},
                             sheet.cell(wiring.one_way_m, Kind::length),
                             {or_dash(wiring.conductor)},
                             {or_dash(wiring.earth)},
                             decimal(wiring.ampacity_a),
                             {raceway ? wiring.conduit_kind + " " + wiring.conduit : "–"},
                             {raceway ? fmt::format("{:.0f}", 100 * wiring.fill_frac) : "–"},
                             {wiring.trouble}};
  });
}

void add_expectations(Page& page, const Sheet& sheet) {
  TextTable table({{"Circuit", ""},
                   {"Working", "A", number},
                   {"Working", "W", number},
                   {"At the feed", "V", number},
                   {"Lowest end", "V", number},
                   {"which is", "", prose},
                   {"Drop, wiring", "%", number},
                   {"Drop, cable", "%", number},
                   {"Leakage", "mA", number}});
  add_table(page, sheet, "Working: at what the runs hold, panel at nominal voltage", std::move(table),
            [&](const power::Circuit& circuit) {
              return std::vector<Cell>{{circuit.id},
                                       decimal(circuit.working_a),
                                       decimal(circuit.working_w, 0),
                                       decimal(circuit.feed_v),
                                       decimal(circuit.far_v),
                                       {sheet.node(circuit.far_node)},
                                       decimal(100 * circuit.feeder_drop_frac),
                                       decimal(100 * circuit.far_drop_frac),
                                       decimal(1000 * circuit.leakage_a, 2)};
            });
}

void add_starts(Page& page, const Sheet& sheet) {
  TextTable table({{"Circuit", ""},
                   {"Breaker", "A", number},
                   {"Peak", "A", number},
                   {"After 300 s", "A", number},
                   {"Inrush over", "min", number},
                   {"Delay", "s", number},
                   {"The standard says", "", prose}});
  add_table(page, sheet, "Starts from the coldest pipe", std::move(table),
            [&](const power::Circuit& circuit) {
              return std::vector<Cell>{{circuit.id},
                                       {fmt::format("{:g}", circuit.breaker_a)},
                                       decimal(circuit.peak_a),
                                       decimal(circuit.settled_a),
                                       decimal(circuit.start.inrush_over_s / 60),
                                       decimal(circuit.start.delay_s, 0),
                                       {std::string(rules::words(circuit.start.check.verdict))}};
            });
}

std::string start_words(const power::PanelLoad& load) {
  if (load.start_limit_a <= 0) return "all at once";
  return fmt::format("one after another, {:.1f} A {} {:.1f} A", load.peak_a,
                     load.within_limit ? "within" : "above", load.start_limit_a);
}

void add_panels(Page& page, const Sheet& sheet) {
  TextTable table({{"Panel", ""},
                   {"Circuits", "", number},
                   {"Poles", "", number},
                   {"Working", "A", number},
                   {"After 300 s", "A", number},
                   {"Main at least", "A", number},
                   {"All at once", "A", number},
                   {"Start", "", prose}});
  for (const power::PanelLoad& load : sheet.plan.panels)
    table.add_row({{id_of(sheet.job.panels, load.panel)},
                   {fmt::format("{}", load.circuits.size())},
                   {fmt::format("{}", load.poles)},
                   decimal(load.working_a),
                   decimal(load.settled_a),
                   decimal(load.least_main_a),
                   decimal(load.together_peak_a),
                   {start_words(load)}});
  page.heading("Panels, fullest phase");
  page.table(table);
}

void add_load(Page& page, const Sheet& sheet) {
  TextTable table(
      {{"Of", ""}, {"Figure", "", prose}, {"Value", "", prose}, {"How", "", prose}, {"By", "", prose}});
  for (const plan::LoadLine& line : sheet.plan.load)
    if (sheet.view.circuit.empty() || sheet.view.circuit == line.circuit)
      table.add_row({{line.circuit.empty() ? line.panel : line.circuit},
                     {line.quantity},
                     {line.value},
                     {line.how},
                     {line.citation.text()}});
  page.heading("Load calculation");
  page.table(table);
}

const std::vector<Section<Sheet>>& sections() {
  static const std::vector<Section<Sheet>> all{
      {"division", true, add_division},    {"connect", true, add_connections}, {"wiring", true, add_wiring},
      {"working", true, add_expectations}, {"starts", true, add_starts},       {"panels", true, add_panels},
      {"load", false, add_load},
  };
  return all;
}

}  // namespace

const std::vector<std::string>& circuit_sections() {
  static const std::vector<std::string> names = names_of(sections(), false);
  return names;
}

std::vector<std::string> usual_circuit_sections() { return names_of(sections(), true); }

void add_circuits(Page& page, const job::Job& job, const plan::Plan& plan, const CircuitsView& view) {
  add_sections(page, sections(), Sheet{job, plan, view}, view.sections);
}

nlohmann::json circuits_json(const job::Job& job, const plan::Plan& plan) {
  nlohmann::json all = plan::to_json(job, plan);
  nlohmann::json some;
  for (const char* key : {"site", "circuits", "panels", "switching", "division", "load", "findings"})
    if (all.contains(key)) some[key] = std::move(all[key]);
  return some;
}

}  // namespace firstdraw::cli
