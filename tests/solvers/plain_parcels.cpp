#include "solvers/plain_parcels.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::solvers {

using draw::at;

PlainParcels::PlainParcels(const draw::Scene& scene, const PlainOptions& options)
    : grid_(scene, options.cell_m),
      options_(options),
      field_(start(scene, grid_, options.held)),
      out_c_(scene.runs.size()) {
  for (const RunConstants& run : grid_.runs)
    parcels_.emplace_back(at(run.cells), Parcel{run.cell_m, field_.water_c[at(run.first)]});
}

void PlainParcels::set(std::span<const double> flow_m3_per_s, std::span<const double> share) {
  flow_m3_per_s_.assign(flow_m3_per_s.begin(), flow_m3_per_s.end());
  share_.assign(share.begin(), share.end());
}

void PlainParcels::advance(double from_s, double to_s) {
  const double steps = std::ceil((to_s - from_s) / options_.step_s), duration_s = (to_s - from_s) / steps;
  for (double done = 0; done < steps; ++done) {
    flow(duration_s);
    for (std::size_t i = 0; i < grid_.runs.size(); ++i) {
      const RunConstants& run = grid_.runs[i];
      const double share = run.group == draw::none ? 0 : share_[at(run.group)];
      exchange(run, parcels_[i], run.film_w_per_m_k(flow_m3_per_s_[i]), duration_s);
      for (int cell = 0; cell < run.cells; ++cell) {
        const std::size_t place = at(run.first + cell);
        step_solid(run, cell, share, duration_s, field_.wall_c[place], field_.inner_c[place],
                   field_.outer_c[place]);
      }
    }
  }
}

void PlainParcels::flow(double duration_s) {
  for (std::size_t i = 0; i < grid_.runs.size(); ++i) {
    const RunConstants& run = grid_.runs[i];
    if (flow_m3_per_s_[i] == 0) continue;
    const double in_c = run.upstream == draw::none ? grid_.supply_c : out_c_[at(run.upstream)];
    out_c_[i] = push(run, parcels_[i], in_c, flow_m3_per_s_[i] * duration_s / run.area_m2);
  }
}

double PlainParcels::push(const RunConstants& run, std::deque<Parcel>& parcels, double in_c,
                          double length_m) {
  Parcel& first = parcels.front();
  if (first.length_m + length_m <= run.cell_m) {
    first.water_c += (in_c - first.water_c) * length_m / (first.length_m + length_m);
    first.length_m += length_m;
  } else {
    parcels.push_front({length_m, in_c});
  }
  double left_m = length_m, heat = 0;
  while (left_m > 0) {
    Parcel& last = parcels.back();
    const double taken_m = std::min(left_m, last.length_m);
    heat += taken_m * last.water_c;
    left_m -= taken_m;
    if (taken_m < last.length_m || parcels.size() == 1)
      last.length_m -= taken_m;
    else
      parcels.pop_back();
  }
  return heat / length_m;
}

void PlainParcels::exchange(const RunConstants& run, std::deque<Parcel>& parcels, double film_w_per_m_k,
                            double duration_s) {
  const double j_per_m_k =
      even_out_j_per_k(run.water_j_per_m_k, run.wall_j_per_m_k, film_w_per_m_k, duration_s);
  double* wall_c = field_.wall_c.data() + run.first;
  into_wall_j_.assign(at(run.cells), 0);
  double begin_m = 0;
  for (Parcel& parcel : parcels) {
    const double end_m = begin_m + parcel.length_m;
    double out_j = 0;
    for (int cell = std::min(static_cast<int>(begin_m / run.cell_m), run.cells - 1);
         cell < run.cells && cell * run.cell_m < end_m; ++cell) {
      const double shared_m = std::min(end_m, (cell + 1) * run.cell_m) - std::max(begin_m, cell * run.cell_m);
      const double given_j = std::max(shared_m, 0.0) * j_per_m_k * (parcel.water_c - wall_c[cell]);
      into_wall_j_[at(cell)] += given_j;
      out_j += given_j;
    }
    if (parcel.length_m > 0) parcel.water_c -= out_j / (parcel.length_m * run.water_j_per_m_k);
    begin_m = end_m;
  }
  for (int cell = 0; cell < run.cells; ++cell)
    wall_c[cell] += into_wall_j_[at(cell)] / (run.cell_m * run.wall_j_per_m_k);
}

double PlainParcels::wall_c(int run, double at_frac) const {
  return field_.wall_c[at(grid_.cell_at(run, at_frac))];
}
double PlainParcels::outlet_c(int run) const { return parcels_[at(run)].back().water_c; }

}  // namespace firstdraw::solvers
