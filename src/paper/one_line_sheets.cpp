// What the one-line diagrams say, and the sheets and files they stand on.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "paper/install.hpp"
#include "paper/one_line.hpp"
#include "paper/svg.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
constexpr const char* part_title = "One-line diagrams";

std::string counted(std::size_t number, const char* one, const char* many) {
  return fmt::format("{} {}", number, number == 1 ? one : many);
}

void describe_wiring(const Show& show, const power::BranchWiring& wiring, OneLineCircuit& drawn) {
  drawn.wires_fail = wiring.conductor.empty();
  drawn.wires = drawn.wires_fail ? "no conductor will do: see Findings"
                                 : fmt::format("2 × {}, earth {}", wiring.conductor, wiring.earth);
  drawn.way = wiring.conduit.empty() ? "" : fmt::format("{} {}, ", wiring.conduit_kind, wiring.conduit);
  if (wiring.circuits_in_conduit > 1)
    drawn.way += fmt::format("{} circuits together, ", wiring.circuits_in_conduit);
  drawn.way += show.with_unit(wiring.one_way_m, Kind::length) + " one way";
}

OneLineCircuit describe(const job::Job& job, const plan::Plan& plan, const power::Circuit& circuit) {
  const Show show(job);
  OneLineCircuit drawn;
  drawn.id = circuit.id;
  drawn.breaker = breaker_text(circuit);
  drawn.places = circuit.places.empty()
                     ? circuit.phase
                     : fmt::format("{}, position{} {}", circuit.phase, circuit.places.size() == 1 ? "" : "s",
                                   fmt::join(circuit.places, ", "));
  if (circuit.ground_fault) drawn.trip = count(circuit.ground_fault_trip_a * 1000) + " mA";
  describe_wiring(show, circuit.wiring, drawn);
  drawn.node = node_name(plan, circuit.feed_node);
  drawn.cable = cable_name(job, circuit.cable);
  drawn.length = show.with_unit(circuit.cable_length_m, Kind::length) + ", " +
                 counted(circuit.end_nodes.size(), "end", "ends");
  if (!circuit.tee_nodes.empty()) drawn.length += ", " + counted(circuit.tee_nodes.size(), "tee", "tees");
  return drawn;
}

OneLineGroup describe_group(const job::Job& job, const plan::Plan& plan, int index) {
  OneLineGroup drawn;
  if (index < 0) return drawn;
  const job::ControlGroup& group = job.groups[at(index)];
  const power::Switching switching = switching_of(plan, index);
  drawn.controller = "Controller " + group_name(job, index);
  drawn.has_sensor = group.kind == job::ControlKind::pipe_sensor && !group.sensor_run.empty();
  drawn.sensor = drawn.has_sensor ? "on run " + group.sensor_run : "no sensor: runs on the entered ambient";
  drawn.contactor = switching.contactor
                        ? fmt::format("contactor: {}, {} A each, AC-1",
                                      counted(static_cast<std::size_t>(switching.poles), "pole", "poles"),
                                      count(switching.pole_a))
                        : fmt::format("its own contacts, {} A", count(switching.contacts_a));
  return drawn;
}

std::string source_text(const job::Panel& panel, const power::PanelSupply& supply, const Show& show) {
  if (panel.supply_length_m <= 0)
    return "Supply of the panel: length not given, conductors not sized. It stands already or is planned by "
           "others.";
  if (supply.conductor.empty())
    return "Supply of the panel, " + show.with_unit(panel.supply_length_m, Kind::length) +
           ": no conductor will do, see Findings.";
  return fmt::format("Supply of the panel: {}, earth {}, {}", supply.conductor, supply.earth,
                     show.with_unit(panel.supply_length_m, Kind::length));
}

std::vector<std::string> facts_of(const job::Panel& panel, const power::PanelLoad& load) {
  return {fmt::format("{:.0f} V across the cable, {}, {}, {:.0f} Hz", panel.voltage_v,
                      panel.line_to_line ? "line to line" : "line to neutral",
                      panel.phases == 1 ? "single phase" : fmt::format("{} phases", panel.phases),
                      panel.frequency_hz),
          fmt::format(
              "Heating: {:.2f} kW at maintain; {:.2f} kW 300 s after a cold start, {} A on the fullest line",
              load.working_w / 1000, load.settled_w / 1000, count(load.settled_a, 1)),
          panel.location};
}

}  // namespace

OneLinePanel one_line_of(const job::Job& job, const plan::Plan& plan, const power::PanelLoad& load) {
  const job::Panel& panel = job.panels[at(load.panel)];
  OneLinePanel drawn;
  drawn.id = panel.id;
  drawn.panel = panel_name(job, load.panel);
  drawn.source = source_text(panel, load.supply, Show(job));
  drawn.main = fmt::format("{}; heating asks for {} A",
                           panel.main_a > 0 ? "main " + count(panel.main_a) + " A" : "main not given",
                           count(load.least_main_a, 1));
  drawn.facts = facts_of(panel, load);
  drawn.symbols = job.requirements.rules == rules::RuleSet::us ? SymbolSet::us : SymbolSet::intl;
  std::vector<int> order = load.circuits;
  std::ranges::stable_sort(order, {}, [&](int each) { return plan.circuits[at(each)].group; });
  int group = -2;
  for (const int each : order) {
    const power::Circuit& circuit = plan.circuits[at(each)];
    if (circuit.group != group) drawn.groups.push_back(describe_group(job, plan, circuit.group));
    group = circuit.group;
    drawn.groups.back().circuits.push_back(describe(job, plan, circuit));
  }
  return drawn;
}

std::string one_line_svg(const job::Job& job, const plan::Plan& plan, const power::PanelLoad& load,
                         Typesetter& type) {
  constexpr double margin_mm = 4, width_mm = 250, legend_mm = 16;
  const OneLinePanel panel = one_line_of(job, plan, load);
  const OneLineSheet sheet = one_line_sheets(panel, 0).front();
  const double height_mm = one_line_height_mm(sheet);
  const Frame view{-margin_mm, -margin_mm, width_mm + margin_mm, height_mm + legend_mm + margin_mm};
  Svg svg("One-line diagram of panel " + panel.panel + ": " + job.site.name, view, type);
  svg.rectangle({view.left_mm, view.top_mm}, view.width_mm(), view.height_mm(), colours::white, std::nullopt);
  draw_one_line(svg, panel, sheet, width_mm);
  one_line_legend(svg, {0, height_mm + 2}, width_mm, panel.symbols);
  return svg.finish();
}

namespace {

void put(Book& book, const OneLinePanel& panel, const OneLineSheet& drawn, double legend_mm) {
  const Frame& frame = book.frame();
  book.push({frame.left_mm, book.y_mm()}, 1);
  draw_one_line(book, panel, drawn, frame.width_mm());
  book.pop();
  one_line_legend(book, {frame.left_mm, frame.bottom_mm - legend_mm}, frame.width_mm(), panel.symbols);
  book.move_to(frame.bottom_mm);
}

void panel_sheets(Book& book, const Pack& pack, const power::PanelLoad& load, bool first) {
  constexpr double legend_mm = 14, title_mm = 16;
  const OneLinePanel panel = one_line_of(pack.job, pack.plan, load);
  sheet(
      book, "One-line diagram: " + panel.panel,
      "One line stands for all conductors of a circuit. Wiring lengths are estimates: the route counts. The "
      "disconnecting means, the earthing of the building and what else the panel feeds are not drawn.",
      Book::Way::wide, first ? part_title : "");
  const std::vector<OneLineSheet> sheets =
      one_line_sheets(panel, book.frame().height_mm() - title_mm - legend_mm);
  for (std::size_t each = 0; each < sheets.size(); ++each) {
    if (each > 0) book.new_page(Book::Way::wide);
    if (sheets.size() > 1)
      paragraph(book, fmt::format("{}: sheet {} of {}", panel.panel, each + 1, sheets.size()), small_style);
    put(book, panel, sheets[each], legend_mm);
  }
}

}  // namespace

void one_line_diagrams(Book& book, const Pack& pack) {
  bool first = true;
  for (const power::PanelLoad& load : pack.plan.panels) {
    if (load.panel == piping::none || load.circuits.empty()) continue;
    panel_sheets(book, pack, load, first);
    first = false;
  }
}

}  // namespace firstdraw::paper
