// What draw::simulate says of each draw, in the form in which the independent solvers say it.
#pragma once

#include "draw/simulate.hpp"
#include "solvers/drive.hpp"

namespace firstdraw::solvers {

/// Without time to run in; `keep_draws` is set here.
std::vector<TapTemps> by_simulate(const draw::Scene& scene, std::span<const draw::Draw> draws,
                                  draw::Options options);

/// The same scene with cells of `cell_m` at most, in the taps' runouts of `runout_cell_m`.
draw::Scene with_cells(draw::Scene scene, double cell_m, double runout_cell_m);
inline draw::Scene with_cells(const draw::Scene& scene, double cell_m) {
  return with_cells(scene, cell_m, cell_m);
}

}  // namespace firstdraw::solvers
