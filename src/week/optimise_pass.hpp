// One dynamic program over a stretch of days, backwards in time, for all begins and ends in a box at once.
// Part of optimise.cpp.
#pragma once

#include <algorithm>
#include <array>
#include <limits>
#include <vector>

#include "week/optimise_nodes.hpp"

namespace firstdraw::week {

inline constexpr double no_cost = std::numeric_limits<double>::infinity();

/// What holds at midnight: set-point in force, temperature, steps in the band.
using MidnightKey = std::array<int, 3>;

struct KeyBox {
  MidnightKey low{}, high{};  // both inside

  bool has(const MidnightKey& key) const {
    for (std::size_t i = 0; i < key.size(); ++i)
      if (key[i] < low[i] || key[i] > high[i]) return false;
    return true;
  }
};

/// What the steps ask and cost.
struct StepTerms {
  std::vector<double> price_per_j, most_energy_j;
  std::vector<int> least;  // index of the grid
};

struct PassResult {
  double cost = no_cost;
  MidnightKey begin{}, end{};
  std::vector<int> set_points;
};

class Pass {
 public:
  /// `day_step`: steps of a day; `hot_hold`: it must be kept in this pass.
  Pass(const Nodes& nodes, const Automaton& automaton, const ControllerLimits& limits, int day_steps,
       bool hot_hold);

  /// The cheapest way from any key of the box to any key of it, less the worth of what it begins with, plus
  /// the worth of what it ends with: whatever the worths, a bound for the ways that end as they begin.
  /// `worth` by [set_point * nodes + node]: cost still to come from there on.
  PassResult cheapest(const StepTerms& terms, const KeyBox& box, const std::vector<double>& worth);
  /// Of the last `cheapest`: what its begins are worth.
  std::vector<double> worth() const;

 private:
  void end_values(const KeyBox& box, const std::vector<double>& worth);
  void step_back(const StepTerms& terms, int k);
  void gather(const StepTerms& terms, int k, int set_point);
  void change(int k);
  void keep(std::size_t first, std::size_t nodes, int used);
  void change_block(std::size_t first, std::size_t nodes, int used);
  void change_far(std::size_t first, std::size_t nodes, int used);
  void forget();
  void put(int k, std::size_t first, std::size_t nodes, int used);
  PassResult follow(const KeyBox& box, int steps, const std::vector<double>& worth) const;
  const std::vector<int>& leading(int k) const {
    return (k + 1) % day_steps_ == 0 ? nodes_.to_midnight : nodes_.to;
  }
  MidnightKey key(int set_point, int node) const;
  double* best(int set_point) { return &best_[static_cast<std::size_t>(set_point) * block]; }
  double* best_to(int set_point) { return &best_to_[static_cast<std::size_t>(set_point) * block]; }
  bool may_change(int from, int to) const {
    return allowed_[static_cast<std::size_t>(from * nodes_.set_points + to)] != 0;
  }
  std::size_t row(int set_point, int used) const {
    return static_cast<std::size_t>(set_point * uses_ + used) * width_;
  }

  const Nodes& nodes_;
  int begin_every_, day_steps_, uses_;
  bool any_change_;  // between all set-points
  bool hot_hold_;
  std::size_t width_;          // nodes, and one that stands for what is forbidden
  std::vector<char> allowed_;  // changes of set-point
  std::vector<double> value_, moved_;
  std::vector<double> price_;  // by node: of a step with one set-point
  // Of a block of nodes: the best there is and the set-point that leads to it, by set-point in force; and
  // the best of those to change to. Set-points are counted as doubles, so that both are chosen alike.
  static constexpr std::size_t block = 64;
  std::vector<double> best_, best_to_;
  double changed_[block] = {}, changed_to_[block] = {};
  std::vector<unsigned char> choice_;  // by step, set-point in force, changes used, node
};

}  // namespace firstdraw::week
