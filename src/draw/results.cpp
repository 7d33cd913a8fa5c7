#include <algorithm>
#include <cmath>
#include <numeric>

#include "draw/simulate.hpp"

namespace firstdraw::draw {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
constexpr int last_bin = TempCounts::bins - 1;

int bin_of(double temp_c) {
  return std::clamp(static_cast<int>(temp_c * (1 / TempCounts::step_k)), 0, last_bin);
}

}  // namespace

void TempCounts::add(double temp_c) { ++count[static_cast<std::size_t>(bin_of(temp_c))]; }

std::uint64_t TempCounts::total() const {
  return std::accumulate(count.begin(), count.end(), std::uint64_t{0});
}

double TempCounts::quantile(double share) const {
  const auto all = static_cast<double>(total());
  if (all == 0) return unknown;
  double below = 0;
  for (std::size_t i = 0; i < count.size(); ++i) {
    const double here = count[i];
    if (here > 0 && below + here >= share * all)
      return step_k * (static_cast<double>(i) + std::max(0.0, share * all - below) / here);
    below += here;
  }
  return step_k * bins;
}

double TempCounts::share_at_least(double temp_c) const {
  const auto all = static_cast<double>(total());
  if (all == 0) return unknown;
  const int bin = bin_of(temp_c);
  double above = 0;
  for (int i = bin + 1; i < bins; ++i) above += count[at(i)];
  const double inside = std::clamp(bin + 1 - temp_c / step_k, 0.0, 1.0);
  return (above + inside * count[at(bin)]) / all;
}

void TempSeconds::add(double from_c, double to_c, double duration_s) {
  const int first = bin_of(std::min(from_c, to_c)), last = bin_of(std::max(from_c, to_c));
  if (first == last) {
    seconds[at(first)] += duration_s;
    return;
  }
  const double low = std::min(from_c, to_c), high = std::max(from_c, to_c);
  const double per_k = duration_s / (high - low), per_bin = per_k * TempCounts::step_k;
  seconds[at(first)] += per_k * ((first + 1) * TempCounts::step_k - low);
  for (std::size_t i = at(first + 1); i < at(last); ++i) seconds[i] += per_bin;
  seconds[at(last)] += per_k * (high - last * TempCounts::step_k);
}

double TempSeconds::total() const { return std::accumulate(seconds.begin(), seconds.end(), 0.0); }

double TempSeconds::between(double low_c, double high_c) const {
  double sum = 0;
  for (int i = 0; i < TempCounts::bins; ++i) {
    const double begin = i * TempCounts::step_k, end = begin + TempCounts::step_k;
    const double inside = std::min(end, high_c) - std::max(begin, low_c);
    if (inside > 0) sum += seconds[at(i)] * inside / TempCounts::step_k;
  }
  return sum;
}

double TempSeconds::mean_c() const {
  double sum = 0;
  for (int i = 0; i < TempCounts::bins; ++i) sum += seconds[at(i)] * (i + 0.5) * TempCounts::step_k;
  const double all = total();
  return all > 0 ? sum / all : unknown;
}

}  // namespace firstdraw::draw
