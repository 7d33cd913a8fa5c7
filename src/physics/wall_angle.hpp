// Temperature on the outer face of a pipe's wall with a cable along it, theta from the cable. It gives the
// wall under the cable (where the cable works) and what a sensor at an angle reads.
//
// The wall is a ring a < r < b with its conductivity k, a film to the water inside and one to the room
// outside; the cable's heat enters evenly over a strip as wide as the cable. With the angle in a Fourier
// series every term has an exact radial function, so the temperature of the outer face is
//   T(theta) = T_idle + sum over n of q_n G_n cos(n theta),
//   1/G_n = (k n / b) (1 - w) / (1 + w) + U_o,  w = (a/b)^2n (k n/a - h_i) / (k n/a + h_i),
// with q_n the strip's heat in that term. Where the wall is thin against k / h (every metal) this is the fin
//   k t / r^2 T'' = h_i (T - T_water) + U_o (T - T_air) - (q/r) delta(theta),  T ~ cosh(m (pi - theta)),
// but a plastic wall is not: the fin misses half of the rise under a cable on CPVC (docs/physics.md).
#pragma once

#include <vector>

#include "physics/pipe_loss.hpp"

namespace firstdraw::physics {

struct WallProfile {
  double idle_c = 0;         // outer face without the cable's heat: water, film, wall and room in series
  double under_cable_c = 0;  // outer face, mean over the strip
  std::vector<double> harmonics_k;  // what the cable adds: amplitude of cos(n theta), n = 0, 1, ...
  /// Outer face at an angle from the cable's middle.
  double at(double theta_rad) const;
};

/// Width of a cable on the wall where the caller does not know it (common practice, no source).
constexpr double usual_strip_m = 0.010;

/// Free convection in standing water inside a pipe, W/(m2 K): Nu = 0.55 Ra^(1/4) of Evans and Stefany 1966
/// (memory), never below conduction in still water, Nu = 5.78. Properties at the mean of wall and water.
double standing_water_film_w_per_m2_k(double inner_diameter_m, double water_c, double wall_c);

/// Wall with water at `water_c` and the cable's heat at theta = 0. `inner_film_w_per_m2_k` is per area of the
/// bore, `outer_w_per_m2_k` (all from the wall's outer face to the air) per area of the outer face; their sum
/// must be above 0. No heat-spreading tape is counted.
WallProfile wall_profile(const Pipe& pipe, double inner_film_w_per_m2_k, double outer_w_per_m2_k,
                         double water_c, double air_c, double power_w_per_m, double strip_m = usual_strip_m);

/// The pocket a bulb shares with the cable's sheath under the insulation. `coupling_frac` is how much of
/// (sheath - wall) a bulb right beside the cable picks up; it falls off with angle as exp(-angle / spread),
/// shifted to be nil opposite.
struct SensorMount {
  double angle_rad = 3.14159265358979;
  double coupling_frac = 0.35;        // stated parameter, common practice, no source
  double coupling_spread_rad = 0.35;  // e-folding angle of the pocket
};
double sensor_reading_c(const WallProfile& wall, const SensorMount& mount, double sheath_c);

/// Water temperature behind a reading: reading minus what the model says the wall and the pocket add.
double water_from_reading_c(double reading_c, double sensor_c_at_model, double water_c_at_model);

/// Output of a cable on this pipe as a share of its data-sheet output on metal pipe, because the wall under
/// it runs warmer. `sheet_power_w_per_m` is the sheet's output with the pipe at water temperature,
/// `sheet_slope_w_per_m_k` its slope there, which must not be positive; between the two the sheet is taken as
/// a straight line.
double cable_derating_frac(const Pipe& pipe, double inner_film_w_per_m2_k, double outer_w_per_m2_k,
                           double water_c, double air_c, double sheet_power_w_per_m,
                           double sheet_slope_w_per_m_k, double strip_m = usual_strip_m);

}  // namespace firstdraw::physics
