// Small invented networks on which independent solvers are compared. Control is open loop with a cycle of one
// tick, so that every method sees the same share of output at the same time.
#pragma once

#include "draw/demand.hpp"
#include "draw/scene.hpp"

namespace firstdraw::solvers {

struct Case {
  draw::Scene scene;
  std::vector<draw::Draw> draws;
  double end_s = 0;
  bool held = true;             // see solvers::start
  double shortest_time_s = 10;  // a step of Refined that is surely stable, where that is less than a cell's
};

/// Main, riser, two traced branches and an untraced one, each with an untraced runout: eight runs, three
/// taps.
Case small_tree();
/// Nothing traced and nothing stored: water that loses heat to the air at a constant rate. Massless pipe and
/// insulation are as light as a scene allows.
Case cooling_tree();

}  // namespace firstdraw::solvers
