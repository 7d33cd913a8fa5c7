// The one-line diagram of a panel: supply, main, bus, and a row for each circuit from its breaker to the ends
// of its cable, circuits of one control group together.
#pragma once

#include <string>
#include <vector>

#include "paper/one_line_symbols.hpp"
#include "paper/sheets.hpp"

namespace firstdraw::paper {

struct OneLineCircuit {
  std::string id, breaker, places;  // "20 A, 2 poles"; "L1-L2, positions 1, 3"
  std::string trip;                 // "30 mA"; empty: no ground-fault protection
  std::string wires, way;           // "2 × 12 AWG, earth 12 AWG"; "EMT 1/2, 60 ft"
  bool wires_fail = false;
  std::string node, cable, length;  // "210 ft, 3 ends, 2 tees"
};

struct OneLineGroup {
  std::string controller, sensor, contactor;  // empty: runs of no group
  bool has_sensor = false;
  std::vector<OneLineCircuit> circuits;
};

struct OneLinePanel {
  std::string id, panel;     // "HP-1"; "HP-1 · Heating panel"
  std::string source, main;  // beside the incoming line and the main breaker
  std::vector<std::string> facts;
  std::vector<OneLineGroup> groups;
  SymbolSet symbols{};
};
OneLinePanel one_line_of(const job::Job& job, const plan::Plan& plan, const power::PanelLoad& load);

/// Rows of a sheet: every circuit, and the controller above the first of its group on the sheet.
struct OneLineRow {
  int group = 0, circuit = -1;  // -1: the controller
};
struct OneLineSheet {
  std::vector<OneLineRow> rows;
  bool first = false, last = false;
};
/// As many sheets of at most `height_mm` as it takes; 0 or less: a single one, however high.
std::vector<OneLineSheet> one_line_sheets(const OneLinePanel& panel, double height_mm);
double one_line_height_mm(const OneLineSheet& sheet);
inline constexpr double least_one_line_mm = 236;  // wide enough for the columns
void draw_one_line(Ink& ink, const OneLinePanel& panel, const OneLineSheet& sheet, double width_mm);

/// The whole panel with its legend as an SVG file.
std::string one_line_svg(const job::Job& job, const plan::Plan& plan, const power::PanelLoad& load,
                         Typesetter& type);
}  // namespace firstdraw::paper
