// Temperature around the wall of a pipe with a cable along it, theta from the cable:
//   k t / r^2 T'' = h_i (T - T_water) + U_o (T - T_air) - (q/r) delta(theta)
// whose solution is a cosh. It gives the wall under the cable (where the cable works) and what a sensor at an
// angle reads.
#pragma once

#include "physics/pipe_loss.hpp"

namespace firstdraw::physics {

struct WallProfile {
  double mean_c = 0;        // wall far from the cable's influence: balance without the strip
  double strip_rise_k = 0;  // what the strip adds right under the cable: q r coth(m pi) / (2 k t m)
  double fin_number = 0;    // m in cosh(m (pi - theta)) / cosh(m pi), r sqrt((h_i + U_o) / (k t))
  double at(double theta_rad) const;
};

/// Free convection in standing water inside a pipe, W/(m2 K): Nu = 0.55 Ra^(1/4) of Evans and Stefany 1966
/// (memory), never below conduction in still water, Nu = 5.78. Properties at the mean of wall and water.
double standing_water_film_w_per_m2_k(double inner_diameter_m, double water_c, double wall_c);

/// Wall with water at `water_c`, line power `power_w_per_m` at theta = 0 and `outer_w_per_m2_k` from wall to
/// air. Both coefficients are per area of the wall's middle circle, r = (outer diameter - wall) / 2; their
/// sum must be above 0. The cable is a line: under a strip of finite width the peak is a little lower.
WallProfile wall_profile(const Pipe& pipe, double inner_film_w_per_m2_k, double outer_w_per_m2_k,
                         double water_c, double air_c, double power_w_per_m);

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
/// it runs warmer.
double cable_derating_frac(const Pipe& pipe, double inner_film_w_per_m2_k, double outer_w_per_m2_k,
                           double water_c, double air_c, double sheet_power_w_per_m,
                           double sheet_slope_w_per_m_k);

}  // namespace firstdraw::physics
