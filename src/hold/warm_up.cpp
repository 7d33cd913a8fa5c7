#include <cmath>
#include <limits>
#include <numbers>

#include "hold/balance.hpp"
#include "physics/water.hpp"

namespace firstdraw::hold {
namespace {

/// Adaptive Simpson quadrature of f from a to b; `whole` is Simpson's rule over the interval.
template <class Function>
double refine(const Function& f, double a, double b, double fa, double fm, double fb, double whole,
              double tolerance, int depth) {
  const double m = 0.5 * (a + b), h = b - a;
  const double fl = f(0.5 * (a + m)), fr = f(0.5 * (m + b));
  const double left = h / 12 * (fa + 4 * fl + fm), right = h / 12 * (fm + 4 * fr + fb);
  const double change = left + right - whole;
  if (depth <= 0 || std::abs(change) <= 15 * tolerance) return left + right + change / 15;
  return refine(f, a, m, fa, fl, fm, left, tolerance / 2, depth - 1) +
         refine(f, m, b, fm, fr, fb, right, tolerance / 2, depth - 1);
}

template <class Function>
double integral(const Function& f, double a, double b) {
  constexpr double relative_tolerance = 1e-6;  // of a time that is read in minutes
  constexpr int deepest = 24;
  const double fa = f(a), fm = f(0.5 * (a + b)), fb = f(b);
  const double whole = (b - a) / 6 * (fa + 4 * fm + fb);
  return refine(f, a, b, fa, fm, fb, whole, relative_tolerance * std::abs(whole), deepest);
}

}  // namespace

WarmUp warm_up(const HeldRun& run, const physics::HeatingCable& cable, double heat_capacity_j_per_m_k,
               double start_c, double target_c, double air_c, double voltage_v) {
  if (target_c <= start_c) return {0};
  const auto net_w_per_m = [&](double water_c) {
    const double given = run.passes * run.derating_frac * cable.power_w_per_m(water_c, voltage_v);
    return given - run.loss.loss_w_per_m(water_c, air_c) * loss_ratio(run);
  };
  // Output falls and loss rises with temperature: what is reached at the target is reached all the way.
  if (!(net_w_per_m(target_c) > 0)) return {std::numeric_limits<double>::infinity()};
  const auto seconds_per_k = [&](double water_c) { return heat_capacity_j_per_m_k / net_w_per_m(water_c); };
  return {integral(seconds_per_k, start_c, target_c)};
}

double heat_capacity_j_per_m_k(const physics::Pipe& pipe, const physics::InsulationSize& size,
                               const physics::Insulation* insulation, double water_c) {
  const physics::Water water = physics::water(water_c);
  double capacity = pipe.bore_area_m2() * water.density_kg_per_m3 * water.heat_capacity_j_per_kg_k +
                    pipe.wall_area_m2() * pipe.density_kg_per_m3 * pipe.heat_capacity_j_per_kg_k;
  if (insulation == nullptr || !(size.outer_diameter_m > size.bore_m)) return capacity;
  const double ratio = size.outer_diameter_m / size.bore_m;
  const double turn = 1 / std::log(ratio);
  const double share = turn * turn / 2 - (1 + turn) / (ratio * ratio - 1);
  const double area_m2 =
      std::numbers::pi / 4 * (size.outer_diameter_m * size.outer_diameter_m - size.bore_m * size.bore_m);
  return capacity + share * area_m2 * insulation->density_kg_per_m3 * insulation->heat_capacity_j_per_kg_k;
}

}  // namespace firstdraw::hold
