// The cheapest cycle of one group for given prices and most energies of every step: branch and bound over
// what holds at midnight. Part of optimise.cpp.
#pragma once

#include <functional>

#include "week/optimise_pass.hpp"

namespace firstdraw::week {

struct Cycle {
  double cost = no_cost;  // at the prices asked
  std::vector<int> set_points;
  int from_temperature = 0;
  double bound = no_cost;  // nothing costs less; with a cutoff: of what was looked for
};

/// One way of every program through a box of keys, and what they cost together.
struct PassesFound {
  double bound = no_cost;
  KeyBox box;
  std::vector<PassResult> passes;
};

/// Of a whole optimum: how much of it is done, and whether it is still wanted.
struct Watch {
  std::function<bool(double done_frac)> progress{};
  double done_frac = 0;

  bool go_on() const { return !progress || progress(done_frac); }
};

class CycleSearch {
 public:
  /// How the days hang together. chain: one after the other, every day free; exact where each day is its own
  /// program, a bound else. hub: every day begins as it ends, one dynamic program for each program of the
  /// days; exact where all days follow one program (docs/week.md), else a restriction.
  enum class Form { chain, hub };

  CycleSearch(const GroupTask& task, const Days& days, Form form, const Watch& watch);

  /// No cost where none is cheaper than `cutoff`. Stops where cost and bound lie closer than `gap_frac` of
  /// the cost. Arrays of `terms` over all days.
  Cycle cheapest(const StepTerms& terms, double cutoff = no_cost, double gap_frac = 0) const;
  /// By step of all days: `needs.least_c` on the grid.
  const std::vector<int>& least() const { return least_; }

 private:
  Cycle with_hot_hold_in(int program, const StepTerms& terms, double cutoff, double gap_frac) const;
  std::vector<StepTerms> folded(const StepTerms& terms) const;
  std::vector<double> worth_of(std::vector<Pass>& passes, const std::vector<StepTerms>& parts) const;
  KeyBox everything() const;
  Cycle unfolded(const PassesFound& found) const;

  Nodes nodes_;
  const GroupTask& task_;
  const Days& days_;
  Form form_;
  const Watch& watch_;
  std::vector<int> least_;
};

}  // namespace firstdraw::week
