#include "physics/inside_film.hpp"

#include <algorithm>
#include <cmath>

#include "physics/water.hpp"

namespace firstdraw::physics {
namespace {

constexpr double laminar_up_to = 2300, turbulent_from = 4000;  // Reynolds; Gnielinski 2013

double reynolds_of(double inner_diameter_m, double speed_m_per_s, const Water& at) {
  return inner_diameter_m * std::abs(speed_m_per_s) / at.kinematic_viscosity_m2_per_s();
}

/// 0 in laminar flow, 1 in turbulent flow, straight between.
double turbulent_share(double reynolds) {
  return std::clamp((reynolds - laminar_up_to) / (turbulent_from - laminar_up_to), 0.0, 1.0);
}

/// Mean over a length from where the wall begins to differ, wall at one temperature, profile developed:
/// VDI Heat Atlas G1 (memory). `graetz` = Re Pr D/L; exactly 3.66 at 0.
double nusselt_laminar(double graetz) {
  const double entry = 1.615 * std::cbrt(graetz) - 0.7;
  return std::cbrt(3.66 * 3.66 * 3.66 + 0.7 * 0.7 * 0.7 + entry * entry * entry);
}

/// Mean over a length; the factor is Hausen's for the entry, as in Gnielinski (memory).
double nusselt_turbulent(double reynolds, double prandtl, double diameter_over_length) {
  const double entry = 1 + std::cbrt(diameter_over_length * diameter_over_length);
  return entry * nusselt_gnielinski(reynolds, prandtl, friction_factor_smooth(reynolds));
}

double nusselt_flowing(double reynolds, double prandtl, double diameter_over_length) {
  const double turbulent = turbulent_share(reynolds);
  const auto laminar = [&](double at) { return nusselt_laminar(at * prandtl * diameter_over_length); };
  if (turbulent == 0) return laminar(reynolds);
  const double from = nusselt_turbulent(std::max(reynolds, turbulent_from), prandtl, diameter_over_length);
  return turbulent == 1 ? from : (1 - turbulent) * laminar(laminar_up_to) + turbulent * from;
}

/// Taylor 1954: K = 10.1 a u*, with the friction velocity u* = u sqrt(f/8).
double taylor_m2_per_s(double radius_m, double speed_m_per_s, double reynolds) {
  return 10.1 * radius_m * speed_m_per_s * std::sqrt(friction_factor_smooth(reynolds) / 8);
}

/// How much of the final spread has come about: 1 - (1 - exp(-x))/x. At first x/2.
double developed_frac(double x) { return x < 1e-5 ? 0.5 * x : 1 + std::expm1(-x) / x; }

/// Taylor 1953, Aris 1956: D + a^2 u^2/(48 D) in the end. At first the parabolic profile draws the front out
/// to a variance of (u t)^2/3, which is u^2 t/6 as a diffusivity. A rate of 16 D/a^2 joins the two.
double taylor_aris_m2_per_s(double radius_m, double speed_m_per_s, double diffusivity, double travelled_s) {
  const double reach_m = radius_m * speed_m_per_s;
  const double mixed_times_16 = 16 * diffusivity * travelled_s / (radius_m * radius_m);
  return diffusivity + reach_m * reach_m / (48 * diffusivity) * developed_frac(mixed_times_16);
}

}  // namespace

double reynolds(double inner_diameter_m, double speed_m_per_s, double water_c) {
  return reynolds_of(inner_diameter_m, speed_m_per_s, water(water_c));
}

double friction_factor_smooth(double reynolds) {
  const double root = 1.8 * std::log10(reynolds) - 1.5;
  return 1 / (root * root);
}

double nusselt_gnielinski(double reynolds, double prandtl, double friction_factor) {
  const double eighth = friction_factor / 8;
  return eighth * (reynolds - 1000) * prandtl /
         (1 + 12.7 * std::sqrt(eighth) * (std::cbrt(prandtl * prandtl) - 1));
}

double flowing_film_w_per_m2_k(double inner_diameter_m, double length_m, double speed_m_per_s,
                               double water_c) {
  return flowing_film_w_per_m2_k(inner_diameter_m, length_m, speed_m_per_s, water(water_c));
}

double flowing_film_w_per_m2_k(double inner_diameter_m, double length_m, double speed_m_per_s,
                               const Water& at) {
  const double number = reynolds_of(inner_diameter_m, speed_m_per_s, at);
  const double nusselt = nusselt_flowing(number, at.prandtl(), inner_diameter_m / length_m);
  return nusselt * at.conductivity_w_per_m_k / inner_diameter_m;
}

double axial_mixing_m2_per_s(double inner_diameter_m, double speed_m_per_s, double water_c,
                             double travelled_s) {
  const Water at = water(water_c);
  const double radius_m = 0.5 * inner_diameter_m, speed = std::abs(speed_m_per_s);
  const double number = reynolds_of(inner_diameter_m, speed, at);
  const double turbulent = turbulent_share(number);
  double mixing = 0;
  if (turbulent < 1) {
    mixing += (1 - turbulent) * taylor_aris_m2_per_s(radius_m, speed, at.diffusivity_m2_per_s(), travelled_s);
  }
  if (turbulent > 0) mixing += turbulent * taylor_m2_per_s(radius_m, speed, number);
  return mixing;
}

}  // namespace firstdraw::physics
