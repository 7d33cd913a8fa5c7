// Interpolation in rising tables. Beyond the ends the end value is held; callers that must say so test
// the range themselves.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace firstdraw::physics {

/// The piece of a rising table (two points or more) that holds `x`: index of its lower end, 0 … size-2.
std::size_t piece_of(std::span<const double> rising, double x);

/// Straight lines between points; the one value of a table of one point.
double linear_held(std::span<const double> x, std::span<const double> y, double at);

/// Slopes at the points for a cubic that keeps the data's monotony and never overshoots (Fritsch and Carlson,
/// SIAM J. Numer. Anal. 17, 1980, with the three-point end slope of Fritsch and Butland). Empty for fewer
/// than two points.
std::vector<double> monotone_slopes(std::span<const double> x, std::span<const double> y);

/// Cubic Hermite value with those slopes, held beyond the ends.
double cubic_held(std::span<const double> x, std::span<const double> y, std::span<const double> slopes,
                  double at);

}  // namespace firstdraw::physics
