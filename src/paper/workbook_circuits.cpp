// Circuits, panels and the load calculation in the workbook.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

#include "paper/install.hpp"
#include "paper/workbook.hpp"
#include "paper/workbook_writer.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
using Cells = std::vector<Cell>;

constexpr const char *one = "0.0", *two = "0.00", *whole = "0", *share = "0.0 %";

double unknown() { return std::nan(""); }
double whole_number(std::size_t count) { return static_cast<double>(count); }

std::string limits_passed(const power::Circuit& circuit) {
  std::string text;
  if (circuit.over_length) text += "over length ";
  if (circuit.over_load) text += "over load ";
  if (!circuit.ground_fault) text += "no ground-fault protection";
  return text;
}

std::vector<Field> connect_fields(const std::string& length) {
  return {{"Circuit", 9},
          {"Panel", 10},
          {"Positions", 10},
          {"Line", 9},
          {"Group", 12},
          {"Switched by", 18},
          {"Breaker (A)", 9, whole},
          {"Poles", 7, whole},
          {"Ground fault (mA)", 11, whole},
          {"Conductor", 12},
          {"Earth", 12},
          {"Conduit", 14},
          {"Circuits in conduit", 10, whole},
          {"Conduit fill", 10, share},
          {headed("One way", length), 10, one},
          {"Fed at", 12},
          {"Heating cable", 22},
          {headed("Cable", length), 10, one},
          {headed("Most allowed", length), 12, one},
          {"Tees", 7, whole},
          {"Ends", 7, whole}};
}

std::vector<Field> expect_fields() {
  return {{"At maintain (A)", 11, one},
          {"At maintain (W)", 11, whole},
          {"300 s after cold start (A)", 13, one},
          {"Peak at start (A)", 11, one},
          {"At the power connection (V)", 13, one},
          {"At the lowest end (V)", 11, one},
          {"Lowest end", 12},
          {"Drop in wiring", 10, share},
          {"Drop in cable", 10, share},
          {"Leakage (mA)", 10, one},
          {"Start, by the breaker standard", 30},
          {"Peak over rating", 10, two},
          {"Starts after (s)", 10, whole},
          {"Passes a limit", 22},
          {"What decides the start", 60},
          {"Trouble with the wiring", 30},
          {"Runs, upstream first", 50}};
}

Cells connect_cells(const job::Job& job, const plan::Plan& plan, const power::Circuit& c) {
  const Show show(job);
  const bool grouped = c.group != piping::none;
  const power::BranchWiring& wiring = c.wiring;
  return {c.id,
          id_or_empty(job.panels, c.panel),
          fmt::format("{}", fmt::join(c.places, ", ")),
          c.phase,
          id_or_empty(job.groups, c.group),
          std::string(!grouped                                ? ""
                      : switching_of(plan, c.group).contactor ? "contactor"
                                                              : "controller's contacts"),
          c.breaker_a,
          static_cast<double>(c.poles),
          c.ground_fault ? c.ground_fault_trip_a * 1000 : unknown(),
          wiring.conductor,
          wiring.earth,
          wiring.conduit.empty() ? std::string() : wiring.conduit_kind + " " + wiring.conduit,
          static_cast<double>(wiring.circuits_in_conduit),
          wiring.conduit.empty() ? unknown() : wiring.fill_frac,
          show.value(wiring.one_way_m, Kind::length),
          c.feed_node == piping::none ? std::string() : node_name(plan, c.feed_node),
          cable_name(job, c.cable),
          show.value(c.cable_length_m, Kind::length),
          show.value(c.max_length_m, Kind::length),
          whole_number(c.tee_nodes.size()),
          whole_number(c.end_nodes.size())};
}

Cells expect_cells(const job::Job& job, const plan::Plan& plan, const power::Circuit& c) {
  const auto if_steady = [&](double value) { return c.steady ? value : unknown(); };
  const bool judged = !c.start.course.empty();
  std::string ids;
  for (const int run : c.runs) ids += (ids.empty() ? "" : ", ") + job.runs[at(run)].id;
  return {if_steady(c.working_a),
          if_steady(c.working_w),
          c.settled_a,
          c.peak_a,
          if_steady(c.feed_v),
          if_steady(c.far_v),
          c.steady && c.far_node != piping::none ? node_name(plan, c.far_node) : std::string(),
          if_steady(c.feeder_drop_frac),
          if_steady(c.far_drop_frac),
          c.leakage_a * 1000,
          judged ? std::string(rules::words(c.start.check.verdict)) : std::string("not judged"),
          judged ? c.start.check.worst_multiple : unknown(),
          judged ? c.start.delay_s : unknown(),
          limits_passed(c),
          c.start.decides,
          c.wiring.trouble,
          ids};
}

std::vector<Field> panel_fields(const std::string& length) {
  return {{"Panel", 10},
          {"Name", 24},
          {"Location", 28},
          {"Voltage (V)", 10, whole},
          {"Poles used", 10, whole},
          {"Circuits", 10, whole},
          {"At maintain, largest phase (A)", 16, one},
          {"300 s after cold start, largest phase (A)", 20, one},
          {"L1, 300 s (A)", 10, one},
          {"L2, 300 s (A)", 10, one},
          {"L3, 300 s (A)", 10, one},
          {"At maintain (W)", 12, whole},
          {"300 s after cold start (W)", 14, whole},
          {"Main (A)", 10, whole},
          {"Main asked for (A)", 12, one},
          {"Supply conductor", 14},
          {"Supply earth", 14},
          {headed("Supply length", length), 12, one},
          {"Drop in supply", 10, share},
          {"Drop with worst circuit", 12, share},
          {"Peak, all at once (A)", 12, one},
          {"Peak in sequence (A)", 12, one},
          {"Limit of the sequence (A)", 12, one},
          {"Within limit", 10},
          {"Trouble with the supply", 30}};
}

Cells panel_cells(const job::Job& job, const power::PanelLoad& load) {
  const Show show(job);
  const job::Panel& panel = job.panels[at(load.panel)];
  const auto phase = [&](std::size_t which) {
    return which < load.phase_a.size() ? load.phase_a[which] : unknown();
  };
  const auto given = [](double value) { return value > 0 ? value : unknown(); };
  const bool sized = !load.supply.conductor.empty();
  return {panel.id,
          panel.name,
          panel.location,
          panel.voltage_v,
          static_cast<double>(load.poles),
          whole_number(load.circuits.size()),
          load.working_a,
          load.settled_a,
          phase(0),
          phase(1),
          phase(2),
          load.working_w,
          load.settled_w,
          given(panel.main_a),
          load.least_main_a,
          load.supply.conductor,
          load.supply.earth,
          panel.supply_length_m > 0 ? show.value(panel.supply_length_m, Kind::length) : unknown(),
          sized ? load.supply.drop_frac : unknown(),
          sized ? load.supply.total_drop_frac : unknown(),
          given(load.together_peak_a),
          given(load.peak_a),
          given(load.start_limit_a),
          std::string(load.start_limit_a <= 0 ? ""
                      : load.within_limit     ? "yes"
                                              : "no"),
          load.supply.trouble};
}

}  // namespace

void write_circuits(WorkbookWriter& writer, const job::Job& job, const plan::Plan& plan) {
  std::vector<Field> fields = connect_fields(Show(job).unit(Kind::length));
  for (Field& field : expect_fields()) fields.push_back(std::move(field));
  std::vector<Cells> rows;
  for (const power::Circuit& circuit : plan.circuits) {
    rows.push_back(connect_cells(job, plan, circuit));
    for (Cell& cell : expect_cells(job, plan, circuit)) rows.back().push_back(std::move(cell));
  }
  writer.sheet("Circuits", fields, rows);
}

void write_panels(WorkbookWriter& writer, const job::Job& job, const plan::Plan& plan) {
  std::vector<Cells> rows;
  for (const power::PanelLoad& load : plan.panels)
    if (load.panel >= 0 && load.panel < std::ssize(job.panels)) rows.push_back(panel_cells(job, load));
  writer.sheet("Panels", panel_fields(Show(job).unit(Kind::length)), rows);
}

void write_load(WorkbookWriter& writer, const plan::Plan& plan) {
  std::vector<Cells> rows;
  for (const plan::LoadLine& line : plan.load)
    rows.push_back({line.panel, line.circuit, line.quantity, line.value, line.how, line.citation.document,
                    line.citation.edition, line.citation.clause, line.citation.basis});
  writer.sheet("Load calculation",
               {{"Panel", 10},
                {"Circuit", 10},
                {"Quantity", 28},
                {"Value", 20},
                {"How it came about", 80},
                {"Document", 20},
                {"Edition", 9},
                {"Clause", 22},
                {"Basis", 24}},
               rows);
}

}  // namespace firstdraw::paper
