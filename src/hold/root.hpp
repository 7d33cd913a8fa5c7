// One root of a falling function, by Newton's steps kept inside a bracket.
#pragma once

#include <cmath>

namespace firstdraw::hold {

/// `function(x)` gives {value, slope}, value >= 0 at `low` and <= 0 at `high`. Ends when a step is below
/// `tolerance` of x or the bracket has closed; where the function jumps through zero, x is the place of the
/// jump.
template <class Function>
double falling_root(const Function& function, double low, double high, double guess, double tolerance) {
  constexpr int newton_steps = 30, all_steps = 200;
  double x = guess > low && guess < high ? guess : 0.5 * (low + high);
  for (int i = 0; i < all_steps; ++i) {
    const auto [value, slope] = function(x);
    if (value == 0) return x;
    (value > 0 ? low : high) = x;
    double next = x - value / slope;
    if (i >= newton_steps || !(next > low && next < high)) next = 0.5 * (low + high);
    if (std::abs(next - x) <= tolerance * std::abs(next)) return next;
    x = next;
  }
  return x;
}

}  // namespace firstdraw::hold
