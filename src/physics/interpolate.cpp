#include "physics/interpolate.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::physics {
namespace {

/// Slope at an end from its two nearest pieces, kept within the range that cannot overshoot.
double end_slope(double h0, double h1, double chord0, double chord1) {
  const double slope = ((2 * h0 + h1) * chord0 - h0 * chord1) / (h0 + h1);
  if (slope * chord0 <= 0) return 0;
  if (chord0 * chord1 <= 0 && std::abs(slope) > 3 * std::abs(chord0)) return 3 * chord0;
  return slope;
}

/// Weighted harmonic mean of the chords on both sides; zero at a turn.
double inner_slope(double h0, double h1, double chord0, double chord1) {
  if (chord0 * chord1 <= 0) return 0;
  const double w0 = 2 * h1 + h0, w1 = h1 + 2 * h0;
  return (w0 + w1) / (w0 / chord0 + w1 / chord1);
}

}  // namespace

std::size_t piece_of(std::span<const double> rising, double x) {
  const auto inner_end = rising.end() - 1;
  const auto above = std::upper_bound(rising.begin() + 1, inner_end, x);
  return static_cast<std::size_t>(above - rising.begin()) - 1;
}

double linear_held(std::span<const double> x, std::span<const double> y, double at) {
  if (at <= x.front()) return y.front();
  if (at >= x.back()) return y.back();
  const std::size_t i = piece_of(x, at);
  return y[i] + (y[i + 1] - y[i]) * (at - x[i]) / (x[i + 1] - x[i]);
}

std::vector<double> monotone_slopes(std::span<const double> x, std::span<const double> y) {
  const std::size_t n = x.size();
  if (n < 2) return {};
  std::vector<double> step(n - 1), chord(n - 1), slopes(n);
  for (std::size_t i = 0; i + 1 < n; ++i) {
    step[i] = x[i + 1] - x[i];
    chord[i] = (y[i + 1] - y[i]) / step[i];
  }
  if (n == 2) return {chord[0], chord[0]};
  slopes.front() = end_slope(step[0], step[1], chord[0], chord[1]);
  slopes.back() = end_slope(step[n - 2], step[n - 3], chord[n - 2], chord[n - 3]);
  for (std::size_t i = 1; i + 1 < n; ++i) {
    slopes[i] = inner_slope(step[i - 1], step[i], chord[i - 1], chord[i]);
  }
  return slopes;
}

double cubic_held(std::span<const double> x, std::span<const double> y, std::span<const double> slopes,
                  double at) {
  if (at <= x.front()) return y.front();
  if (at >= x.back()) return y.back();
  const std::size_t i = piece_of(x, at);
  const double step = x[i + 1] - x[i], s = (at - x[i]) / step;
  const double rise = y[i + 1] - y[i];
  const double bend0 = slopes[i] * step - rise, bend1 = rise - slopes[i + 1] * step;
  return y[i] + s * (rise + (1 - s) * ((1 - s) * bend0 + s * bend1));
}

}  // namespace firstdraw::physics
