#include "draw/series.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace firstdraw::draw {

Series::Series(std::vector<double> times_s, std::vector<double> values)
    : times_s_(std::move(times_s)), values_(std::move(values)), integral_(values_.size()) {
  if (times_s_.size() != values_.size()) throw std::logic_error("series: as many times as values expected");
  for (std::size_t i = 1; i < values_.size(); ++i) {
    const double step_s = times_s_[i] - times_s_[i - 1];
    if (!(step_s > 0)) throw std::logic_error("series: times must rise");
    integral_[i] = integral_[i - 1] + step_s * (values_[i - 1] + values_[i]) / 2;
  }
}

namespace {

// Number of points at or before a time: 0 before the first, all of them after the last.
std::size_t points_until(const std::vector<double>& times_s, double time_s) {
  return static_cast<std::size_t>(std::upper_bound(times_s.begin(), times_s.end(), time_s) - times_s.begin());
}

}  // namespace

double Series::at(double time_s) const {
  if (empty()) throw std::logic_error("series: asked for a value while it has none");
  if (constant()) return values_.front();
  const std::size_t next = points_until(times_s_, time_s);
  if (next == 0) return values_.front();
  if (next == values_.size()) return values_.back();
  const double frac = (time_s - times_s_[next - 1]) / (times_s_[next] - times_s_[next - 1]);
  return values_[next - 1] + frac * (values_[next] - values_[next - 1]);
}

double Series::integral_to(double time_s) const {
  const std::size_t next = points_until(times_s_, time_s);
  if (next == 0) return (time_s - times_s_.front()) * values_.front();
  const double past_s = time_s - times_s_[next - 1];
  return integral_[next - 1] + past_s * (values_[next - 1] + at(time_s)) / 2;
}

double Series::mean(double begin_s, double end_s) const {
  if (constant() || begin_s == end_s) return at(begin_s);
  // On one straight line the middle is the mean, without the cancellation of two long integrals.
  if (points_until(times_s_, begin_s) == points_until(times_s_, end_s)) return (at(begin_s) + at(end_s)) / 2;
  return (integral_to(end_s) - integral_to(begin_s)) / (end_s - begin_s);
}

}  // namespace firstdraw::draw
