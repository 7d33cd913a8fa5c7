// An invented building of any size for the network in time: risers off one main, at every level a few tap
// groups, each at the end of a branch and of an untraced runout of its own. Every figure is invented, of the
// size found in such buildings.
#pragma once

#include <cstdint>

#include "draw/demand.hpp"
#include "draw/scene.hpp"

namespace firstdraw::bench {

struct BuildingSize {
  int risers = 4, levels = 10, groups_per_level = 3;
  /// Default: 1272 m of pipe; nine metres and its share of riser and main to a tap group.
  int tap_groups() const { return risers * levels * groups_per_level; }
};

/// Thermostats on every riser, or all cable at a fixed share of its output, which makes the answer the same
/// to the last bit whichever way a method rounds a reading.
enum class Control { thermostat, fixed_share };

/// Cells of about `cell_m`. Every sixth branch is not traced, so that sharp fronts run into cool pipe.
draw::Scene invented_building(const BuildingSize& size, Control control, double cell_m = 1);

struct DrawHabits {
  double per_day = 40;  // at each tap, one in each equal part of the day
  std::uint64_t seed = 1;
};
/// Whole seconds, so that methods of one-second steps need no extra ones. Evenly over the day: any hour
/// stands for any other.
std::vector<draw::Draw> invented_draws(const draw::Scene& scene, double end_s, const DrawHabits& habits = {});

int cells_of(const draw::Scene& scene);
double length_m(const draw::Scene& scene);

}  // namespace firstdraw::bench
