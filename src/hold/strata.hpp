// Latin hypercube strata: the normal distribution cut into n equally likely slices, one value from the middle
// of each, in an order shuffled by a stream's seed. Every tolerance takes every slice once (McKay, Beckman
// and Conover, Technometrics 21, 1979).
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "hold/hold.hpp"

namespace firstdraw::hold {

/// Quantile of the standard normal distribution, 0 < probability < 1; accurate to 1e-12.
double normal_quantile(double probability);

class Strata {
 public:
  explicit Strata(int samples);
  std::size_t size() const { return middles_.size(); }
  /// Fills `values` [size()] with the slices in the order of this seed.
  void shuffle_into(std::span<double> values, std::uint64_t seed) const;
  std::vector<double> shuffled(std::uint64_t seed) const;

 private:
  std::vector<double> middles_;  // rising
};

/// 5th, 50th and 95th percentile, linear between the middles of the slices (Hazen). Reorders `values`.
Quantiles quantiles_of(std::span<double> values);

}  // namespace firstdraw::hold
