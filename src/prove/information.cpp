#include "prove/information.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "prove/gaussian.hpp"

namespace firstdraw::prove {
namespace {

constexpr double reach = 5;  // standard deviations

/// Sum over labels and outcomes of p ln(p / (p_label p_outcome)), in bits.
double mutual(const std::vector<std::vector<double>>& joint) {
  std::vector<double> of_outcome(joint.front().size(), 0);
  double all = 0;
  for (const auto& row : joint)
    for (std::size_t i = 0; i < row.size(); ++i) {
      of_outcome[i] += row[i];
      all += row[i];
    }
  double sum = 0;
  for (const auto& row : joint) {
    double of_label = 0;
    for (const double p : row) of_label += p;
    for (std::size_t i = 0; i < row.size(); ++i)
      if (row[i] > 0) sum += row[i] * std::log2(row[i] * all / (of_label * of_outcome[i]));
  }
  return std::max(0.0, all > 0 ? sum / all : 0);
}

/// The fifth smallest hundredth of the errors: the few that are sharper lose a little.
double small_error(std::span<const Forecast> forecasts) {
  std::vector<double> sigma;
  for (const Forecast& one : forecasts) sigma.push_back(std::sqrt(one.variance));
  const auto nth = sigma.begin() + static_cast<std::ptrdiff_t>(sigma.size() / 20);
  std::ranges::nth_element(sigma, nth);
  return *nth;
}

}  // namespace

double information_bit(std::span<const Forecast> forecasts, std::size_t labels, std::size_t most_bins) {
  if (forecasts.empty() || labels < 2) return 0;
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const Forecast& one : forecasts) {
    const double sigma = std::sqrt(one.variance);
    low = std::min(low, one.mean - reach * sigma);
    high = std::max(high, one.mean + reach * sigma);
  }
  if (!(high > low)) return 0;
  const double wanted = (high - low) / (0.5 * std::max(small_error(forecasts), 1e-9 * (high - low)));
  const auto bins =
      static_cast<std::size_t>(std::clamp(std::ceil(wanted), 2.0, static_cast<double>(most_bins)));
  const double width = (high - low) / static_cast<double>(bins);
  std::vector<std::vector<double>> joint(labels, std::vector<double>(bins, 0));
  for (const Forecast& one : forecasts) {
    const double sigma = std::sqrt(one.variance);
    auto bin = static_cast<std::size_t>(std::max(0.0, std::floor((one.mean - reach * sigma - low) / width)));
    double before = 0;
    for (; bin < bins; ++bin) {
      const double edge = low + static_cast<double>(bin + 1) * width;
      const double below = bin + 1 == bins ? 1 : normal_below((edge - one.mean) / sigma);
      joint[one.label][bin] += one.weight * (below - before);
      before = below;
      if (edge > one.mean + reach * sigma) break;
    }
  }
  return mutual(joint);
}

double information_bit(std::span<const ForecastOfFew> forecasts, std::size_t labels) {
  if (forecasts.empty() || labels < 2) return 0;
  std::vector<std::vector<double>> joint(labels, std::vector<double>(forecasts.front().prob.size(), 0));
  for (const ForecastOfFew& one : forecasts)
    for (std::size_t i = 0; i < one.prob.size(); ++i) joint[one.label][i] += one.weight * one.prob[i];
  return mutual(joint);
}

}  // namespace firstdraw::prove
