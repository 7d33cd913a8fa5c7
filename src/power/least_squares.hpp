// Least squares in a few parameters, for fits to tables of some tens of points.
#pragma once

#include <functional>
#include <vector>

namespace firstdraw::power {

struct LeastSquares {
  std::vector<double> parameters;
  double sum_of_squares = 0;
};

/// Levenberg-Marquardt with central differences of 1e-5: parameters of order one, such as logarithms. Each
/// stays within +-`reach` of its start.
LeastSquares least_squares(std::vector<double> start, double reach,
                           const std::function<std::vector<double>(const std::vector<double>&)>& residuals);

}  // namespace firstdraw::power
