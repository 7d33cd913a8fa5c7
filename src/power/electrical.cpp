#include "power/electrical.hpp"

#include <algorithm>
#include <numbers>
#include <vector>

namespace firstdraw::power {

double far_drop_v(std::span<const Stretch> tree, double loop_ohm_per_m) {
  std::vector<double> beyond_a(tree.size(), 0.0);
  for (std::size_t s = tree.size(); s-- > 0;)
    if (tree[s].parent != piping::none)
      beyond_a[static_cast<std::size_t>(tree[s].parent)] +=
          beyond_a[s] + tree[s].current_a_per_m * tree[s].length_m;

  std::vector<double> drop_v(tree.size(), 0.0);
  double largest_v = 0;
  for (std::size_t s = 0; s < tree.size(); ++s) {
    const double length_m = tree[s].length_m;
    const double start_v =
        tree[s].parent == piping::none ? 0.0 : drop_v[static_cast<std::size_t>(tree[s].parent)];
    drop_v[s] =
        start_v + loop_ohm_per_m * length_m * (beyond_a[s] + 0.5 * tree[s].current_a_per_m * length_m);
    largest_v = std::max(largest_v, drop_v[s]);
  }
  return largest_v;
}

double copper_resistance_at(double at_20c, double temp_c) { return at_20c * (1 + 0.00393 * (temp_c - 20)); }

double standing_leakage_a(double capacitance_f_per_m, double length_m, double voltage_v,
                          double frequency_hz) {
  return 2 * std::numbers::pi * frequency_hz * 0.5 * capacitance_f_per_m * length_m * voltage_v;
}

}  // namespace firstdraw::power
