#include "power/ladder.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "power/ladder_mesh.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

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
      : tree_(tree), feed_v_(feed_v), options_(options), cuts_(tree.size()) {
    divide();
  }

  /// Where a law bends inside an element the order is lost: elements are made to end there, and again until
  /// the places stay.
  LadderResult solve() {
    constexpr int most_rounds = 8;
    LadderResult result;
    iterate(result);
    for (int round = 0; round < most_rounds && result.converged; ++round) {
      Cuts cuts = bends();
      if (near(cuts, cuts_)) break;
      cuts_ = std::move(cuts);
      move_to_new_mesh();
      iterate(result);
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

  std::size_t point(std::size_t e, std::size_t i) const { return mesh_.point(e, i); }
  /// Fall since the near end of the element: small numbers, so that short elements lose no digits.
  double along_v(std::size_t e, std::size_t i) const {
    return fall_v_[point(e, i)] - fall_v_[mesh_.elements[e].near];
  }
  double volts(std::size_t e, std::size_t i) const { return feed_v_ - fall_v_[point(e, i)]; }

  /// Within the tolerance, or so near that rounding keeps the steps from shrinking further.
  bool settled(double before_v, double step_v) const {
    constexpr double rounding_frac = 1e-10;
    return step_v <= options_.step_frac * feed_v_ ||
           (step_v <= rounding_frac * feed_v_ && step_v > 0.5 * before_v);
  }

  void divide() {
    mesh_ = mesh_of(tree_, feed_v_, options_.element_kl, cuts_);
    fall_v_.assign(mesh_.points(), 0.0);
    step_v_.assign(mesh_.points(), 0.0);
    carried_.assign(mesh_.points(), {});
    blocks_.resize(mesh_.elements.size());
    drawn_.resize(mesh_.elements.size());
  }

  void iterate(LadderResult& result) {
    result.converged = false;
    result.last_step_v = 0;
    draw();
    for (int n = 0; !result.converged && n < options_.max_iterations; ++n) {
      ++result.iterations;
      eliminate();
      substitute();
      const double before_v = std::exchange(result.last_step_v, advance());
      result.converged = settled(before_v, result.last_step_v);
    }
  }

  Values falls(std::size_t e) const {
    Values values{};
    for (std::size_t i = 0; i < element_points; ++i) values[i] = fall_v_[point(e, i)];
    return values;
  }

  /// Where the cable passes voltages at which its law bends. Voltage falls along every stretch.
  Cuts bends() const {
    Cuts cuts(tree_.size());
    for (std::size_t s = 0; s < tree_.size(); ++s) {
      for (const double bend_v : tree_[s].bends_v) add_cut(s, feed_v_ - bend_v, cuts[s]);
      std::sort(cuts[s].begin(), cuts[s].end());
    }
    return cuts;
  }

  void add_cut(std::size_t s, double fall_v, std::vector<double>& cuts) const {
    constexpr double border_frac = 1e-6;  // of the stretch: what bends so near its ends does not matter
    const std::size_t first = mesh_.first[s], end = mesh_.first[s + 1];
    if (!(fall_v > fall_v_[point(first, 0)] && fall_v < fall_v_[mesh_.far_point[s]])) return;
    std::size_t e = first;
    while (e + 1 < end && fall_v_[point(e, element_last)] < fall_v) ++e;
    const double share = 0.5 * (1 + place_of(falls(e), fall_v));
    const double along_m = mesh_.elements[e].from_m + share * mesh_.elements[e].length_m;
    const double border_m = border_frac * tree_[s].length_m;
    if (along_m > border_m && along_m < tree_[s].length_m - border_m) cuts.push_back(along_m);
  }

  bool near(const Cuts& one, const Cuts& other) const {
    constexpr double near_frac = 1e-7;
    for (std::size_t s = 0; s < tree_.size(); ++s)
      if (!std::ranges::equal(one[s], other[s], [&](double a, double b) {
            return std::abs(a - b) <= near_frac * tree_[s].length_m;
          }))
        return false;
    return true;
  }

  /// Newton goes on from the falls found so far.
  void move_to_new_mesh() {
    const Mesh before = mesh_;
    const std::vector<double> found_v = fall_v_;
    divide();
    const Values places = element_places();
    for (std::size_t e = 0; e < mesh_.elements.size(); ++e) {
      const Element& element = mesh_.elements[e];
      for (std::size_t i = 1; i < element_points; ++i) {
        const double along_m = element.from_m + 0.5 * (1 + places[i]) * element.length_m;
        const std::size_t old = before.element_at(element.stretch, along_m);
        Values values{};
        for (std::size_t k = 0; k < element_points; ++k) values[k] = found_v[before.point(old, k)];
        const double share = (along_m - before.elements[old].from_m) / before.elements[old].length_m;
        fall_v_[point(e, i)] = polynomial_at(values, 2 * share - 1);
      }
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
    for (std::size_t e = 0; e < mesh_.elements.size(); ++e) {
      const OutputLaw& law = tree_[mesh_.elements[e].stretch].law;
      for (std::size_t i = 0; i < element_points; ++i) {
        const double share_m = 0.5 * mesh_.elements[e].length_m * element_weights[i];
        const auto [a_per_m, a_per_m_v] = current(law, volts(e, i));
        drawn_[e].a[i] = share_m * a_per_m;
        drawn_[e].a_per_v[i] = share_m * a_per_m_v;
      }
    }
  }

  /// Linearised K u = i(V_feed - u) of one element, with what lies beyond its far end.
  void assemble(std::size_t e) {
    Block& block = blocks_[e];
    for (std::size_t i = 0; i < element_points; ++i) {
      block.right[i] = drawn_[e].a[i];
      for (std::size_t j = 0; j < element_points; ++j) {
        block.a[i][j] = mesh_.elements[e].siemens * stiffness_[i][j];
        block.right[i] -= block.a[i][j] * along_v(e, j);
      }
      block.a[i][i] += drawn_[e].a_per_v[i];
    }
    block.a[element_last][element_last] += carried_[point(e, element_last)].a;
    block.right[element_last] += carried_[point(e, element_last)].right;
  }

  void eliminate() {
    std::fill(carried_.begin(), carried_.end(), Carried{});
    for (std::size_t e = mesh_.elements.size(); e-- > 0;) {
      assemble(e);
      Block& block = blocks_[e];
      for (std::size_t p = element_last; p > 0; --p)
        for (std::size_t i = 0; i < p; ++i) {
          const double factor = block.a[i][p] / block.a[p][p];
          for (std::size_t j = 0; j < p; ++j) block.a[i][j] -= factor * block.a[p][j];
          block.right[i] -= factor * block.right[p];
        }
      carried_[mesh_.elements[e].near].a += block.a[0][0];
      carried_[mesh_.elements[e].near].right += block.right[0];
    }
  }

  void substitute() {
    for (std::size_t e = 0; e < mesh_.elements.size(); ++e)
      for (std::size_t p = 1; p < element_points; ++p) {
        double value = blocks_[e].right[p];
        for (std::size_t j = 0; j < p; ++j) value -= blocks_[e].a[p][j] * step_v_[point(e, j)];
        step_v_[point(e, p)] = value / blocks_[e].a[p][p];
      }
  }

  /// Largest current missing at a point, A.
  double missing_a() {
    std::vector<double>& missing = scratch_;
    missing.assign(fall_v_.size(), 0.0);
    for (std::size_t e = 0; e < mesh_.elements.size(); ++e)
      for (std::size_t i = 0; i < element_points; ++i) {
        missing[point(e, i)] += drawn_[e].a[i];
        for (std::size_t j = 0; j < element_points; ++j)
          missing[point(e, i)] -= mesh_.elements[e].siemens * stiffness_[i][j] * along_v(e, j);
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
    for (std::size_t e = mesh_.elements.size(); e-- > 0;)
      add_element(e, result.stretches[mesh_.elements[e].stretch]);
    for (std::size_t s = tree_.size(); s-- > 0;) {
      LadderFlow& flow = result.stretches[s];
      flow.far_v = feed_v_ - fall_v_[mesh_.far_point[s]];
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
    for (std::size_t i = 0; i < element_points; ++i) {
      flow.entering_a += drawn_[e].a[i];
      flow.heater_w += drawn_[e].a[i] * volts(e, i);
      for (std::size_t j = 0; j < element_points; ++j)
        flow.bus_w += along_v(e, i) * mesh_.elements[e].siemens * stiffness_[i][j] * along_v(e, j);
    }
  }

  std::span<const LadderStretch> tree_;
  double feed_v_;
  LadderOptions options_;
  Square stiffness_ = element_stiffness();
  Cuts cuts_;
  Mesh mesh_;
  std::vector<double> fall_v_, step_v_, scratch_;  // at each point; point 0 is the feed
  std::vector<Carried> carried_;
  std::vector<Block> blocks_;
  std::vector<Drawn> drawn_;
};

}  // namespace

bool has_steady_state(const LadderResult& found) {
  constexpr double dead_frac = 1e-3;
  return found.converged && found.lowest_v > dead_frac * found.feed_v;
}

LadderResult solve_ladder(std::span<const LadderStretch> tree, double feed_v, const LadderOptions& options) {
  check(tree, feed_v);
  return Solver(tree, feed_v, options).solve();
}

}  // namespace firstdraw::power
