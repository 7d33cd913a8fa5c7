// Installation sheets of the circuits, and the currents to expect.
#include <fmt/format.h>

#include <array>
#include <cmath>

#include "paper/install.hpp"

namespace firstdraw::paper {
namespace {

constexpr std::array<double, 4> current_pipes_c{20, 40, 50, 60};

const physics::CableSheet* sheet_of(const Pack& pack, const power::Circuit& circuit) {
  const bool known = circuit.cable >= 0 && circuit.cable < std::ssize(pack.job.cables);
  return known ? &pack.job.cables[static_cast<std::size_t>(circuit.cable)] : nullptr;
}

// From the data sheet at the panel's nominal voltage; NaN beyond the sheet's table.
double current_a(const Pack& pack, const power::Circuit& circuit, double pipe_c) {
  const job::Panel* panel = panel_of(pack, circuit.panel);
  const physics::CableSheet* sheet = sheet_of(pack, circuit);
  if (!panel || !sheet) return std::nan("");
  const auto output = physics::HeatingCable(*sheet).output(pipe_c, panel->voltage_v);
  return output.extrapolated ? std::nan("")
                             : output.power_w_per_m * circuit.cable_length_m / panel->voltage_v;
}

std::string current_tolerance(const Pack& pack, const power::Circuit& circuit) {
  const physics::CableSheet* sheet = sheet_of(pack, circuit);
  return sheet && sheet->output_tolerance_frac > 0 ? "± " + percent(sheet->output_tolerance_frac)
                                                   : "not given";
}

Table circuit_runs(const Pack& pack, const power::Circuit& circuit) {
  const std::string length = pack.show.unit(Kind::length);
  Table table;
  table.columns = {{"Run", ""},
                   {"From – to", ""},
                   {"Space", ""},
                   {"Pipe", ""},
                   {"Length", length, Anchor::end},
                   {"Passes", "", Anchor::end},
                   {"Cable", length, Anchor::end},
                   {"Valves", "", Anchor::end},
                   {"Supports", "", Anchor::end},
                   {"Insulation, sized for", ""},
                   {"Done", "", Anchor::start, 7}};
  table.size_pt = 6.8;
  table.pad_y_mm = 0.35;
  std::string level;
  for (int index : circuit.runs) {
    const job::Run& run = pack.job.runs[static_cast<std::size_t>(index)];
    const plan::RunPlan& planned = pack.plan.runs[static_cast<std::size_t>(index)];
    if (run.level != level)
      table.rows.push_back({Row::Kind::group, {level_name(pack.job, level = run.level)}});
    table.rows.push_back(
        {Row::Kind::plain,
         {run.id, run.from + " – " + run.to, space_name(pack.job, run.space), pipe_name(run.pipe),
          pack.show.number(run.length_m, Kind::length), fmt::format("{}", planned.passes),
          pack.show.number(planned.cable_length_m, Kind::length), fmt::format("{}", run.valves),
          fmt::format("{}", run.supports),
          unbroken(pack.show.with_unit(planned.insulation.nominal_thickness_m, Kind::size)) + ", " +
              planned.insulation.made_for,
          ""}});
  }
  return table;
}

std::string node_list(const Pack& pack, const std::vector<int>& nodes) {
  std::string text;
  for (int node : nodes) text += (text.empty() ? "" : ", ") + node_name(pack.plan, node);
  return text.empty() ? "none" : text;
}

}  // namespace

void circuit_sheet(Book& book, const Pack& pack, const power::Circuit& circuit) {
  sheet(book, "Install: circuit " + circuit.id,
        "Group " + group_name(pack.job, circuit.group) + " · panel " + panel_name(pack.job, circuit.panel));
  facts(book, {{"Heating cable", cable_name(pack.job, circuit.cable)},
               {"Length", pack.show.with_unit(circuit.cable_length_m, Kind::length) + ", at most " +
                              pack.show.with_unit(circuit.max_length_m, Kind::length)},
               {"Breaker", fmt::format("{:.0f} A, {} pole{}", circuit.breaker_a, circuit.poles,
                                       circuit.poles == 1 ? "" : "s")},
               {"Ground fault", circuit.ground_fault
                                    ? fmt::format("trips at {:.0f} mA", circuit.ground_fault_trip_a * 1000)
                                    : "missing: do not energise"},
               {"Conductor · earth", circuit.wiring.conductor + " · " + circuit.wiring.earth},
               {"Power connection at", node_name(pack.plan, circuit.feed_node)},
               {"Tees at", node_list(pack, circuit.tee_nodes)},
               {"Ends at", node_list(pack, circuit.end_nodes)}});
  flow(book, expected_currents(pack, {&circuit}));
  flow(book, circuit_runs(pack, circuit));
  heading(book, "Run by run", 44);
  steps(book,
        {("Start at the power connection; leave the tail its kit asks for. Pay the reel out straight; "
          "never kink, twist or step on the cable."),
         ("Lay it flat along the lower side of the pipe, on the outside of bends, not over the sensor's "
          "side; tape it as the drawing shows."),
         ("At each valve, union and support lay the allowance in loops that let the part be removed. "
          "Respect the least bend radius of the data sheet."),
         ("Tees and ends by the maker's kit, with dry hands on dry cable; no bus wire may touch the "
          "other or the braid."),
         ("Test: both bus wires together to braid, and end to end; compare with the reel's readings; "
          "write them on the field-test sheet."),
         "Insulate, label, test again. Only then hand over to be connected."});
  if (circuit.over_length || circuit.over_load || !circuit.ground_fault)
    caution(book, "This circuit is not to be built as it stands",
            "See Findings: it passes a limit of its cable, breaker or protection.");
}

Table expected_currents(const Pack& pack, const std::vector<const power::Circuit*>& circuits) {
  Table table;
  table.columns = {{"Circuit", ""}, {"At switching on", "", Anchor::end}, {"After 300 s", "", Anchor::end}};
  for (const double pipe_c : current_pipes_c)
    table.columns.push_back({"Pipe " + pack.show.with_unit(pipe_c, Kind::temperature), "", Anchor::end});
  table.columns.push_back({"Tolerance", "", Anchor::end});
  table.size_pt = 7;
  table.pad_y_mm = 0.5;
  table.rows.push_back(
      {Row::Kind::group,
       {"Amperes expected at nominal voltage; at switching on and after 300 s from pipe at " +
        pack.show.with_unit(pack.job.requirements.start_c, Kind::temperature) +
        ". At switching on the current follows the voltage; settled it changes less."}});
  for (const power::Circuit* circuit : circuits) {
    Row row{Row::Kind::plain, {circuit->id, count(circuit->peak_a, 1), count(circuit->settled_a, 1)}};
    for (const double pipe_c : current_pipes_c)
      row.cells.push_back(count(current_a(pack, *circuit, pipe_c), 1));
    row.cells.push_back(current_tolerance(pack, *circuit));
    table.rows.push_back(std::move(row));
  }
  return table;
}

std::string expected_currents_text(const Pack& pack, const power::Circuit& circuit) {
  std::string text =
      fmt::format("Expected at nominal voltage: {} A at switching on, {} A after 300 s, from pipe at {}",
                  count(circuit.peak_a, 1), count(circuit.settled_a, 1),
                  pack.show.with_unit(pack.job.requirements.start_c, Kind::temperature));
  for (const double pipe_c : current_pipes_c)
    if (const double amperes = current_a(pack, circuit, pipe_c); std::isfinite(amperes))
      text += fmt::format("; {} A with pipe at {}", count(amperes, 1),
                          pack.show.with_unit(pipe_c, Kind::temperature));
  return text + "; tolerance " + current_tolerance(pack, circuit) + ".";
}

}  // namespace firstdraw::paper
