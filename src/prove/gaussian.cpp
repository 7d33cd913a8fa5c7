#include "prove/gaussian.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace firstdraw::prove {
namespace {

const double half_log_two_pi = 0.5 * std::log(2 * std::numbers::pi);

/// Lower factor of a positive matrix, in place; returns half the logarithm of its determinant.
double factorise(std::vector<double>& a, std::size_t n) {
  double half_log = 0;
  for (std::size_t j = 0; j < n; ++j) {
    for (std::size_t k = 0; k < j; ++k) a[j * n + j] -= a[j * n + k] * a[j * n + k];
    if (!(a[j * n + j] > 0)) throw std::logic_error("readings with a covariance that is none");
    a[j * n + j] = std::sqrt(a[j * n + j]);
    half_log += std::log(a[j * n + j]);
    for (std::size_t i = j + 1; i < n; ++i) {
      for (std::size_t k = 0; k < j; ++k) a[i * n + j] -= a[i * n + k] * a[j * n + k];
      a[i * n + j] /= a[j * n + j];
    }
  }
  return half_log;
}

void solve(const std::vector<double>& lower, std::size_t n, double* x) {
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) x[i] -= lower[i * n + k] * x[k];
    x[i] /= lower[i * n + i];
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) x[i] -= lower[k * n + i] * x[k];
    x[i] /= lower[i * n + i];
  }
}

}  // namespace

Gaussian::Gaussian(std::vector<double> residual, std::vector<double> covariance)
    : residual_(std::move(residual)), inverse_(covariance.size(), 0), solved_(residual_) {
  const std::size_t n = residual_.size();
  log_density_ = -half_log_two_pi * static_cast<double>(n) - factorise(covariance, n);
  solve(covariance, n, solved_.data());
  for (std::size_t i = 0; i < n; ++i) {
    log_density_ -= 0.5 * residual_[i] * solved_[i];
    inverse_[i * n + i] = 1;
    solve(covariance, n, &inverse_[i * n]);
  }
}

/// N(all) = N(all but i) N(i given the others), and the last follows from the inverse.
double Gaussian::log_density_without(std::size_t i) const {
  const double precision = inverse_[i * size() + i];
  return log_density_ + half_log_two_pi - 0.5 * std::log(precision) +
         0.5 * solved_[i] * solved_[i] / precision;
}

Gaussian::Rest Gaussian::rest(std::span<const double> with, double variance) const {
  Rest made{0, variance};
  for (std::size_t i = 0; i < size(); ++i) {
    made.shift += with[i] * solved_[i];
    for (std::size_t k = 0; k < size(); ++k) made.variance -= with[i] * inverse_[i * size() + k] * with[k];
  }
  made.variance = std::max(made.variance, 1e-12 * variance);
  return made;
}

double log_with_blunder(const Gaussian& gaussian, std::span<const double> broad, double blunder_prob) {
  const double none = std::log1p(-blunder_prob), one = std::log(blunder_prob);
  const double n = static_cast<double>(gaussian.size());
  std::vector<double> terms{n * none + gaussian.log_density()};
  for (std::size_t i = 0; i < gaussian.size(); ++i)
    terms.push_back(one + (n - 1) * none + gaussian.log_density_without(i) + std::log(broad[i]));
  const double most = std::ranges::max(terms);
  double sum = 0;
  for (const double term : terms) sum += std::exp(term - most);
  return most + std::log(sum);
}

double normal_below(double x) { return 0.5 * std::erfc(-x / std::numbers::sqrt2); }

}  // namespace firstdraw::prove
