// Geometry of the riser drawing, computed once and used by the PDF, the SVG and (as JSON) the page: levels as
// horizontal bands, risers as verticals, runs to a schematic scale. Units: millimetres on an endless sheet, y
// down.
#pragma once

#include <string>
#include <vector>

#include "job/job.hpp"
#include "piping/network.hpp"

namespace firstdraw::paper {

struct Point {
  double x_mm = 0, y_mm = 0;
};
struct DrawnRun {
  int run = -1;
  std::vector<Point> line;  // polyline from upstream to downstream
};
struct DrawnOutlet {
  int outlet = -1;
  Point at;
};
struct DrawnLevel {
  std::string id, name;
  double top_mm = 0, bottom_mm = 0;
};
struct RiserDrawing {
  double width_mm = 0, height_mm = 0;
  std::vector<DrawnLevel> levels;  // top level first
  std::vector<DrawnRun> runs;
  std::vector<DrawnOutlet> outlets;
  std::vector<Point> nodes;  // like network.node_ids
};
/// No two runs lie on each other; deterministic.
RiserDrawing draw_riser(const job::Job& job, const piping::Network& network);

}  // namespace firstdraw::paper
