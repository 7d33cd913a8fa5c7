// A function of one variable as cubics on equal cells, each cell checked against the function when it is
// built. Cells that miss the tolerance (a law that changes branch, a kink, a root at zero) are left empty,
// and the caller then asks the function itself. So the table is fast where it is right and absent where it is
// not.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

namespace firstdraw::hold {

struct CurveSample {
  double value = 0, slope = 0;
};

class CheckedCurve {
 public:
  CheckedCurve() = default;

  /// `function` on [low, high) in `cells` equal cells; `tolerance` is relative to the value at the check
  /// points.
  template <class Function>
  CheckedCurve(double low, double high, int cells, double tolerance, const Function& function)
      : low_(low), per_cell_(cells / (high - low)), count_(cells) {
    cells_.reserve(static_cast<std::size_t>(cells));
    for (int i = 0; i < cells; ++i) cells_.push_back(checked_cell(low + i / per_cell_, tolerance, function));
  }

  /// False where the table has nothing to say; `sample` is then unset.
  bool find(double at, CurveSample& sample) const {
    const double s = (at - low_) * per_cell_;
    if (!(s >= 0 && s < count_)) return false;
    const int i = static_cast<int>(s);
    const Cell& c = cells_[static_cast<std::size_t>(i)];
    const double t = s - i;
    sample.value = c[0] + t * (c[1] + t * (c[2] + t * c[3]));
    sample.slope = per_cell_ * (c[1] + t * (2 * c[2] + t * 3 * c[3]));
    return !std::isnan(sample.value);
  }

  /// No kink anywhere.
  bool is_whole() const {
    return count_ > 0 && std::ranges::none_of(cells_, [](const Cell& cell) { return std::isnan(cell[0]); });
  }

  /// Between two places of one cell that is not empty the function has no kink.
  bool share_cell(double a, double b) const {
    const double from = (a - low_) * per_cell_;
    return from >= 0 && from < count_ && static_cast<int>(from) == std::floor((b - low_) * per_cell_) &&
           !std::isnan(cells_[static_cast<std::size_t>(from)][0]);
  }

 private:
  using Cell = std::array<double, 4>;

  /// The cubic through four equally spaced points of the cell, in t from 0 to 1; NaN when it misses between
  /// them.
  template <class Function>
  Cell checked_cell(double start, double tolerance, const Function& function) const {
    const auto f = [&](double t) { return function(start + t / per_cell_); };
    const double f0 = f(0), f1 = f(1.0 / 3), f2 = f(2.0 / 3), f3 = f(1);
    const Cell cell{f0, (-11 * f0 + 18 * f1 - 9 * f2 + 2 * f3) / 2, 9 * (2 * f0 - 5 * f1 + 4 * f2 - f3) / 2,
                    9 * (-f0 + 3 * f1 - 3 * f2 + f3) / 2};
    for (const double t : {1.0 / 12, 0.5, 11.0 / 12}) {
      const double exact = f(t), cubic = cell[0] + t * (cell[1] + t * (cell[2] + t * cell[3]));
      if (!(std::abs(cubic - exact) <= tolerance * std::abs(exact))) return empty();
    }
    return cell;
  }

  static Cell empty() {
    Cell cell;
    cell.fill(std::numeric_limits<double>::quiet_NaN());
    return cell;
  }

  double low_ = 0, per_cell_ = 0;
  int count_ = 0;
  std::vector<Cell> cells_;
};

/// Slope by central difference, for where a table is empty.
template <class Function>
CurveSample sample_directly(double at, const Function& function) {
  const double step = 1e-5 * std::max(1e-3, std::abs(at));
  return {function(at), (function(at + step) - function(at - step)) / (2 * step)};
}

}  // namespace firstdraw::hold
