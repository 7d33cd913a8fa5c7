#include "physics/wall_angle.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "physics/water.hpp"

namespace firstdraw::physics {
namespace {

using std::numbers::pi;
constexpr double gravity_m_per_s2 = 9.80665;

constexpr int most_harmonics = 512;  // what is left is below 1e-4 of the rise under the narrowest cable

/// Angle from the cable, 0 … pi.
double folded_angle(double theta_rad) { return std::abs(std::remainder(theta_rad, 2 * pi)); }

/// Temperature of the outer face per heat flux in cos(n theta) there: G_n of the header, n >= 1.
class RingResponse {
 public:
  RingResponse(const Pipe& pipe, double inner_film_w_per_m2_k, double outer_w_per_m2_k)
      : inner_m_(0.5 * pipe.inner_diameter_m()),
        outer_m_(0.5 * pipe.outer_diameter_m),
        conductivity_(pipe.conductivity_w_per_m_k),
        inner_film_(inner_film_w_per_m2_k),
        outer_film_(outer_w_per_m2_k) {}

  /// The next harmonic, n = 1 on the first call.
  double next_k_per_w_per_m2() {
    ++n_;
    shrink_ *= shrink_per_harmonic_;
    const double along = conductivity_ * n_ / inner_m_;
    const double w = shrink_ * (along - inner_film_) / (along + inner_film_);
    return 1 / (conductivity_ * n_ / outer_m_ * (1 - w) / (1 + w) + outer_film_);
  }
  double inward_w_per_k() const {
    const double wall = std::log(outer_m_ / inner_m_) / (2 * pi * conductivity_);
    return inner_film_ <= 0 ? 0 : 1 / (1 / (2 * pi * inner_m_ * inner_film_) + wall);
  }
  double outward_w_per_k() const { return 2 * pi * outer_m_ * outer_film_; }
  double half_angle(double strip_m) const { return std::clamp(0.5 * strip_m / outer_m_, 1e-4, pi); }
  double outer_radius_m() const { return outer_m_; }

 private:
  double inner_m_, outer_m_, conductivity_, inner_film_, outer_film_;
  double shrink_per_harmonic_ = (inner_m_ / outer_m_) * (inner_m_ / outer_m_), shrink_ = 1;
  int n_ = 0;
};

}  // namespace

double WallProfile::at(double theta_rad) const {
  // Clenshaw's sum of a cosine series.
  const double twice_cosine = 2 * std::cos(folded_angle(theta_rad));
  double one = 0, two = 0;
  for (std::size_t n = harmonics_k.size(); n-- > 1;) {
    const double next = harmonics_k[n] + twice_cosine * one - two;
    two = one;
    one = next;
  }
  return idle_c + harmonics_k.front() + 0.5 * twice_cosine * one - two;
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
                         double water_c, double air_c, double power_w_per_m, double strip_m) {
  RingResponse ring(pipe, inner_film_w_per_m2_k, outer_w_per_m2_k);
  const double inward = ring.inward_w_per_k(), outward = ring.outward_w_per_k();
  const double half = ring.half_angle(strip_m);
  const double flux = power_w_per_m / (2 * half * ring.outer_radius_m());
  WallProfile out;
  out.idle_c = (inward * water_c + outward * air_c) / (inward + outward);
  out.harmonics_k.resize(most_harmonics);
  out.harmonics_k[0] = power_w_per_m / (inward + outward);
  double under_k = out.harmonics_k[0];
  for (int n = 1; n < most_harmonics; ++n) {
    const double sine = std::sin(n * half);
    const double term_k = flux * 2 * sine / (pi * n) * ring.next_k_per_w_per_m2();
    out.harmonics_k[static_cast<std::size_t>(n)] = term_k;
    under_k += term_k * sine / (n * half);
  }
  out.under_cable_c = out.idle_c + under_k;
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
                           double sheet_slope_w_per_m_k, double strip_m) {
  const WallProfile unit =
      wall_profile(pipe, inner_film_w_per_m2_k, outer_w_per_m2_k, water_c, air_c, 1, strip_m);
  const double slope = std::min(0.0, sheet_slope_w_per_m_k);
  const double idle_k =
      unit.idle_c - water_c;  // without the cable the wall is a little cooler than the water
  const double rise_k_per_w = unit.under_cable_c - unit.idle_c;
  const double power = (sheet_power_w_per_m + slope * idle_k) / (1 - slope * rise_k_per_w);
  return std::max(0.0, power / sheet_power_w_per_m);
}

}  // namespace firstdraw::physics
