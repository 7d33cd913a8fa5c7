#include "hold/strata.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "hold/hash.hpp"

namespace firstdraw::hold {
namespace {

double normal_cumulative(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

double normal_density(double z) {
  return std::exp(-0.5 * z * z) * std::numbers::inv_sqrtpi / std::numbers::sqrt2;
}

}  // namespace

double normal_quantile(double probability) {
  if (probability > 0.5) return -normal_quantile(1 - probability);
  // Halley's steps from the tail's leading term; in the lower half they do not overshoot into the flat of the
  // tail.
  double z = probability < 0.1 ? -std::sqrt(-2 * std::log(probability)) : 0;
  for (int i = 0; i < 50; ++i) {
    const double newton = (normal_cumulative(z) - probability) / normal_density(z);
    const double step = newton / (1 + 0.5 * z * newton);
    z -= step;
    if (std::abs(step) <= 1e-14 * (1 + std::abs(z))) break;
  }
  return z;
}

Strata::Strata(int samples) : middles_(static_cast<std::size_t>(samples)) {
  const std::size_t n = middles_.size();
  for (std::size_t i = 0; i < n; ++i) {
    middles_[i] = normal_quantile((static_cast<double>(i) + 0.5) / static_cast<double>(n));
  }
}

void Strata::shuffle_into(std::span<double> values, std::uint64_t seed) const {
  std::ranges::copy(middles_, values.begin());
  Stream stream(seed);
  for (std::size_t i = values.size(); i > 1; --i) std::swap(values[i - 1], values[stream.below(i)]);
}

std::vector<double> Strata::shuffled(std::uint64_t seed) const {
  std::vector<double> values(size());
  shuffle_into(values, seed);
  return values;
}

namespace {

/// Value at a share of sorted order, for which only the neighbourhood is put in order; `from` and beyond must
/// hold everything not below that place.
double order_value(std::span<double> values, std::size_t from, double share) {
  const double place = std::clamp(share * static_cast<double>(values.size()) - 0.5, 0.0,
                                  static_cast<double>(values.size() - 1));
  const auto below = static_cast<std::ptrdiff_t>(place);
  const auto begin = values.begin();
  std::nth_element(begin + static_cast<std::ptrdiff_t>(from), begin + below, values.end());
  const double low = begin[below], rest = place - static_cast<double>(below);
  if (rest == 0) return low;
  return low + rest * (*std::min_element(begin + below + 1, values.end()) - low);
}

}  // namespace

Quantiles quantiles_of(std::span<double> values) {
  // Rising shares: what lies before one place stays before the next.
  const auto place = [&](double share) {
    return static_cast<std::size_t>(std::max(0.0, share * static_cast<double>(values.size()) - 0.5));
  };
  const double p5 = order_value(values, 0, 0.05);
  const double p50 = order_value(values, place(0.05), 0.50);
  return {p5, p50, order_value(values, place(0.50), 0.95)};
}

}  // namespace firstdraw::hold
