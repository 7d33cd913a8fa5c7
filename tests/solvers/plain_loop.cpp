#include "solvers/plain_loop.hpp"

#include <cmath>

namespace firstdraw::solvers {

using draw::at;

double even_out_j_per_k(double one_j_per_k, double other_j_per_k, double conductance_w_per_k,
                        double duration_s) {
  const double both_j_per_k = one_j_per_k * other_j_per_k / (one_j_per_k + other_j_per_k);
  return both_j_per_k * -std::expm1(-conductance_w_per_k * duration_s / both_j_per_k);
}

void step_solid(const RunConstants& run, int cell, double share, double duration_s, double& wall_c,
                double& inner_c, double& outer_c) {
  const double to_inner = run.g0 * (wall_c - inner_c), to_outer = run.g1 * (inner_c - outer_c);
  const double to_air = run.g2 * (outer_c - run.air_c);
  wall_c += duration_s * (run.source_w_per_m(cell, share, wall_c) - to_inner) / run.wall_j_per_m_k;
  inner_c += duration_s * (to_inner - to_outer) / run.inner_j_per_m_k;
  outer_c += duration_s * (to_outer - to_air) / run.outer_j_per_m_k;
}

PlainLoop::PlainLoop(const draw::Scene& scene, const PlainOptions& options)
    : grid_(scene, options.cell_m),
      options_(options),
      field_(start(scene, grid_, options.held)),
      out_c_(scene.runs.size()) {}

void PlainLoop::set(std::span<const double> flow_m3_per_s, std::span<const double> share) {
  flow_m3_per_s_.assign(flow_m3_per_s.begin(), flow_m3_per_s.end());
  share_.assign(share.begin(), share.end());
}

void PlainLoop::advance(double from_s, double to_s) {
  const double steps = std::ceil((to_s - from_s) / options_.step_s), duration_s = (to_s - from_s) / steps;
  for (double done = 0; done < steps; ++done) {
    flow(duration_s);
    for (std::size_t i = 0; i < grid_.runs.size(); ++i) {
      const RunConstants& run = grid_.runs[i];
      const double share = run.group == draw::none ? 0 : share_[at(run.group)];
      exchange(run, run.film_w_per_m_k(flow_m3_per_s_[i]), share, duration_s);
    }
  }
}

void PlainLoop::flow(double duration_s) {
  for (std::size_t i = 0; i < grid_.runs.size(); ++i) {
    const RunConstants& run = grid_.runs[i];
    if (flow_m3_per_s_[i] == 0) continue;
    const double in_c = run.upstream == draw::none ? grid_.supply_c : out_c_[at(run.upstream)];
    out_c_[i] = flow_through(run, in_c, flow_m3_per_s_[i] * duration_s / (run.area_m2 * run.cell_m));
  }
}

double PlainLoop::flow_through(const RunConstants& run, double in_c, double courant) {
  const double parts = std::ceil(courant), moved = courant / parts;
  double* water_c = field_.water_c.data() + run.first;
  double out_sum_c = 0;
  for (double part = 0; part < parts; ++part) {
    out_sum_c += water_c[run.cells - 1];
    for (int i = run.cells - 1; i > 0; --i) water_c[i] += moved * (water_c[i - 1] - water_c[i]);
    water_c[0] += moved * (in_c - water_c[0]);
  }
  return out_sum_c / parts;
}

void PlainLoop::exchange(const RunConstants& run, double film_w_per_m_k, double share, double duration_s) {
  const double j_per_k =
      even_out_j_per_k(run.water_j_per_m_k, run.wall_j_per_m_k, film_w_per_m_k, duration_s);
  for (int i = 0; i < run.cells; ++i) {
    const std::size_t cell = at(run.first + i);
    double &water_c = field_.water_c[cell], &wall_c = field_.wall_c[cell];
    const double to_wall_j = j_per_k * (water_c - wall_c);
    water_c -= to_wall_j / run.water_j_per_m_k;
    wall_c += to_wall_j / run.wall_j_per_m_k;
    step_solid(run, i, share, duration_s, wall_c, field_.inner_c[cell], field_.outer_c[cell]);
  }
}

double PlainLoop::wall_c(int run, double at_frac) const {
  return field_.wall_c[at(grid_.cell_at(run, at_frac))];
}
double PlainLoop::outlet_c(int run) const { return field_.water_c[at(grid_.outlet_cell(run))]; }

}  // namespace firstdraw::solvers
