#include "physics/surface.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "physics/interpolate.hpp"
#include "tables/table.hpp"

namespace firstdraw::physics {
namespace {

constexpr double stefan_boltzmann = 5.67e-8;  // W/(m2 K4), the rounded value of ISO 12241
constexpr double zero_c_in_k = 273.15;
constexpr double gravity_m_per_s2 = 9.80665;

/// ISO 12241, still air; the switch is at L^3 dT = 10 m3 K. The printed constants leave a step there.
double iso_still(double length_m, double rise_k, double laminar, double turbulent) {
  if (length_m * length_m * length_m * rise_k <= 10) return laminar * std::pow(rise_k / length_m, 0.25);
  return turbulent * std::cbrt(rise_k);
}

/// ISO 12241, air moving across a pipe: a laminar and a turbulent branch (memory). The switch as recalled, v
/// D = 0.00855 m2/s, would let the coefficient fall to 0.4 of itself there; the branches meet near 0.07, so
/// the larger is taken.
double iso_wind(double diameter_m, double speed_m_per_s) {
  const double laminar = 0.0081 / diameter_m + 3.14 * std::sqrt(speed_m_per_s / diameter_m);
  const double turbulent = 8.9 * std::pow(speed_m_per_s, 0.9) / std::pow(diameter_m, 0.1);
  return std::max(laminar, turbulent);
}

double iso_convection(double diameter_m, double rise_k, const Surroundings& around) {
  const bool upright = around.orientation == Orientation::vertical;
  const double still =
      upright ? iso_still(around.height_m, rise_k, 1.32, 1.74) : iso_still(diameter_m, rise_k, 1.25, 1.21);
  if (around.air_speed_m_per_s <= 0) return still;
  return std::max(still, iso_wind(diameter_m, around.air_speed_m_per_s));
}

/// ASTM C680-1989 and the handbooks of its time: an equation in US units.
double c680_1989_convection(double diameter_m, double rise_k, double mean_c, const Surroundings& around) {
  const double shape = around.orientation == Orientation::vertical ? 1.235 : 1.016;
  const double diameter_in = diameter_m / 0.0254, mean_r = (mean_c + zero_c_in_k) * 1.8;
  const double speed_mph = std::max(0.0, around.air_speed_m_per_s) / 0.44704;
  const double btu = shape * std::pow(1 / diameter_in, 0.2) * std::pow(1 / mean_r, 0.181) *
                     std::pow(1.8 * rise_k, 0.266) * std::sqrt(1 + 1.277 * speed_mph);
  return btu * 5.678263;
}

struct Air {
  double viscosity_m2_per_s, diffusivity_m2_per_s, conductivity_w_per_m_k;
};

struct AirTable {
  std::vector<double> temp_c, viscosity, diffusivity, conductivity;
};

const AirTable& air_table() {
  static const AirTable built = [] {
    AirTable air;
    for (const auto& row : tables::table("air_properties").rows()) {
      air.temp_c.push_back(row.number("temp_c"));
      air.viscosity.push_back(1e-6 * row.number("kinematic_viscosity_mm2_per_s"));
      air.diffusivity.push_back(1e-6 * row.number("diffusivity_mm2_per_s"));
      air.conductivity.push_back(row.number("conductivity_w_per_m_k"));
    }
    return air;
  }();
  return built;
}

Air air_at(double temp_c) {
  const AirTable& air = air_table();
  return {linear_held(air.temp_c, air.viscosity, temp_c), linear_held(air.temp_c, air.diffusivity, temp_c),
          linear_held(air.temp_c, air.conductivity, temp_c)};
}

/// Forced flow across a cylinder, Churchill and Bernstein 1977 (memory).
double nusselt_across(double reynolds, double prandtl) {
  const double shape = std::pow(1 + std::pow(0.4 / prandtl, 2.0 / 3), 0.25);
  return 0.3 + 0.62 * std::sqrt(reynolds) * std::cbrt(prandtl) / shape *
                   std::pow(1 + std::pow(reynolds / 282000, 0.625), 0.8);
}

double churchill_chu_convection(double diameter_m, double rise_k, double mean_c, const Surroundings& around) {
  const Air air = air_at(mean_c);
  const double prandtl = air.viscosity_m2_per_s / air.diffusivity_m2_per_s;
  const bool upright = around.orientation == Orientation::vertical;
  const double length_m = upright ? around.height_m : diameter_m;
  const double grashof = gravity_m_per_s2 * rise_k * length_m * length_m * length_m /
                         ((mean_c + zero_c_in_k) * air.viscosity_m2_per_s * air.viscosity_m2_per_s);
  const double nusselt = upright ? nusselt_popiel_vertical_cylinder(grashof, prandtl, length_m, diameter_m)
                                 : nusselt_churchill_chu_cylinder(grashof, prandtl);
  const double still = nusselt * air.conductivity_w_per_m_k / length_m;
  if (around.air_speed_m_per_s <= 0) return still;
  const double reynolds = around.air_speed_m_per_s * diameter_m / air.viscosity_m2_per_s;
  return std::max(still, nusselt_across(reynolds, prandtl) * air.conductivity_w_per_m_k / diameter_m);
}

/// [1 + (shape/Pr)^(9/16)]^(8/27)
double prandtl_term(double shape, double prandtl) {
  return std::pow(1 + std::pow(shape / prandtl, 9.0 / 16), 8.0 / 27);
}

}  // namespace

double convection_w_per_m2_k(double diameter_m, double surface_c, const Surroundings& around) {
  const double rise_k = std::abs(surface_c - around.air_c), mean_c = 0.5 * (surface_c + around.air_c);
  switch (around.law) {
    case FilmLaw::churchill_chu:
      return churchill_chu_convection(diameter_m, rise_k, mean_c, around);
    case FilmLaw::astm_c680_1989:
      return c680_1989_convection(diameter_m, rise_k, mean_c, around);
    case FilmLaw::iso_12241:
      break;
  }
  return iso_convection(diameter_m, rise_k, around);
}

double radiation_w_per_m2_k(double surface_c, const Surroundings& around) {
  const double surface_k = surface_c + zero_c_in_k, room_k = around.air_c + zero_c_in_k;
  return around.emissivity * stefan_boltzmann * (surface_k * surface_k + room_k * room_k) *
         (surface_k + room_k);
}

double nusselt_churchill_chu_cylinder(double grashof, double prandtl) {
  const double root = 0.60 + 0.387 * std::pow(grashof * prandtl, 1.0 / 6) / prandtl_term(0.559, prandtl);
  return root * root;
}

double nusselt_churchill_chu_plate(double grashof, double prandtl) {
  const double root = 0.825 + 0.387 * std::pow(grashof * prandtl, 1.0 / 6) / prandtl_term(0.492, prandtl);
  return root * root;
}

double nusselt_popiel_vertical_cylinder(double grashof_length, double prandtl, double length_m,
                                        double diameter_m) {
  const double plate = nusselt_churchill_chu_plate(grashof_length, prandtl);
  if (grashof_length <= 0) return plate;
  const double b = 0.0571322 + 0.20305 * std::pow(prandtl, -0.43);
  const double c = 0.9165 - 0.0043 * std::sqrt(prandtl) + 0.01333 * std::log(prandtl) + 0.0004809 / prandtl;
  const double slenderness = std::sqrt(32.0) * std::pow(grashof_length, -0.25) * length_m / diameter_m;
  return plate * (1 + b * std::pow(slenderness, c));
}

}  // namespace firstdraw::physics
