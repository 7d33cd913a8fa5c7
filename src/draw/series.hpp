// A quantity that varies with time: straight lines between points, held beyond the ends.
#pragma once

#include <span>
#include <vector>

namespace firstdraw::draw {

class Series {
 public:
  Series() = default;
  Series(double constant) : values_{constant} {}  // NOLINT: a constant is a series
  /// Rising times, as many values; throws std::logic_error otherwise.
  Series(std::vector<double> times_s, std::vector<double> values);
  bool empty() const { return values_.empty(); }
  bool constant() const { return values_.size() == 1; }
  double at(double time_s) const;
  /// Exact mean over [begin, end]; the value there when they are equal.
  double mean(double begin_s, double end_s) const;
  std::span<const double> times_s() const { return times_s_; }
  std::span<const double> values() const { return values_; }

 private:
  double integral_to(double time_s) const;
  std::vector<double> times_s_, values_, integral_;
};

}  // namespace firstdraw::draw
