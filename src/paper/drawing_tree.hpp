// The riser drawing before it has coordinates: which level every pipe end is on, and where along the sheet it
// stands.
//
// Vertex 0 is the supply; vertex r + 1 is the far end of run r. A *main* is a chain of runs that share one
// horizontal lane. From a vertex one child goes on along the main; the others hang from it on jogs into lanes
// below, leftmost jog to the deepest lane; runs to other levels go straight up or down. Every vertical has an
// x of its own on each level it passes, and mains of a level that overlap in x get different lanes: so no two
// runs can lie on each other.
#pragma once

#include <set>
#include <vector>

#include "paper/drawing.hpp"

namespace firstdraw::paper {

struct DrawnMain {
  int level = 0;
  int parent = -1;  // the main it hangs from, when on the same level
  double x0_mm = 0, x1_mm = 0;
  int lane = 0;
};

struct DrawnEnd {  // a vertex
  int level = 0;
  int main = -1;  // -1: not placed
  double x_mm = 0;
  double outlets_mm = 0;  // room taken by its outlets
};

struct RunShape {
  enum class Kind { absent, along, branch, riser, far_riser } kind = Kind::absent;
  double jog_mm = 0;    // x of the jog into `lane_main`, for branch and far_riser
  bool fanned = false;  // the jog does not start straight below the vertex
  int lane_main = -1;
};

struct DrawnTree {
  std::vector<std::string> level_ids;      // lowest first
  std::vector<std::vector<int>> children;  // of each vertex, in the job's order
  std::vector<int> parent;                 // vertex
  std::vector<DrawnEnd> ends;
  std::vector<RunShape> shapes;  // like job.runs
  std::vector<DrawnMain> mains;
};

/// Everything but the y coordinates.
DrawnTree grow_tree(const job::Job& job, const piping::Network& network);

/// Gives every main the highest free lane below its parent's; returns the number of lanes of each level.
std::vector<int> assign_lanes(DrawnTree& tree);

inline constexpr double outlet_pitch_mm = 2.8;
inline constexpr double sensor_room_mm = 6;  // at the downstream end of a sensor's run

}  // namespace firstdraw::paper
