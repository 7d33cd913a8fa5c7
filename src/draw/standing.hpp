// Standing water in one cell: water, wall and two insulation masses in a row, linear, solved exactly over any
// time.
//   C x' = -K x + f e_wall,   x = temperatures above the air's
// C diagonal, K symmetric, so that with M = C^-1/2 K C^-1/2 = V diag(rate) V^T
//   x(t) = C^-1/2 V exp(-rate t) V^T C^1/2 x(0) + response(t) f
#pragma once

#include <array>

namespace firstdraw::draw {

/// Per metre of run, see draw/scene.hpp. `cable_slope_w_per_m_k` is the cable's output per kelvin of wall.
struct StandingCell {
  double water_j_per_m_k = 0, wall_j_per_m_k = 0, inner_j_per_m_k = 0, outer_j_per_m_k = 0;
  double film_w_per_m_k = 0, g0_w_per_m_k = 0, g1_w_per_m_k = 0, g2_w_per_m_k = 0;
  double cable_slope_w_per_m_k = 0;
};

class Propagator {
 public:
  using Vector = std::array<double, 4>;
  using Matrix = std::array<Vector, 4>;

  Propagator() = default;
  explicit Propagator(const StandingCell& cell);
  /// Sets the members below for a step; nothing to do when it is the last one's.
  void prepare(double step_s);

  Matrix next{};      // x after the step from x before it
  Vector response{};  // x after the step from f = 1
  Vector ramp{};      // x after the step from an f that rises evenly from 0 to 1
  // Integrals over the step of wall and outer mass: from x before it, from f = 1, from the ramp.
  Vector wall_integral{}, outer_integral{};
  double wall_integral_of_f = 0, outer_integral_of_f = 0;
  double wall_integral_of_ramp = 0, outer_integral_of_ramp = 0;

 private:
  Matrix out_{}, in_{};  // C^-1/2 V and V^T C^1/2
  Vector rate_per_s_{}, drive_{};
  double prepared_s_ = -1;
};

}  // namespace firstdraw::draw
