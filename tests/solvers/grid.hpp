// A scene cut into cells, with the constants of its equations per run.
#pragma once

#include <vector>

#include "draw/scene.hpp"

namespace firstdraw::solvers {

/// Constants of one run. Conductances and capacities per metre.
struct RunConstants {
  int first = 0, cells = 0, upstream = -1;  // first: index of its first cell
  double cell_m = 0, area_m2 = 0;
  double water_j_per_m_k = 0, wall_j_per_m_k = 0, inner_j_per_m_k = 0, outer_j_per_m_k = 0;
  double standing_w_per_m_k = 0, flowing_w_per_m_k = 0;  // film times circumference
  double g0 = 0, g1 = 0, g2 = 0, ladder_w_per_m_k = 0;
  double u0 = 0, u1 = 0, u2 = 0, air_c = 0;
  int group = -1;
  const draw::CableCurve* cable = nullptr;
  std::vector<double> cable_share;  // per cell, live share included

  double film_w_per_m_k(double flow_m3_per_s) const {
    return flow_m3_per_s > 0 ? flowing_w_per_m_k : standing_w_per_m_k;
  }
  /// Cable's output less what the whole conductance passes beyond the ladder's own, W/m.
  double source_w_per_m(int cell, double share, double wall_c) const;
  double source_slope_w_per_m_k(int cell, double share, double wall_c) const;  // its derivative in wall_c
};

/// Each run of the scene cut into cells of `cell_m` at most; 0: as the scene cuts them. Air and supply are
/// taken at time 0: the scenes that solvers are compared on keep them constant.
struct Grid {
  Grid(const draw::Scene& scene, double cell_m);
  std::vector<RunConstants> runs;
  int cells = 0;
  double supply_c = 0;
  int outlet_cell(int run) const { return runs[draw::at(run)].first + runs[draw::at(run)].cells - 1; }
  int cell_at(int run, double at_frac) const;
};

/// Heated runs held at their set-point with the insulation as it would then be, all else at the air's
/// temperature; or everything at the air's.
struct Field {
  std::vector<double> water_c, wall_c, inner_c, outer_c;  // per cell
};
Field start(const draw::Scene& scene, const Grid& grid, bool held);

}  // namespace firstdraw::solvers
