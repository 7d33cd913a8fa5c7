#include "physics/lambert_w.hpp"

#include <cmath>

namespace firstdraw::physics {

// Newton's method for u + e^u = log_x with u = ln w: convex and rising, so it converges from everywhere.
double lambert_w_of_exp(double log_x) {
  double u = log_x < 1 ? log_x : std::log(log_x);
  for (int i = 0; i < 50; ++i) {
    const double w = std::exp(u);
    const double step = (u + w - log_x) / (1 + w);
    u -= step;
    if (std::abs(step) <= 1e-15 * (1 + std::abs(u))) break;
  }
  return std::exp(u);
}

}  // namespace firstdraw::physics
