// Insulation as seen by the pipe wall in time: exact radial conduction through heat-storing layers, reduced
// to two thermal masses in a ladder
//   wall --G0-- C1 --G1-- C2 --G2-- air
// whose response at the wall agrees with the exact one in the first moments (slow changes exactly, fast ones
// closely). Steady loss is exact by construction.
#pragma once

#include <array>

#include "physics/pipe_loss.hpp"

namespace firstdraw::physics {

struct RadialLadder {
  double wall_to_inner_w_per_m_k = 0;               // G0
  double inner_to_outer_w_per_m_k = 0;              // G1
  double outer_to_air_w_per_m_k = 0;                // G2
  double inner_j_per_m_k = 0, outer_j_per_m_k = 0;  // C1, C2

  double steady_w_per_m_k() const;
};

/// Ladder for layers of constant conductivity, with `surface_w_per_m_k` from the outermost surface to the
/// air. `layers` inside to outside; conductivity taken at `mean_c` times the layer's factor, heat capacity as
/// dry even where the factor stands for wet insulation. Without layers (bare pipe), or when no layer stores
/// heat, the capacities are 0 and G0 = G1 are so large that they do not count: see `is_bare`.
RadialLadder radial_ladder(const std::vector<Layer>& layers, double mean_c, double surface_w_per_m_k);
bool is_bare(const RadialLadder& ladder);

/// Exact admittance at the wall of the same layers for a temperature that grows as exp(rate t), W/(m K): what
/// the ladder is matched to and checked against. `rate_per_s` >= 0.
double exact_admittance_w_per_m_k(const std::vector<Layer>& layers, double mean_c, double surface_w_per_m_k,
                                  double rate_per_s);
double admittance_w_per_m_k(const RadialLadder& ladder, double rate_per_s);

/// The first five coefficients of that admittance in powers of the rate, W s^n/(m K): steady conductance,
/// heat stored, and so on. From finite volumes, good to 1e-6.
std::array<double, 5> admittance_moments(const std::vector<Layer>& layers, double mean_c,
                                         double surface_w_per_m_k);

}  // namespace firstdraw::physics
