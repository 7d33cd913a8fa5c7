#include "physics/wall_angle.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "physics/water.hpp"

namespace firstdraw::physics {
namespace {

using std::numbers::pi;
constexpr double gravity_m_per_s2 = 9.80665;

/// cosh(m (pi - angle)) / cosh(m pi) without overflow.
double cosh_share(double m, double angle) {
  return std::exp(-m * angle) * (1 + std::exp(-2 * m * (pi - angle))) / (1 + std::exp(-2 * m * pi));
}

/// Angle from the cable, 0 … pi.
double folded_angle(double theta_rad) { return std::abs(std::remainder(theta_rad, 2 * pi)); }

}  // namespace

double WallProfile::at(double theta_rad) const {
  return mean_c + strip_rise_k * cosh_share(fin_number, folded_angle(theta_rad));
}

double standing_water_film_w_per_m2_k(double inner_diameter_m, double water_c, double wall_c) {
  // Evans and Stefany (Chem. Eng. Progr. Symp. Ser. 62, 1966; memory): Nu = 0.55 Ra^(1/4) inside an enclosed
  // cylinder of water, on the difference between wall and bulk. Still water conducts: the first mode of a
  // cooling cylinder gives Nu = 2.405^2 = 5.78 (Carslaw and Jaeger, ch. 7; memory).
  const Water film = water(0.5 * (water_c + wall_c));
  const double rayleigh = gravity_m_per_s2 * std::abs(film.expansion_per_k * (wall_c - water_c)) *
                          std::pow(inner_diameter_m, 3) /
                          (film.kinematic_viscosity_m2_per_s() * film.diffusivity_m2_per_s());
  const double nusselt = std::max(5.7832, 0.55 * std::pow(rayleigh, 0.25));
  return nusselt * film.conductivity_w_per_m_k / inner_diameter_m;
}

WallProfile wall_profile(const Pipe& pipe, double inner_film_w_per_m2_k, double outer_w_per_m2_k,
                         double water_c, double air_c, double power_w_per_m) {
  const double radius_m = 0.5 * (pipe.outer_diameter_m - pipe.wall_m);
  const double films = inner_film_w_per_m2_k + outer_w_per_m2_k;
  const double along_w_per_k = pipe.conductivity_w_per_m_k * pipe.wall_m;
  WallProfile out;
  out.mean_c = (inner_film_w_per_m2_k * water_c + outer_w_per_m2_k * air_c) / films;
  out.fin_number = radius_m * std::sqrt(films / along_w_per_k);
  const double m = out.fin_number;
  out.strip_rise_k = power_w_per_m * radius_m / (2 * along_w_per_k * m * std::tanh(m * pi));
  return out;
}

double sensor_reading_c(const WallProfile& wall, const SensorMount& mount, double sheath_c) {
  const double opposite = std::exp(-pi / mount.coupling_spread_rad);
  const double beside = std::exp(-folded_angle(mount.angle_rad) / mount.coupling_spread_rad);
  const double share = mount.coupling_frac * (beside - opposite) / (1 - opposite);
  const double wall_c = wall.at(mount.angle_rad);
  return wall_c + share * (sheath_c - wall_c);
}

double water_from_reading_c(double reading_c, double sensor_c_at_model, double water_c_at_model) {
  return reading_c - (sensor_c_at_model - water_c_at_model);
}

double cable_derating_frac(const Pipe& pipe, double inner_film_w_per_m2_k, double outer_w_per_m2_k,
                           double water_c, double air_c, double sheet_power_w_per_m,
                           double sheet_slope_w_per_m_k) {
  const WallProfile unit = wall_profile(pipe, inner_film_w_per_m2_k, outer_w_per_m2_k, water_c, air_c, 1);
  const double under_c =
      unit.mean_c - water_c;  // without the strip the wall is a little cooler than the water
  const double power = (sheet_power_w_per_m + sheet_slope_w_per_m_k * under_c) /
                       (1 - std::min(0.0, sheet_slope_w_per_m_k) * unit.strip_rise_k);
  return std::max(0.0, power / sheet_power_w_per_m);
}

}  // namespace firstdraw::physics
