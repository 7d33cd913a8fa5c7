#include "power/least_squares.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::power {

namespace {

using Numbers = std::vector<double>;
using Residuals = std::function<Numbers(const Numbers&)>;

double sum_of_squares(const Numbers& residuals) {
  double sum = 0;
  for (const double r : residuals) sum += r * r;
  return sum;
}

/// Column by column: derivative of every residual by each parameter.
std::vector<Numbers> derivatives(const Numbers& at, const Residuals& residuals) {
  constexpr double apart = 1e-5;
  std::vector<Numbers> columns;
  for (std::size_t i = 0; i < at.size(); ++i) {
    Numbers low = at, high = at;
    low[i] -= apart;
    high[i] += apart;
    Numbers column = residuals(high);
    const Numbers below = residuals(low);
    for (std::size_t k = 0; k < column.size(); ++k) column[k] = (column[k] - below[k]) / (2 * apart);
    columns.push_back(std::move(column));
  }
  return columns;
}

double dot(const Numbers& a, const Numbers& b) {
  double sum = 0;
  for (std::size_t k = 0; k < a.size(); ++k) sum += a[k] * b[k];
  return sum;
}

/// Solves the symmetric positive system a x = b by Cholesky's factors.
Numbers solve(std::vector<Numbers> a, Numbers b) {
  const std::size_t n = b.size();
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t k = 0; k < j; ++k) a[j][j] -= a[j][k] * a[j][k];
    a[j][j] = std::sqrt(a[j][j]);
    for (std::size_t i = j + 1; i < n; ++i) {
      for (std::size_t k = 0; k < j; ++k) a[i][j] -= a[i][k] * a[j][k];
      a[i][j] /= a[j][j];
    }
  }
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) b[i] -= a[i][k] * b[k];
    b[i] /= a[i][i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) b[i] -= a[k][i] * b[k];
    b[i] /= a[i][i];
  }
  return b;
}

/// Marquardt's step: the diagonal raised in proportion to itself.
Numbers step(const std::vector<Numbers>& columns, const Numbers& residuals, double damping) {
  std::vector<Numbers> normal(columns.size(), Numbers(columns.size()));
  Numbers right(columns.size());
  for (std::size_t i = 0; i < columns.size(); ++i) {
    right[i] = -dot(columns[i], residuals);
    for (std::size_t j = 0; j < columns.size(); ++j) normal[i][j] = dot(columns[i], columns[j]);
    normal[i][i] = normal[i][i] * (1 + damping) + 1e-12;
  }
  return solve(std::move(normal), std::move(right));
}

}  // namespace

LeastSquares least_squares(Numbers start, double reach, const Residuals& residuals) {
  LeastSquares best{start, 0};
  Numbers misfit = residuals(start);
  best.sum_of_squares = sum_of_squares(misfit);
  double damping = 1e-4;
  std::vector<Numbers> columns = derivatives(start, residuals);
  for (int round = 0; round < 200 && damping < 1e10; ++round) {
    Numbers next = best.parameters;
    const Numbers change = step(columns, misfit, damping);
    for (std::size_t i = 0; i < next.size(); ++i)
      next[i] = std::clamp(next[i] + change[i], start[i] - reach, start[i] + reach);
    Numbers next_misfit = residuals(next);
    const double sum = sum_of_squares(next_misfit);
    if (!(sum < best.sum_of_squares)) {
      damping *= 10;
      continue;
    }
    const bool done = best.sum_of_squares - sum <= 1e-12 * best.sum_of_squares;
    best = {next, sum};
    misfit = std::move(next_misfit);
    if (done) break;
    columns = derivatives(best.parameters, residuals);
    damping = std::max(1e-10, damping / 10);
  }
  return best;
}

}  // namespace firstdraw::power
