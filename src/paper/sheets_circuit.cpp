// Installation sheets of the circuits, and the currents to expect.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "paper/diagrams_circuit.hpp"
#include "paper/install.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
constexpr const char* dash = "–";

const physics::CableSheet* sheet_of(const Pack& pack, const power::Circuit& circuit) {
  const bool known = circuit.cable >= 0 && circuit.cable < std::ssize(pack.job.cables);
  return known ? &pack.job.cables[at(circuit.cable)] : nullptr;
}

std::string feed_text(const Pack& pack, const power::Circuit& circuit) {
  const std::string positions = positions_text(circuit);
  const job::Panel* panel = panel_of(pack, circuit.panel);
  return (panel ? panel->id : dash) + (positions.empty() ? "" : ", " + positions);
}

std::string protection_text(const power::Circuit& circuit) {
  return breaker_text(circuit) +
         (circuit.ground_fault ? fmt::format("; ground fault {:.0f} mA", circuit.ground_fault_trip_a * 1000)
                               : "; NO ground-fault protection: do not energise");
}

std::string wiring_text(const Pack& pack, const power::BranchWiring& wiring) {
  if (wiring.conductor.empty()) return wiring.trouble.empty() ? "" : "none that will do: see Findings";
  std::string text = unbroken(wiring.conductor);
  if (!wiring.earth.empty()) text += ", earth " + unbroken(wiring.earth);
  if (wiring.one_way_m > 0) text += "; " + pack.show.with_unit(wiring.one_way_m, Kind::length) + " one way";
  return text;
}

std::string conduit_text(const power::BranchWiring& wiring) {
  if (wiring.conduit.empty()) return "";
  std::string text =
      fmt::format("{} {}, {} full", wiring.conduit_kind, wiring.conduit, percent(wiring.fill_frac));
  if (wiring.circuits_in_conduit > 1) text += fmt::format(", for {} circuits", wiring.circuits_in_conduit);
  return text;
}

std::string switching_text(const Pack& pack, const power::Circuit& circuit) {
  if (circuit.group < 0) return dash;
  const bool contactor = switching_of(pack.plan, circuit.group).contactor;
  return contactor ? "by the group's contactor" : "by the controller's own contacts";
}

std::string volts_text(const Pack& pack, const power::Circuit& circuit) {
  if (!circuit.steady) return "no steady state: see Findings";
  if (!(circuit.feed_v > 0)) return "";
  return fmt::format("{:.0f} at the connection, {:.0f} at {}", circuit.feed_v, circuit.far_v,
                     node_name(pack.plan, circuit.far_node));
}

std::string start_text(const Pack& pack, const power::Circuit& circuit) {
  std::string text = fmt::format("{} A at once, {} A after 300 s, from {}", count(circuit.peak_a, 1),
                                 count(circuit.settled_a, 1),
                                 pack.show.with_unit(pack.job.requirements.start_c, Kind::temperature));
  if (circuit.start.delay_s > 0)
    text += fmt::format("; starts {} late", pack.show.with_unit(circuit.start.delay_s, Kind::duration));
  return text;
}

std::string counted(std::size_t number, const char* one, const char* many) {
  return fmt::format("{} {}", number, number == 1 ? one : many);
}

void circuit_facts(Book& book, const Pack& pack, const power::Circuit& circuit) {
  facts(book, {{"Fed from", feed_text(pack, circuit)},
               {"Breaker", protection_text(circuit)},
               {"Conductors", wiring_text(pack, circuit.wiring)},
               {"Conduit", conduit_text(circuit.wiring)},
               {"Heating cable", cable_name(pack.job, circuit.cable)},
               {"Length", pack.show.with_unit(circuit.cable_length_m, Kind::length) + ", at most " +
                              pack.show.with_unit(circuit.max_length_m, Kind::length)},
               {"Switched", switching_text(pack, circuit)},
               {"Kits", "1 connection at " + node_name(pack.plan, circuit.feed_node) + ", " +
                            counted(circuit.tee_nodes.size(), "tee", "tees") + ", " +
                            counted(circuit.end_nodes.size(), "end seal", "end seals")},
               {"Volts at maintain", volts_text(pack, circuit)},
               {"Cold start", start_text(pack, circuit)},
               {"Stands already", circuit.fixed ? "as circuits.csv says: check it against this sheet" : ""}});
}

std::string end_text(const Pack& pack, const power::Circuit& circuit, const CableTree::Stretch& stretch) {
  std::string text =
      node_name(pack.plan, stretch.far_node) + " · " + pack.show.with_unit(stretch.end_m, Kind::length);
  const auto end = std::ranges::find(circuit.end_nodes, stretch.far_node);
  const auto index = static_cast<std::size_t>(end - circuit.end_nodes.begin());
  if (circuit.steady && index < circuit.end_v.size())
    text += fmt::format(" · {:.0f} V", circuit.end_v[index]);
  return text;
}

CableTreeTexts tree_texts(const Pack& pack, const power::Circuit& circuit, const CableTree& tree) {
  CableTreeTexts texts;
  texts.feed =
      node_name(pack.plan, tree.feed_node) + ": power connection" + (tree.from_feed > 1 ? " and tee" : "");
  for (const CableTree::Stretch& stretch : tree.stretches) {
    const int passes = pack.plan.runs[at(stretch.run)].passes;
    texts.stretches.push_back(pack.job.runs[at(stretch.run)].id +
                              (passes > 1 ? fmt::format(" × {}", passes) : ""));
    texts.far.push_back(stretch.children == 0 ? end_text(pack, circuit, stretch)
                                              : node_name(pack.plan, stretch.far_node));
  }
  return texts;
}

// What the run list and the currents below the drawing take where the sheet is one page.
double below_drawing_mm(const Pack& pack, const CableTree& tree) {
  constexpr double row_mm = 2.95, headings_and_notes_mm = 72;
  std::size_t rows = tree.stretches.size() + most_rows;
  std::string level;
  for (const CableTree::Stretch& stretch : tree.stretches)
    if (const std::string& next = pack.job.runs[at(stretch.run)].level; next != level) level = next, ++rows;
  return headings_and_notes_mm + row_mm * static_cast<double>(rows);
}

constexpr double most_drawing_mm = 62, usual_row_mm = 5.2, least_row_mm = 2.8;
constexpr const char* drawing_title = "Cable from the power connection to its ends";

void cable_drawing(Book& book, const Pack& pack, const power::Circuit& circuit, const CableTree& tree,
                   double height_mm) {
  heading(book, drawing_title, height_mm);
  const Frame& frame = book.frame();
  draw_cable_tree(book, {frame.left_mm, book.y_mm() + 1, frame.right_mm, book.y_mm() + 1 + height_mm}, tree,
                  tree_texts(pack, circuit, tree));
  book.skip(height_mm + 1.5);
  paragraph(
      book,
      "Dot: tee. Bar: end seal, with the length of cable from the connection and the volts at maintain. "
      "Lengths to scale.",
      small_style);
}

// Height that the drawing takes above the list of runs; 0 when it would be too small to read there.
double height_above_runs_mm(const Book& book, const Pack& pack, const CableTree& tree) {
  const double free_mm = book.room_mm() - below_drawing_mm(pack, tree);
  const double height_mm = std::min({cable_tree_height_mm(tree, usual_row_mm), most_drawing_mm, free_mm});
  return height_mm < cable_tree_height_mm(tree, least_row_mm) ? 0 : height_mm;
}

// A sheet of its own for what had no room on the first.
void drawing_sheet(Book& book, const Pack& pack, const power::Circuit& circuit, const CableTree& tree) {
  constexpr double below_mm = 24;
  book.new_page();
  const double most_mm = book.room_mm() - below_mm;
  const double height_mm = std::min(cable_tree_height_mm(tree, usual_row_mm), most_mm);
  if (height_mm >= cable_tree_height_mm(tree, least_row_mm))
    cable_drawing(book, pack, circuit, tree, height_mm);
  else
    paragraph(book, "The cable has too many ends to draw here: see the riser drawing.", small_style);
}

std::vector<std::string> run_row(const Pack& pack, const CableTree::Stretch& stretch,
                                 const std::string& space) {
  const job::Run& run = pack.job.runs[at(stretch.run)];
  const plan::RunPlan& planned = pack.plan.runs[at(stretch.run)];
  const double allowance_m = planned.cable_length_m - planned.passes * run.length_m;
  return {run.id,
          unbroken(node_name(pack.plan, stretch.near_node) + " – " + node_name(pack.plan, stretch.far_node)),
          unbroken(space),
          unbroken(pipe_name(run.pipe)),
          pack.show.number(run.length_m, Kind::length),
          fmt::format("{}", planned.passes),
          pack.show.number(allowance_m, Kind::length),
          pack.show.number(planned.cable_length_m, Kind::length),
          fmt::format("{}, {}", run.valves, run.supports),
          unbroken(pack.show.with_unit(planned.insulation.nominal_thickness_m, Kind::size) + ", " +
                   planned.insulation.made_for),
          ""};
}

// From the feed outwards, each run in the direction in which the cable is laid.
Table circuit_runs(Book& book, const Pack& pack, const power::Circuit& circuit, const CableTree& tree) {
  constexpr double space_mm = 21;  // longer names are cut, so that a run is one line
  const std::string length = pack.show.unit(Kind::length);
  Table table;
  table.columns = {{"Run", ""},
                   {"From – to", ""},
                   {"Space", ""},
                   {"Pipe", ""},
                   {"Length", length, Anchor::end},
                   {"Passes", "", Anchor::end},
                   {"Allow", length, Anchor::end},
                   {"Cable", length, Anchor::end},
                   {"Valves, supports", "", Anchor::middle},
                   {"Insulation, sized for", ""},
                   {"Done", "", Anchor::start, 7}};
  table.size_pt = 6.6;
  table.pad_y_mm = 0.3;
  double sum_m = 0;
  std::string level;
  for (const CableTree::Stretch& stretch : tree.stretches) {
    const job::Run& run = pack.job.runs[at(stretch.run)];
    if (run.level != level)
      table.rows.push_back({Row::Kind::group, {level_name(pack.job, level = run.level)}});
    const std::string space =
        fitted(book, space_name(pack.job, run.space), TextStyle{table.size_pt}, space_mm);
    table.rows.push_back({Row::Kind::plain, run_row(pack, stretch, space)});
    sum_m += pack.plan.runs[at(stretch.run)].cable_length_m;
  }
  if (const double kits_m = circuit.cable_length_m - sum_m; kits_m > 0.005)
    table.rows.push_back({Row::Kind::plain,
                          {"kits", "connection, tees, ends", "", "", "", "", "",
                           pack.show.number(kits_m, Kind::length), "", "", ""}});
  table.rows.push_back(
      {Row::Kind::total,
       {"All", "", "", "", "", "", "", pack.show.number(circuit.cable_length_m, Kind::length), "", "", ""}});
  return table;
}

void not_to_build(Book& book, const power::Circuit& circuit) {
  if (circuit.over_length || circuit.over_load || !circuit.ground_fault || !circuit.steady)
    caution(book, "This circuit is not to be built as it stands",
            "See Findings: it passes a limit of its cable, breaker or protection.");
  if (!circuit.wiring.trouble.empty())
    caution(book, "No conductor was found for this circuit", circuit.wiring.trouble + ".");
}

// What every sheet would say alike; the first thing to leave out where a circuit is large.
void laying(Book& book, int first_page) {
  constexpr double height_mm = 46;
  if (book.room_mm() < height_mm || book.page() != first_page) return;
  heading(book, "Laying it", 30);
  steps(
      book,
      {("Pay the reel out straight from the power connection; leave the tails the kits ask for; never kink, "
        "twist or step on the cable."),
       "Flat along the lower side of the pipe, outside of bends, taped as the drawing of the group shows.",
       ("At valves, unions and supports lay the allowance in loops that let the part be removed; keep the "
        "least bend radius of the data sheet."),
       ("Tees and ends by the maker's kit, hands and cable dry; no bus wire may touch the other or the "
        "braid."),
       "Test, insulate, label, test again; write it on the field-test sheet. Only then have it connected."});
}

const CurrentGrid* grid_of(const Pack& pack, const power::Circuit& circuit) {
  const auto found = std::ranges::find(pack.plan.circuits, circuit.id, &power::Circuit::id);
  const auto index = static_cast<std::size_t>(found - pack.plan.circuits.begin());
  return index < pack.currents.size() ? &pack.currents[index] : nullptr;
}

// What the sheet lists; held at its ends elsewhere, which is no expectation.
bool listed(const Pack& pack, const power::Circuit& circuit, const power::ExpectedCurrent& value) {
  const physics::CableSheet* sheet = sheet_of(pack, circuit);
  return value.usable && sheet &&
         !physics::HeatingCable(*sheet).output(value.pipe_c, value.volts).extrapolated;
}

Row current_row(const Pack& pack, const power::Circuit& circuit, const CurrentGrid& grid, std::size_t pipe) {
  Row row{Row::Kind::plain, {pack.show.with_unit(grid.pipes_c[pipe], Kind::temperature)}};
  for (std::size_t volt = 0; volt < grid.volts.size(); ++volt) {
    const power::ExpectedCurrent& value = grid.at(pipe, volt);
    const bool known = listed(pack, circuit, value);
    const int decimals = grid.values.front().current_a < 4 ? 2 : 1;  // small circuits: the band must show
    row.cells.push_back(known ? count(value.current_a, decimals) : dash);
    row.cells.push_back(
        known ? fmt::format("{} to {}", count(value.least_a, decimals), count(value.most_a, decimals))
              : dash);
  }
  return row;
}

// Only the start at nominal voltage is on the data sheet.
Row start_row(const Pack& pack, const CurrentGrid& grid, const std::string& when, double amperes) {
  Row row{Row::Kind::plain,
          {pack.show.with_unit(pack.job.requirements.start_c, Kind::temperature) + ", " + when}};
  const std::size_t middle = grid.volts.size() / 2;
  for (std::size_t volt = 0; volt < grid.volts.size(); ++volt) {
    row.cells.push_back(volt == middle ? count(amperes, 1) : dash);
    row.cells.emplace_back(dash);
  }
  return row;
}

}  // namespace

void circuit_sheet(Book& book, const Pack& pack, const power::Circuit& circuit) {
  sheet(book, "Install: circuit " + circuit.id,
        "Group " + group_name(pack.job, circuit.group) + " · panel " + panel_name(pack.job, circuit.panel));
  const int first_page = book.page();
  circuit_facts(book, pack, circuit);
  not_to_build(book, circuit);
  const CableTree tree = cable_tree(pack.plan, circuit);
  const double above_mm = height_above_runs_mm(book, pack, tree);
  if (above_mm > 0)
    cable_drawing(book, pack, circuit, tree, above_mm);
  else
    paragraph(book, "The cable is drawn on the next page.", small_style);
  flow(book, circuit_runs(book, pack, circuit, tree));
  heading(book, "Current to expect once it has settled", 30);
  flow(book, expected_currents(pack, circuit, false));
  paragraph(book, expected_currents_note(pack, circuit), small_style);
  if (above_mm <= 0) drawing_sheet(book, pack, circuit, tree);
  laying(book, above_mm > 0 ? first_page : book.page());
}

Table expected_currents(const Pack& pack, const power::Circuit& circuit, bool writing) {
  Table table;
  table.size_pt = 7;
  table.pad_y_mm = 0.3;
  table.least_row_mm = writing ? 4.4 : 0;
  table.columns = {{"Pipe", ""}};
  const CurrentGrid* grid = grid_of(pack, circuit);
  if (!grid || grid->values.empty()) return table;
  for (const double volts : grid->volts) {
    table.columns.push_back({fmt::format("{:.0f} V", volts), "A", Anchor::end});
    table.columns.push_back({"all right", "A", Anchor::end});
  }
  if (writing) {
    table.rows.push_back(start_row(pack, *grid, "at once", circuit.peak_a));
    table.rows.push_back(start_row(pack, *grid, "300 s", circuit.settled_a));
  }
  for (std::size_t pipe = 0; pipe < grid->pipes_c.size(); ++pipe)
    table.rows.push_back(current_row(pack, circuit, *grid, pipe));
  if (!writing) return table;
  for (const char* reading : {"V at panel", "V at feed", "Pipe read", "A read", "Pass, fail"})
    table.columns.push_back({reading, "", Anchor::start, 11.5});
  for (Row& row : table.rows) row.cells.insert(row.cells.end(), 5, "");
  return table;
}

std::string expected_currents_note(const Pack& pack, const power::Circuit& circuit) {
  const physics::CableSheet* sheet = sheet_of(pack, circuit);
  std::string text =
      "Settled: on until the current no longer falls. Volts at the power connection, pipe under the "
      "insulation. "
      "“All right” counts ";
  text += sheet && sheet->output_tolerance_frac > 0
              ? fmt::format("the data sheet's ± {}", percent(sheet->output_tolerance_frac))
              : "no tolerance of the cable, its sheet gives none";
  text += fmt::format(", the meter's ± {}, the thermometer's ± {} and warm bus wires.",
                      percent(plan::usual_site_tolerance.voltage_frac),
                      pack.show.with_unit(plan::usual_site_tolerance.pipe_k, Kind::temperature_difference));
  double least_frac = 1;
  for (const int run : circuit.runs) least_frac = std::min(least_frac, pack.plan.runs[at(run)].derating_frac);
  if (least_frac < 1)
    text += fmt::format(" Plastic pipe: there the cable draws down to {} of this.", percent(least_frac));
  return text + " It does not show that the circuit is safe: the tests do.";
}

}  // namespace firstdraw::paper
