#include "solvers/refined.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::solvers {
namespace {

using Values = std::vector<double>;

Values part(const Values& all, int first, int count) {
  return {all.begin() + first, all.begin() + first + count};
}

void step(Values& out, const Values& from, const Values& rate, double duration_s) {
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = from[i] + duration_s * rate[i];
}

/// Heun's second stage: `value` moves by the mean of both rates.
void settle(Values& value, const Values& first, const Values& second, double duration_s) {
  for (std::size_t i = 0; i < value.size(); ++i) value[i] += 0.5 * duration_s * (first[i] + second[i]);
}

}  // namespace

Refined::Refined(const draw::Scene& scene, const RefinedOptions& options)
    : grid_(scene, options.cell_m), options_(options) {
  const Field field = start(scene, grid_, options.held);
  for (const RunConstants& run : grid_.runs) {
    Column column;
    column.water_c = part(field.water_c, run.first, run.cells);
    column.water_c.insert(column.water_c.begin(), column.water_c.front());
    column.wall_c = part(field.wall_c, run.first, run.cells);
    column.inner_c = part(field.inner_c, run.first, run.cells);
    column.outer_c = part(field.outer_c, run.first, run.cells);
    column.source_w_per_m.resize(column.wall_c.size());
    columns_.push_back(std::move(column));
  }
}

void Refined::set(std::span<const double> flow_m3_per_s, std::span<const double> share) {
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    columns_[i].flow_m3_per_s = flow_m3_per_s[i];
    const int group = grid_.runs[i].group;
    columns_[i].share = group == draw::none ? 0 : share[draw::at(group)];
  }
}

double Refined::step_s() const {
  double shortest_s = options_.longest_step_s;
  for (std::size_t i = 0; i < columns_.size(); ++i)
    if (columns_[i].flow_m3_per_s > 0)
      shortest_s =
          std::min(shortest_s, grid_.runs[i].area_m2 * grid_.runs[i].cell_m / columns_[i].flow_m3_per_s);
  return shortest_s;
}

void Refined::advance(double from_s, double to_s) {
  const double steps = std::ceil((to_s - from_s) / step_s());
  const double duration_s = (to_s - from_s) / steps;
  for (double done = 0; done < steps; ++done) {
    shift(0.5 * duration_s);
    for (std::size_t i = 0; i < columns_.size(); ++i) exchange(grid_.runs[i], columns_[i], duration_s);
    shift(0.5 * duration_s);
  }
}

void Refined::shift(double duration_s) {
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    if (columns_[i].flow_m3_per_s == 0) continue;
    const int upstream = grid_.runs[i].upstream;
    const double in_c = upstream == draw::none ? grid_.supply_c : columns_[draw::at(upstream)].out_c;
    push(grid_.runs[i], columns_[i], in_c, duration_s);
  }
}

void Refined::push(const RunConstants& run, Column& column, double in_c, double duration_s) const {
  Values& water_c = column.water_c;
  const double moved = column.flow_m3_per_s * duration_s / (run.area_m2 * run.cell_m);
  const double from_last = std::min(moved, 1 - column.ahead);
  const double last_c = water_c.back(), before_c = water_c[water_c.size() - 2];
  column.out_c = (from_last * last_c + (moved - from_last) * before_c) / moved;
  const double filled = std::min(moved, 1 - column.ahead);
  water_c[0] = (column.ahead * water_c[0] + filled * in_c) / (column.ahead + filled);
  column.ahead += moved;
  if (column.ahead < 1) return;
  std::copy_backward(water_c.begin(), water_c.end() - 1, water_c.end());
  water_c[0] = in_c;
  column.ahead -= 1;
}

void Refined::exchange(const RunConstants& run, Column& column, double duration_s) {
  for (int i = 0; i < run.cells; ++i)
    column.source_w_per_m[draw::at(i)] = run.source_w_per_m(i, column.share, column.wall_c[draw::at(i)]);
  rates(run, column, first_);
  tried_ = column;
  step(tried_.water_c, column.water_c, first_.water, duration_s);
  step(tried_.wall_c, column.wall_c, first_.wall, duration_s);
  step(tried_.inner_c, column.inner_c, first_.inner, duration_s);
  step(tried_.outer_c, column.outer_c, first_.outer, duration_s);
  rates(run, tried_, second_);
  settle(column.water_c, first_.water, second_.water, duration_s);
  settle(column.wall_c, first_.wall, second_.wall, duration_s);
  settle(column.inner_c, first_.inner, second_.inner, duration_s);
  settle(column.outer_c, first_.outer, second_.outer, duration_s);
}

void Refined::rates(const RunConstants& run, const Column& column, Rates& out) {
  const std::size_t cells = column.wall_c.size();
  out.water.resize(cells + 1), out.wall.resize(cells), out.inner.resize(cells), out.outer.resize(cells);
  const double ahead = column.ahead, film = run.film_w_per_m_k(column.flow_m3_per_s);
  const double *water = column.water_c.data(), *wall = column.wall_c.data();
  const double *inner = column.inner_c.data(), *outer = column.outer_c.data();
  const double per_wall = 1 / run.wall_j_per_m_k, per_inner = 1 / run.inner_j_per_m_k;
  const double per_outer = 1 / run.outer_j_per_m_k;
  for (std::size_t i = 0; i < cells; ++i) {
    const double from_water = film * (ahead * water[i] + (1 - ahead) * water[i + 1] - wall[i]);
    const double to_inner = run.g0 * (wall[i] - inner[i]), to_outer = run.g1 * (inner[i] - outer[i]);
    out.wall[i] = (from_water + column.source_w_per_m[i] - to_inner) * per_wall;
    out.inner[i] = (to_inner - to_outer) * per_inner;
    out.outer[i] = (to_outer - run.g2 * (outer[i] - run.air_c)) * per_outer;
  }
  const double per_s = film / run.water_j_per_m_k;
  out.water[0] = per_s * (wall[0] - water[0]);
  for (std::size_t i = 1; i < cells; ++i)
    out.water[i] = per_s * ((1 - ahead) * wall[i - 1] + ahead * wall[i] - water[i]);
  out.water[cells] = per_s * (wall[cells - 1] - water[cells]);
}

double Refined::wall_c(int run, double at_frac) const {
  return columns_[draw::at(run)]
      .wall_c[draw::at(grid_.cell_at(run, at_frac) - grid_.runs[draw::at(run)].first)];
}

double Refined::outlet_c(int run) const {
  const Column& column = columns_[draw::at(run)];
  const double last_c = column.water_c.back(), before_c = column.water_c[column.water_c.size() - 2];
  return last_c + (0.5 - column.ahead) * (last_c - before_c);
}

}  // namespace firstdraw::solvers
