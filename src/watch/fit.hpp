// Least squares with priors and a robust loss for few parameters and many residuals. The one place that
// knows Ceres.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace firstdraw::watch {

inline constexpr int fit_size = 6;
using Parameters = std::array<double, fit_size>;
using Square = std::array<std::array<double, fit_size>, fit_size>;

struct FitTask {
  /// Residuals over their standard deviation; as many at every call.
  std::function<std::vector<double>(const Parameters&)> residuals;
  Parameters start{}, prior{}, prior_sd{};
  Parameters low{}, high{};
  Parameters step{};       // of the differences that stand for derivatives
  double bend = 2;         // residual from which it counts by its size rather than its square
  std::size_t block = 30;  // residuals that hang together: of the bootstrap's blocks
  std::uint64_t seed = 1;
  bool rough = false;  // on the way to another: coarser, and without covariances
};

struct FitResult {
  Parameters at{};
  Square curvature{};             // covariance from the curvature
  Square bootstrap{};             // from scores of blocks drawn again and again
  std::vector<double> residuals;  // at the minimum, not bent
  bool converged = false;
  std::string said;
};

/// Minimises  sum 2 b^2 (sqrt(1 + (r/b)^2) - 1) + sum ((x - prior) / prior_sd)^2,  "soft L1".
FitResult fit(const FitTask& task);

}  // namespace firstdraw::watch
