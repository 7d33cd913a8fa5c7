#include "solvers/refined.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::solvers {
namespace {

using Values = std::vector<double>;

/// A run's cells, the first twice: one to a parcel of water of which none has come in yet.
Values parcels(const Values& all, const RunConstants& run) {
  Values result(all.begin() + run.first, all.begin() + run.first + run.cells);
  result.insert(result.begin(), result.front());
  return result;
}

Values cells_to_parcels(const Values& cells, double ahead) {
  Values result(cells.size() + 1);
  result.front() = cells.front(), result.back() = cells.back();
  for (std::size_t i = 1; i < cells.size(); ++i) result[i] = (1 - ahead) * cells[i - 1] + ahead * cells[i];
  return result;
}

Values parcels_to_cells(const Values& parcels, double ahead) {
  Values result(parcels.size() - 1);
  for (std::size_t i = 0; i < result.size(); ++i)
    result[i] = ahead * parcels[i] + (1 - ahead) * parcels[i + 1];
  return result;
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
    column.water_c = parcels(field.water_c, run), column.wall_c = parcels(field.wall_c, run);
    column.inner_c = parcels(field.inner_c, run), column.outer_c = parcels(field.outer_c, run);
    column.source_w_per_m.resize(column.wall_c.size());
    columns_.push_back(std::move(column));
  }
}

void Refined::set(std::span<const double> flow_m3_per_s, std::span<const double> share) {
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    Column& column = columns_[i];
    column.flow_m3_per_s = flow_m3_per_s[i];
    const int group = grid_.runs[i].group;
    column.share = group == draw::none ? 0 : share[draw::at(group)];
    if (column.stands && column.flow_m3_per_s > 0)
      move(column);
    else if (!column.stands && column.flow_m3_per_s == 0)
      stand(column);
  }
}

void Refined::stand(Column& column) {
  for (Values* values : {&column.wall_c, &column.inner_c, &column.outer_c})
    *values = cells_to_parcels(*values, column.ahead);
  column.source_w_per_m.resize(column.wall_c.size());
  column.stands = true;
}

void Refined::move(Column& column) {
  for (Values* values : {&column.wall_c, &column.inner_c, &column.outer_c})
    *values = parcels_to_cells(*values, column.ahead);
  column.source_w_per_m.resize(column.wall_c.size());
  column.stands = false;
}

double Refined::step_s() const {
  double shortest_s = options_.longest_step_s;
  for (std::size_t i = 0; i < columns_.size(); ++i)
    if (columns_[i].flow_m3_per_s > 0)
      shortest_s =
          std::min(shortest_s, grid_.runs[i].area_m2 * grid_.runs[i].cell_m / columns_[i].flow_m3_per_s);
  return shortest_s;
}

/// Nothing passes between runs in which nothing moves, so these go their own way meanwhile.
void Refined::advance(double from_s, double to_s) {
  const auto each = [&](double step_s, auto&& stage) {
    const double steps = std::ceil((to_s - from_s) / step_s), duration_s = (to_s - from_s) / steps;
    for (double done = 0; done < steps; ++done) stage(duration_s);
  };
  const auto exchange_where = [&](bool moving, double duration_s) {
    for (std::size_t i = 0; i < columns_.size(); ++i)
      if (columns_[i].stands != moving) exchange(grid_.runs[i], columns_[i], duration_s);
  };
  each(step_s(), [&](double duration_s) {
    shift(0.5 * duration_s);
    exchange_where(true, duration_s);
    shift(0.5 * duration_s);
  });
  each(options_.longest_step_s, [&](double duration_s) { exchange_where(false, duration_s); });
}

void Refined::shift(double duration_s) {
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    if (columns_[i].stands) continue;
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
  for (std::size_t i = 0; i < column.wall_c.size(); ++i) {
    const int cell = std::min(static_cast<int>(i), run.cells - 1);
    column.source_w_per_m[i] = run.source_w_per_m(cell, column.share, column.wall_c[i]);
  }
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
  const std::size_t pieces = column.wall_c.size();
  out.water.resize(column.water_c.size()), out.wall.resize(pieces), out.inner.resize(pieces),
      out.outer.resize(pieces);
  const double film_w_per_m_k = run.film_w_per_m_k(column.flow_m3_per_s);
  // A standing piece of wall sees the parcel of its own number, a moving cell two of them.
  const std::size_t next = column.stands ? 0 : 1;
  const double ahead = column.ahead;
  const double *water = column.water_c.data(), *wall = column.wall_c.data();
  const double *inner = column.inner_c.data(), *outer = column.outer_c.data();
  const double per_wall = 1 / run.wall_j_per_m_k, per_inner = 1 / run.inner_j_per_m_k;
  const double per_outer = 1 / run.outer_j_per_m_k;
  for (std::size_t i = 0; i < pieces; ++i) {
    const double from_water = film_w_per_m_k * (ahead * water[i] + (1 - ahead) * water[i + next] - wall[i]);
    const double to_inner = run.g0 * (wall[i] - inner[i]), to_outer = run.g1 * (inner[i] - outer[i]);
    out.wall[i] = (from_water + column.source_w_per_m[i] - to_inner) * per_wall;
    out.inner[i] = (to_inner - to_outer) * per_inner;
    out.outer[i] = (to_outer - run.g2 * (outer[i] - run.air_c)) * per_outer;
  }
  if (!column.stands) return moving_water(run, column, film_w_per_m_k, out);
  const double per_s = film_w_per_m_k / run.water_j_per_m_k;
  for (std::size_t i = 0; i < pieces; ++i) out.water[i] = per_s * (wall[i] - water[i]);
}

void Refined::moving_water(const RunConstants& run, const Column& column, double film_w_per_m_k, Rates& out) {
  const double per_s = film_w_per_m_k / run.water_j_per_m_k, ahead = column.ahead;
  const double *water = column.water_c.data(), *wall = column.wall_c.data();
  const std::size_t cells = column.wall_c.size();
  out.water[0] = per_s * (wall[0] - water[0]);
  for (std::size_t i = 1; i < cells; ++i)
    out.water[i] = per_s * ((1 - ahead) * wall[i - 1] + ahead * wall[i] - water[i]);
  out.water[cells] = per_s * (wall[cells - 1] - water[cells]);
}

double Refined::wall_c(int run, double at_frac) const {
  const Column& column = columns_[draw::at(run)];
  const double place = at_frac * grid_.runs[draw::at(run)].cells + (column.stands ? 1 - column.ahead : 0);
  return column.wall_c[std::min(static_cast<std::size_t>(place), column.wall_c.size() - 1)];
}

double Refined::outlet_c(int run) const {
  const Column& column = columns_[draw::at(run)];
  const double last_c = column.water_c.back(), before_c = column.water_c[column.water_c.size() - 2];
  return last_c + (0.5 - column.ahead) * (last_c - before_c);
}

}  // namespace firstdraw::solvers
