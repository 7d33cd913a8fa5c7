// Every method of solving the bench's building, under one name each, and what came of it.
#pragma once

#include <string>
#include <vector>

#include "draw/demand.hpp"
#include "draw/scene.hpp"
#include "solvers/drive.hpp"

namespace firstdraw::bench {

enum class Kind { simulate, refined, cvode_klu, cvode_tree, plain_loop, plain_parcels };
const char* name(Kind kind);

struct Setting {
  Kind kind = Kind::simulate;
  double cell_m = 1, runout_cell_m = 1;
  double step_s = 1;  // of the plain methods
  double tick_s = 20;
};

/// Processor time of the calling thread so far.
double thread_s();

struct Outcome {
  std::vector<solvers::TapTemps> taps;
  double seconds = 0;
};
/// From held pipes over [0, end_s], seconds of processor time.
Outcome solve(const draw::Scene& scene, const std::vector<draw::Draw>& draws, double end_s,
              const Setting& setting);

}  // namespace firstdraw::bench
