#include "solvers/grid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace firstdraw::solvers {
namespace {

double slope_at(const draw::CableCurve& curve, double wall_c) {
  constexpr double half_k = 0.5 * draw::CableCurve::step_k;
  return (curve.at(wall_c + half_k) - curve.at(wall_c - half_k)) / (2 * half_k);
}

void set_cable(RunConstants& constants, const draw::Scene& scene, const draw::SceneRun& run) {
  constants.group = run.group;
  if (run.group == draw::none) return;
  constants.cable = &scene.cables[draw::at(run.cable)];
  for (int i = 0; i < constants.cells; ++i) {
    const auto live = draw::at(static_cast<int>((i + 0.5) / constants.cells * run.cells));
    constants.cable_share.push_back(run.cable_share * (run.live_frac.empty() ? 1 : run.live_frac[live]));
  }
}

RunConstants constants_of(const draw::Scene& scene, const draw::SceneRun& run, double cell_m) {
  RunConstants result;
  const auto& ladder = run.insulation;
  const double bore_m = std::numbers::pi * run.inner_diameter_m;
  if (std::isnan(run.flowing_film_w_per_m2_k)) throw std::logic_error("solvers compare at fixed films");
  result.upstream = run.upstream;
  result.cells = cell_m > 0 ? static_cast<int>(std::ceil(run.length_m / cell_m - 1e-9)) : run.cells;
  result.cell_m = run.length_m / result.cells;
  result.area_m2 = 0.25 * bore_m * run.inner_diameter_m;
  result.water_j_per_m_k = scene.water_j_per_m3_k * result.area_m2;
  result.wall_j_per_m_k = run.wall_j_per_m_k;
  result.inner_j_per_m_k = ladder.inner_j_per_m_k, result.outer_j_per_m_k = ladder.outer_j_per_m_k;
  result.standing_w_per_m_k = run.standing_film_w_per_m2_k * bore_m;
  result.flowing_w_per_m_k = run.flowing_film_w_per_m2_k * bore_m;
  result.g0 = ladder.wall_to_inner_w_per_m_k, result.g1 = ladder.inner_to_outer_w_per_m_k;
  result.g2 = ladder.outer_to_air_w_per_m_k;
  result.ladder_w_per_m_k = 1 / (1 / result.g0 + 1 / result.g1 + 1 / result.g2);
  result.u0 = run.loss_u0, result.u1 = run.loss_u1, result.u2 = run.loss_u2;
  result.air_c = run.air_c.at(0);
  set_cable(result, scene, run);
  return result;
}

}  // namespace

double RunConstants::source_w_per_m(int cell, double share, double wall_c) const {
  const double above_k = wall_c - air_c;
  const double loss_w_per_m = (u0 + above_k * (u1 + above_k * u2) - ladder_w_per_m_k) * above_k;
  return (cable && share > 0 ? share * cable_share[draw::at(cell)] * cable->at(wall_c) : 0) - loss_w_per_m;
}

double RunConstants::source_slope_w_per_m_k(int cell, double share, double wall_c) const {
  const double above_k = wall_c - air_c;
  const double loss_slope = u0 + above_k * (2 * u1 + above_k * 3 * u2) - ladder_w_per_m_k;
  return (cable && share > 0 ? share * cable_share[draw::at(cell)] * slope_at(*cable, wall_c) : 0) -
         loss_slope;
}

Grid::Grid(const draw::Scene& scene, double cell_m) : supply_c(scene.supply.stored_c.at(0)) {
  for (const draw::SceneRun& run : scene.runs) {
    runs.push_back(constants_of(scene, run, cell_m));
    runs.back().first = cells;
    cells += runs.back().cells;
  }
}

int Grid::cell_at(int run, double at_frac) const {
  const RunConstants& constants = runs[draw::at(run)];
  return constants.first + std::min(static_cast<int>(at_frac * constants.cells), constants.cells - 1);
}

Field start(const draw::Scene& scene, const Grid& grid, bool held) {
  Field field;
  for (const RunConstants& run : grid.runs) {
    const bool warm = held && run.group != draw::none;
    const double at_c = warm ? scene.groups[draw::at(run.group)].control.hold_c : run.air_c;
    const double through_w_per_m = run.ladder_w_per_m_k * (at_c - run.air_c);
    field.water_c.insert(field.water_c.end(), draw::at(run.cells), at_c);
    field.wall_c.insert(field.wall_c.end(), draw::at(run.cells), at_c);
    field.inner_c.insert(field.inner_c.end(), draw::at(run.cells), at_c - through_w_per_m / run.g0);
    field.outer_c.insert(field.outer_c.end(), draw::at(run.cells), run.air_c + through_w_per_m / run.g2);
  }
  return field;
}

}  // namespace firstdraw::solvers
