// The panel as it stands before the electrician: two columns of pole positions, odd on the left, even on the
// right (common practice, no source), with the phase letters between them.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "paper/ink.hpp"
#include "plan/plan.hpp"

namespace firstdraw::paper {

struct PanelEntry {
  std::string id, serves;
  std::string rating, trip;  // "20 A, 2 poles"; "30 mA" to earth
  std::vector<int> places;
  double pole_va = 0;  // what it adds to the line of each of its poles
};

struct PanelFace {
  std::string panel;
  int positions = 0;         // even
  int free_positions = 0;    // 0: not known
  std::vector<int> line_of;  // like the positions: 0 is L1
  std::vector<PanelEntry> entries;
  std::vector<std::string> unplaced;  // circuits without a place
  std::array<double, 3> line_va{};    // sums of the entries
  int lines = 0;
};
PanelFace panel_face(const job::Job& job, const plan::Plan& plan, const power::PanelLoad& load);

inline constexpr double panel_row_mm = 5.8;
/// Rows of two positions.
int panel_rows(const PanelFace& face);
double panel_face_height_mm(int rows);
struct PanelRows {
  int first = 0, count = 0;
};
/// A breaker that the sheet cuts stands on both sheets.
void draw_panel_face(Ink& ink, const PanelFace& face, PanelRows rows, double width_mm);

}  // namespace firstdraw::paper
