#include "solvers/cells_ode.hpp"

namespace firstdraw::solvers {

using draw::at;

CellsOde::CellsOde(Grid grid)
    : grid_(std::move(grid)), cells_(at(grid_.cells)), run_share_(grid_.runs.size()) {
  for (const RunConstants& run : grid_.runs)
    for (int i = 0; i < run.cells; ++i) {
      CellRates& cell = cells_[at(run.first + i)];
      cell.upstream = i > 0                        ? run.first + i - 1
                      : run.upstream == draw::none ? -1
                                                   : grid_.outlet_cell(run.upstream);
      cell.wall_inner = run.g0 / run.wall_j_per_m_k, cell.inner_wall = run.g0 / run.inner_j_per_m_k;
      cell.inner_outer = run.g1 / run.inner_j_per_m_k, cell.outer_inner = run.g1 / run.outer_j_per_m_k;
      cell.outer_air = run.g2 / run.outer_j_per_m_k, cell.wall_j_per_m_k = run.wall_j_per_m_k;
    }
}

void CellsOde::set(std::span<const double> flow_m3_per_s, std::span<const double> share) {
  for (std::size_t r = 0; r < grid_.runs.size(); ++r) {
    const RunConstants& run = grid_.runs[r];
    run_share_[r] = run.group == draw::none ? 0 : share[at(run.group)];
    const double film = run.film_w_per_m_k(flow_m3_per_s[r]);
    for (int i = 0; i < run.cells; ++i) {
      CellRates& cell = cells_[at(run.first + i)];
      cell.flow = flow_m3_per_s[r] / (run.area_m2 * run.cell_m);
      cell.water_wall = film / run.water_j_per_m_k, cell.wall_water = film / run.wall_j_per_m_k;
    }
  }
}

void CellsOde::rates(const double* state, double* rate) const {
  for (std::size_t r = 0; r < grid_.runs.size(); ++r) {
    const RunConstants& run = grid_.runs[r];
    for (int i = 0; i < run.cells; ++i) {
      const std::size_t index = at(run.first + i);
      const CellRates& cell = cells_[index];
      const double* y = state + per_cell * index;
      double* dy = rate + per_cell * index;
      const double up_c = cell.upstream < 0 ? grid_.supply_c : state[at(per_cell * cell.upstream)];
      dy[0] = cell.flow * (up_c - y[0]) + cell.water_wall * (y[1] - y[0]);
      dy[1] = cell.wall_water * (y[0] - y[1]) + cell.wall_inner * (y[2] - y[1]) +
              run.source_w_per_m(i, run_share_[r], y[1]) / run.wall_j_per_m_k;
      dy[2] = cell.inner_wall * (y[1] - y[2]) + cell.inner_outer * (y[3] - y[2]);
      dy[3] = cell.outer_inner * (y[2] - y[3]) + cell.outer_air * (run.air_c - y[3]);
    }
  }
}

void CellsOde::source_slopes(const double* state, std::vector<double>& slope_per_s) const {
  slope_per_s.resize(cells_.size());
  for (std::size_t r = 0; r < grid_.runs.size(); ++r) {
    const RunConstants& run = grid_.runs[r];
    for (int i = 0; i < run.cells; ++i) {
      const std::size_t index = at(run.first + i);
      slope_per_s[index] =
          run.source_slope_w_per_m_k(i, run_share_[r], state[per_cell * index + 1]) / run.wall_j_per_m_k;
    }
  }
}

void CellsOde::solve(double gamma_s, std::span<const double> slope_per_s, const double* b, double* x) const {
  for (std::size_t i = 0; i < cells_.size(); ++i) {
    const CellRates& cell = cells_[i];
    const double* rhs = b + per_cell * i;
    double* y = x + per_cell * i;
    // Outer, inner, wall: each as value0 + value1 times the next one inwards.
    const double outer_own = 1 + gamma_s * (cell.outer_inner + cell.outer_air);
    const double outer0 = rhs[3] / outer_own, outer1 = gamma_s * cell.outer_inner / outer_own;
    const double inner_own = 1 + gamma_s * (cell.inner_wall + cell.inner_outer * (1 - outer1));
    const double inner0 = (rhs[2] + gamma_s * cell.inner_outer * outer0) / inner_own;
    const double inner1 = gamma_s * cell.inner_wall / inner_own;
    const double wall_own = 1 + gamma_s * (cell.wall_water + cell.wall_inner * (1 - inner1) - slope_per_s[i]);
    const double wall0 = (rhs[1] + gamma_s * cell.wall_inner * inner0) / wall_own;
    const double wall1 = gamma_s * cell.wall_water / wall_own;
    const double from_up = cell.upstream < 0 ? 0 : gamma_s * cell.flow * x[at(per_cell * cell.upstream)];
    y[0] = (rhs[0] + from_up + gamma_s * cell.water_wall * wall0) /
           (1 + gamma_s * (cell.flow + cell.water_wall * (1 - wall1)));
    y[1] = wall0 + wall1 * y[0];
    y[2] = inner0 + inner1 * y[1];
    y[3] = outer0 + outer1 * y[2];
  }
}

}  // namespace firstdraw::solvers
