#include "power/ladder.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace firstdraw::power {

namespace {

using piping::at;

constexpr std::size_t points = 5;  // per element, Gauss-Lobatto
constexpr std::size_t last = points - 1;
using Values = std::array<double, points>;
using Square = std::array<Values, points>;

/// Weights of the rule on [-1, 1]. Exact to degree 7.
constexpr Values weights{1.0 / 10, 49.0 / 90, 32.0 / 45, 49.0 / 90, 1.0 / 10};

/// Slope of the polynomial that is 1 at point j and 0 at the others, at point i.
double slope(const Values& x, std::size_t i, std::size_t j) {
  const auto product = [&](std::size_t a, std::size_t skipped) {
    double value = 1;
    for (std::size_t m = 0; m < points; ++m)
      if (m != a && m != skipped) value *= x[a] - x[m];
    return value;
  };
  if (i != j) return product(i, j) / product(j, j);
  double sum = 0;
  for (std::size_t m = 0; m < points; ++m)
    if (m != i) sum += 1 / (x[i] - x[m]);
  return sum;
}

/// Integrals over [-1, 1] of the products of slopes.
Square stiffness() {
  const double inner = std::sqrt(3.0 / 7);
  const Values x{-1, -inner, 0, inner, 1};
  Square k{};
  for (std::size_t a = 0; a < points; ++a)
    for (std::size_t b = 0; b < points; ++b)
      for (std::size_t q = 0; q < points; ++q) k[a][b] += weights[q] * slope(x, q, a) * slope(x, q, b);
  return k;
}

struct Element {
  std::size_t stretch = 0;
  std::size_t near = 0;  // point at its near end; its others are 4e+1 to 4e+4
  double length_m = 0;
  double siemens = 0;  // 2/(r h), which multiplies the stiffness
};

void check(std::span<const LadderStretch> tree, double feed_v) {
  if (!(feed_v > 0)) throw std::logic_error("a ladder needs a voltage at its feed");
  for (std::size_t s = 0; s < tree.size(); ++s) {
    const LadderStretch& stretch = tree[s];
    if (stretch.parent != piping::none && (stretch.parent < 0 || at(stretch.parent) >= s))
      throw std::logic_error("a stretch of a ladder comes before its parent");
    if (!(stretch.length_m > 0) || !(stretch.loop_ohm_per_m > 0) || !stretch.law)
      throw std::logic_error("a stretch of a ladder lacks length, resistance or law");
  }
}

class Solver {
 public:
  Solver(std::span<const LadderStretch> tree, double feed_v, const LadderOptions& options)
      : tree_(tree), feed_v_(feed_v), options_(options) {
    divide();
    const std::size_t count = last * elements_.size() + 1;
    fall_v_.assign(count, 0.0);
    step_v_.assign(count, 0.0);
    carried_.assign(count, {});
    blocks_.resize(elements_.size());
    drawn_.resize(elements_.size());
  }

  LadderResult solve() {
    LadderResult result;
    draw();
    while (!result.converged && result.iterations < options_.max_iterations) {
      ++result.iterations;
      eliminate();
      substitute();
      const double before_v = std::exchange(result.last_step_v, advance());
      result.converged = settled(before_v, result.last_step_v);
    }
    report(result);
    return result;
  }

 private:
  struct Block {
    Square a{};
    Values right{};
  };
  struct Carried {
    double a = 0, right = 0;  // what the branches beyond a point leave on it
  };
  struct Drawn {
    Values a{}, a_per_v{};  // leaving at the points of an element
  };

  std::size_t point(std::size_t e, std::size_t i) const { return i == 0 ? elements_[e].near : last * e + i; }
  /// Fall since the near end of the element: small numbers, so that short elements lose no digits.
  double along_v(std::size_t e, std::size_t i) const {
    return fall_v_[point(e, i)] - fall_v_[elements_[e].near];
  }
  double volts(std::size_t e, std::size_t i) const { return feed_v_ - fall_v_[point(e, i)]; }

  /// Within the tolerance, or so near that rounding keeps the steps from shrinking further.
  bool settled(double before_v, double step_v) const {
    constexpr double rounding_frac = 1e-10;
    return step_v <= options_.step_frac * feed_v_ ||
           (step_v <= rounding_frac * feed_v_ && step_v > 0.5 * before_v);
  }

  void divide() {
    far_point_.reserve(tree_.size());
    for (std::size_t s = 0; s < tree_.size(); ++s) {
      const LadderStretch& stretch = tree_[s];
      const double watts = std::abs(stretch.law(feed_v_).w_per_m);
      const double kl = std::sqrt(stretch.loop_ohm_per_m * watts) / feed_v_ * stretch.length_m;
      const double parts = std::max(1.0, std::ceil(kl / options_.element_kl - 1e-9));
      const double length_m = stretch.length_m / parts;
      std::size_t near = stretch.parent == piping::none ? 0 : far_point_[at(stretch.parent)];
      for (double part = 0; part < parts; ++part) {
        elements_.push_back({s, near, length_m, 2 / (stretch.loop_ohm_per_m * length_m)});
        near = last * elements_.size();
      }
      far_point_.push_back(near);
    }
  }

  /// Current per metre and its slope. Next to no voltage (1e-6 of the feed's) the cable is taken as a
  /// conductance, so that trial voltages below 0 have a meaning.
  std::pair<double, double> current(const OutputLaw& law, double volts) const {
    const double least_v = 1e-6 * feed_v_;
    if (volts < least_v) {
      const double conductance = law(least_v).w_per_m / (least_v * least_v);
      return {conductance * volts, conductance};
    }
    const Output output = law(volts);
    return {output.w_per_m / volts, (output.w_per_m_v - output.w_per_m / volts) / volts};
  }

  void draw() {
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      const OutputLaw& law = tree_[elements_[e].stretch].law;
      for (std::size_t i = 0; i < points; ++i) {
        const double share_m = 0.5 * elements_[e].length_m * weights[i];
        const auto [a_per_m, a_per_m_v] = current(law, volts(e, i));
        drawn_[e].a[i] = share_m * a_per_m;
        drawn_[e].a_per_v[i] = share_m * a_per_m_v;
      }
    }
  }

  /// Linearised K u = i(V_feed - u) of one element, with what lies beyond its far end.
  void assemble(std::size_t e) {
    Block& block = blocks_[e];
    for (std::size_t i = 0; i < points; ++i) {
      block.right[i] = drawn_[e].a[i];
      for (std::size_t j = 0; j < points; ++j) {
        block.a[i][j] = elements_[e].siemens * stiffness_[i][j];
        block.right[i] -= block.a[i][j] * along_v(e, j);
      }
      block.a[i][i] += drawn_[e].a_per_v[i];
    }
    block.a[last][last] += carried_[point(e, last)].a;
    block.right[last] += carried_[point(e, last)].right;
  }

  void eliminate() {
    std::fill(carried_.begin(), carried_.end(), Carried{});
    for (std::size_t e = elements_.size(); e-- > 0;) {
      assemble(e);
      Block& block = blocks_[e];
      for (std::size_t p = last; p > 0; --p)
        for (std::size_t i = 0; i < p; ++i) {
          const double factor = block.a[i][p] / block.a[p][p];
          for (std::size_t j = 0; j < p; ++j) block.a[i][j] -= factor * block.a[p][j];
          block.right[i] -= factor * block.right[p];
        }
      carried_[elements_[e].near].a += block.a[0][0];
      carried_[elements_[e].near].right += block.right[0];
    }
  }

  void substitute() {
    for (std::size_t e = 0; e < elements_.size(); ++e)
      for (std::size_t p = 1; p < points; ++p) {
        double value = blocks_[e].right[p];
        for (std::size_t j = 0; j < p; ++j) value -= blocks_[e].a[p][j] * step_v_[point(e, j)];
        step_v_[point(e, p)] = value / blocks_[e].a[p][p];
      }
  }

  /// Largest current missing at a point, A.
  double missing_a() {
    std::vector<double>& missing = scratch_;
    missing.assign(fall_v_.size(), 0.0);
    for (std::size_t e = 0; e < elements_.size(); ++e)
      for (std::size_t i = 0; i < points; ++i) {
        missing[point(e, i)] += drawn_[e].a[i];
        for (std::size_t j = 0; j < points; ++j)
          missing[point(e, i)] -= elements_[e].siemens * stiffness_[i][j] * along_v(e, j);
      }
    double largest = 0;
    for (std::size_t p = 1; p < missing.size(); ++p) largest = std::max(largest, std::abs(missing[p]));
    return largest;
  }

  double move(double share) {
    double largest_v = 0;
    for (std::size_t p = 1; p < fall_v_.size(); ++p) {
      fall_v_[p] += share * step_v_[p];
      largest_v = std::max(largest_v, std::abs(share * step_v_[p]));
    }
    draw();
    return largest_v;
  }

  /// The whole step; only where it is long and leaves more current missing than before, halves of it.
  double advance() {
    constexpr double long_step_frac = 0.05;
    constexpr int halvings = 12;
    double moved_v = std::abs(*std::max_element(
        step_v_.begin(), step_v_.end(), [](double a, double b) { return std::abs(a) < std::abs(b); }));
    if (moved_v <= long_step_frac * feed_v_) return move(1);
    const double before_a = missing_a();
    moved_v = move(1);
    double share = 1;
    for (int n = 0; n < halvings && !(missing_a() <= before_a); ++n) {
      share *= 0.5;
      move(-share);
      moved_v *= 0.5;
    }
    return moved_v;
  }

  void report(LadderResult& result) const {
    result.feed_v = result.lowest_v = feed_v_;
    result.stretches.resize(tree_.size());
    for (std::size_t e = elements_.size(); e-- > 0;) add_element(e, result.stretches[elements_[e].stretch]);
    for (std::size_t s = tree_.size(); s-- > 0;) {
      LadderFlow& flow = result.stretches[s];
      flow.far_v = feed_v_ - fall_v_[far_point_[s]];
      result.heater_w += flow.heater_w;
      result.bus_w += flow.bus_w;
      result.lowest_v = std::min(result.lowest_v, flow.far_v);
      const int parent = tree_[s].parent;
      (parent == piping::none ? result.total_a : result.stretches[at(parent)].entering_a) += flow.entering_a;
    }
    const double fed_w = feed_v_ * result.total_a;
    if (fed_w > 0) result.balance_frac = std::abs(fed_w - result.heater_w - result.bus_w) / fed_w;
  }

  void add_element(std::size_t e, LadderFlow& flow) const {
    for (std::size_t i = 0; i < points; ++i) {
      flow.entering_a += drawn_[e].a[i];
      flow.heater_w += drawn_[e].a[i] * volts(e, i);
      for (std::size_t j = 0; j < points; ++j)
        flow.bus_w += along_v(e, i) * elements_[e].siemens * stiffness_[i][j] * along_v(e, j);
    }
  }

  std::span<const LadderStretch> tree_;
  double feed_v_;
  LadderOptions options_;
  Square stiffness_ = stiffness();
  std::vector<Element> elements_;
  std::vector<std::size_t> far_point_;             // of each stretch
  std::vector<double> fall_v_, step_v_, scratch_;  // at each point; point 0 is the feed
  std::vector<Carried> carried_;
  std::vector<Block> blocks_;
  std::vector<Drawn> drawn_;
};

}  // namespace

OutputLaw power_law(double w_per_m, double at_volts, double exponent) {
  return [=](double volts) {
    const double watts = w_per_m * std::pow(volts / at_volts, exponent);
    return Output{watts, exponent * watts / volts};
  };
}

OutputLaw sheet_law(const physics::HeatingCable& cable, double pipe_c, double output_scale) {
  const double rated_v = cable.sheet().rated_voltage_v;
  const double rated_w_per_m =
      output_scale * cable.power_w_per_m(pipe_c, rated_v) / cable.voltage_factor(rated_v);
  return [&cable, rated_w_per_m](double volts) {
    constexpr double apart_v = 1e-3;
    const double rise = cable.voltage_factor(volts + apart_v) - cable.voltage_factor(volts - apart_v);
    return Output{rated_w_per_m * cable.voltage_factor(volts), rated_w_per_m * rise / (2 * apart_v)};
  };
}

OutputLaw model_law(const physics::CableModel& model, double pipe_c) {
  return [=](double volts) {
    const double watts = model.power_w_per_m(pipe_c, volts);
    return Output{watts, model.voltage_exponent(pipe_c, volts) * watts / volts};
  };
}

double FloatingPipe::pipe_c(double volts) const {
  const double a = w_per_m / (zero_c - reference_c) * std::pow(volts / at_volts, exponent);
  return (a * zero_c + loss_w_per_m_k * air_c) / (a + loss_w_per_m_k);
}

Output FloatingPipe::output(double volts) const {
  const double a = w_per_m / (zero_c - reference_c) * std::pow(volts / at_volts, exponent);
  const double watts = a * loss_w_per_m_k * (zero_c - air_c) / (a + loss_w_per_m_k);
  return {watts, exponent * loss_w_per_m_k / (a + loss_w_per_m_k) * watts / volts};
}

OutputLaw floating_law(const FloatingPipe& pipe) {
  return [pipe](double volts) { return pipe.output(volts); };
}

double settled_pipe_c(const OutputByPipe& w_per_m, double loss_w_per_m_k, double air_c, double volts) {
  if (!(loss_w_per_m_k > 0)) throw std::logic_error("a pipe that loses nothing does not settle");
  double cold_c = air_c;
  double warm_c = air_c + w_per_m(air_c, volts) / loss_w_per_m_k;
  for (double mid_c = 0.5 * (cold_c + warm_c); mid_c > cold_c && mid_c < warm_c;
       mid_c = 0.5 * (cold_c + warm_c))
    (w_per_m(mid_c, volts) > loss_w_per_m_k * (mid_c - air_c) ? cold_c : warm_c) = mid_c;
  return 0.5 * (cold_c + warm_c);
}

OutputLaw settled_law(OutputByPipe w_per_m, double loss_w_per_m_k, double air_c) {
  return [w_per_m = std::move(w_per_m), loss_w_per_m_k, air_c](double volts) {
    constexpr double apart_v = 1e-3;
    const auto watts = [&](double v) {
      return loss_w_per_m_k * (settled_pipe_c(w_per_m, loss_w_per_m_k, air_c, v) - air_c);
    };
    return Output{watts(volts), (watts(volts + apart_v) - watts(volts - apart_v)) / (2 * apart_v)};
  };
}

LadderResult solve_ladder(std::span<const LadderStretch> tree, double feed_v, const LadderOptions& options) {
  check(tree, feed_v);
  return Solver(tree, feed_v, options).solve();
}

}  // namespace firstdraw::power
