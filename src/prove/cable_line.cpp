#include "prove/cable_line.hpp"

#include <cmath>
#include <stdexcept>

#include "power/circuit_cable.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

/// Seen at the near end of a stretch whose far end is closed by `load_s`, infinite where it is joined.
double entering_s(const LineMetre& metre, double length_m, double load_s) {
  const double loop_ohm = metre.loop_ohm_per_m * length_m;
  if (!(metre.core_s_per_m > 0)) return 1 / (loop_ohm + 1 / load_s);
  const double wave_s = std::sqrt(metre.core_s_per_m / metre.loop_ohm_per_m);
  const double fall = std::tanh(length_m * std::sqrt(metre.loop_ohm_per_m * metre.core_s_per_m));
  if (std::isinf(load_s)) return wave_s / fall;
  return wave_s * (load_s + wave_s * fall) / (wave_s + load_s * fall);
}

double tree_ohm(std::span<const LineStretch> tree, const LineMetre& metre, Ends ends, double scale) {
  std::vector<double> load_s(tree.size(), 0);
  std::vector<bool> is_end(tree.size(), true);
  for (const LineStretch& stretch : tree)
    if (stretch.parent != piping::none) is_end[at(stretch.parent)] = false;
  double feed_s = 0;
  for (std::size_t s = tree.size(); s-- > 0;) {
    if (is_end[s] && ends == Ends::joined) load_s[s] = std::numeric_limits<double>::infinity();
    const double seen_s = entering_s(metre, scale * tree[s].length_m, load_s[s]);
    (tree[s].parent == piping::none ? feed_s : load_s[at(tree[s].parent)]) += seen_s;
  }
  return 1 / feed_s;
}

constexpr double least_scale = 0.01, most_scale = 10;

/// Where a function that rises with x passes 0, by halving (in the logarithm, for x over decades).
template <class F>
std::optional<double> rising_zero(F f, double low, double high) {
  if (!(f(low) <= 0) || !(f(high) >= 0)) return std::nullopt;
  for (int round = 0; round < 200 && high / low > 1 + 1e-14; ++round) {
    const double middle = std::sqrt(low * high);
    (f(middle) <= 0 ? low : high) = middle;
  }
  return std::sqrt(low * high);
}

/// The core with which the scaled tree shows `open_ohm` with its ends open.
std::optional<double> core_from_open(std::span<const LineStretch> tree, double loop_ohm_per_m,
                                     double open_ohm, double scale) {
  return rising_zero(
      [&](double core) { return open_ohm - tree_ohm(tree, {loop_ohm_per_m, core}, Ends::open, scale); },
      1e-12, 1e3);
}

}  // namespace

double line_ohm(std::span<const LineStretch> tree, const LineMetre& metre, Ends ends) {
  if (tree.empty()) throw std::logic_error("a cable without length has no resistance");
  return tree_ohm(tree, metre, ends, 1);
}

std::optional<double> scale_from_short(std::span<const LineStretch> tree, const LineMetre& metre,
                                       double short_ohm) {
  return rising_zero([&](double scale) { return tree_ohm(tree, metre, Ends::joined, scale) - short_ohm; },
                     least_scale, most_scale);
}

std::optional<double> scale_from_both(std::span<const LineStretch> tree, double loop_ohm_per_m,
                                      double short_ohm, double open_ohm) {
  if (!(open_ohm > short_ohm)) return std::nullopt;
  return rising_zero(
      [&](double scale) {
        const auto core = core_from_open(tree, loop_ohm_per_m, open_ohm, scale);
        // So long that the open ends already show less: too long.
        return core ? tree_ohm(tree, {loop_ohm_per_m, *core}, Ends::joined, scale) - short_ohm : 1.0;
      },
      least_scale, most_scale);
}

CircuitLine circuit_line(const plan::Plan& plan, const power::Circuit& circuit) {
  std::vector<double> length_m;
  for (const int run : circuit.runs) length_m.push_back(plan.runs[at(run)].cable_length_m);
  const auto cable = power::circuit_cable(plan.network, circuit.runs, length_m, circuit.feed_node);
  CircuitLine line;
  for (std::size_t s = 0; s < cable.stretches.size(); ++s) {
    line.stretches.push_back({cable.stretches[s].parent, cable.stretches[s].length_m});
    line.run.push_back(circuit.runs[at(cable.run_position[s])]);
    line.length_m += cable.stretches[s].length_m;
  }
  line.branches = cable.end_nodes.size() > 1;
  return line;
}

int run_at(const CircuitLine& line, double length_m) {
  double passed_m = 0;
  for (std::size_t s = 0; s < line.stretches.size(); ++s) {
    passed_m += line.stretches[s].length_m;
    if (length_m <= passed_m) return line.run[s];
  }
  return piping::none;
}

double core_s_per_m(const physics::CableSheet& sheet, double cable_c) {
  const physics::CableModel model = physics::fit_cable(sheet).model;
  return 1 / (model.core_ohm_m * std::exp(model.beta_per_k * (cable_c - model.reference_c)));
}

}  // namespace firstdraw::prove
