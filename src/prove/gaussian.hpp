// Numbers that are jointly normal: how likely a set of readings is, one of which may be a blunder, and what
// they leave of another. Small matrices, in place.
#pragma once

#include <span>
#include <vector>

namespace firstdraw::prove {

/// `residual`: reading minus mean. `covariance`: row by row. Both of the readings' number n.
class Gaussian {
 public:
  Gaussian(std::vector<double> residual, std::vector<double> covariance);
  std::size_t size() const { return residual_.size(); }
  double log_density() const { return log_density_; }
  /// Of all readings but one.
  double log_density_without(std::size_t left_out) const;
  /// What the readings leave of a number that varies with them by `with`, of variance `variance`, beyond its
  /// mean.
  struct Rest {
    double shift = 0, variance = 0;
  };
  Rest rest(std::span<const double> with, double variance) const;

 private:
  std::vector<double> residual_, inverse_, solved_;  // solved: inverse times residual
  double log_density_ = 0;
};

/// ln of (1 - e)^n N(all) + e (1 - e)^(n-1) sum over i of N(all but i) broad_i: at most one reading is a slip
/// (a wrong place, a wrong range), then it may be anything, `broad` being its density.
double log_with_blunder(const Gaussian& gaussian, std::span<const double> broad, double blunder_prob);

/// Standard normal distribution function.
double normal_below(double x);

}  // namespace firstdraw::prove
