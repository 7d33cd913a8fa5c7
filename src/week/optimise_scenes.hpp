// Invented groups, prices and rules for the tests of the optimiser, drawn by a seed.
#pragma once

#include <algorithm>
#include <random>

#include "week/optimise.hpp"

namespace firstdraw::week {

/// Cools towards the air at a rate, is heated by a cable that gives less when warm.
struct LinearPipe {
  double air_c = 20, cooling_s = 36000;  // time constant
  double heating_k_per_s = 0.003, fade_per_k = 0.008, power_w = 2000;

  double fade(double c) const { return 1 - fade_per_k * (c - 20); }
  ThermalLaw law() const {
    return {[*this](double c) { return (c - air_c) / cooling_s; },
            [*this](double c) { return heating_k_per_s * fade(c) - (c - air_c) / cooling_s; },
            [*this](double c) { return power_w * fade(c); }};
  }
};

struct SceneSize {
  int steps_a_day = 4;
  std::vector<int> program_of_day = {0, 1};
  int set_points = 3, groups = 1, windows = 0;
  double step_s = 3600, grid_k = 2;
  bool band = false, hot_hold = false;
};

class SceneMaker {
 public:
  SceneMaker(unsigned seed, const SceneSize& size) : size_(size), random_(seed) {}

  WeekTask make() {
    WeekTask task;
    task.days = {size_.steps_a_day, size_.program_of_day};
    for (int g = 0; g < size_.groups; ++g) task.groups.push_back(group(task.days.steps()));
    for (int k = 0; k < task.days.steps(); ++k) task.prices.per_kwh.push_back(between(0.5, 5));
    for (int w = 0; w < size_.windows; ++w) {
      DemandPrice demand{between(0.5, 12), {}};
      for (int k = 0; k < task.days.steps(); ++k) demand.in_window.push_back(chance(0.6) ? 1 : 0);
      task.prices.demand.push_back(demand);
    }
    if (size_.windows > 0 && chance(0.5))
      for (int k = 0; k < task.days.steps(); ++k) task.other_load_w.push_back(between(0, 1500));
    return task;
  }

 private:
  double between(double low, double high) { return std::uniform_real_distribution(low, high)(random_); }
  bool chance(double share) { return between(0, 1) < share; }

  GroupTask group(int steps) {
    const LinearPipe pipe{between(18, 22), between(12000, 40000), between(0.002, 0.006), between(0, 0.012),
                          between(500, 4000)};
    std::vector<double> set_points_c = {cable_off_c, 40, 50, 44, 56, 60};
    set_points_c.resize(static_cast<std::size_t>(size_.set_points));
    std::ranges::sort(set_points_c);
    GroupTask made;
    made.automaton = reduce(pipe.law(), {16, size_.grid_k, static_cast<int>(44 / size_.grid_k) + 1},
                            size_.step_s, set_points_c);
    for (int k = 0; k < steps; ++k) made.needs.least_c.push_back(chance(0.3) ? between(30, 47) : 16);
    made.limits = {chance(0.3) ? 1 : 2, chance(0.3) ? 2 : 1, chance(0.3) ? 8.0 : 0.0};
    if (size_.band) made.needs.band = {chance(0.5) ? 25 : cable_off_c, 42, chance(0.5) ? 2 : 3};
    if (size_.hot_hold) made.needs.hot_hold = {48, chance(0.5) ? 1 : 2};
    return made;
  }

  SceneSize size_;
  std::mt19937 random_;
};

}  // namespace firstdraw::week
