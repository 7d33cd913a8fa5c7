// One group with demand charges: branch and bound over the caps on its peaks. Part of optimise.cpp.
#pragma once

#include "week/optimise.hpp"
#include "week/optimise_cycle.hpp"

namespace firstdraw::week {

struct PeakTask {
  const Prices& prices;
  double step_s = 0;
  std::vector<double> other_load_w;  // by step
};

struct PeakFound {
  Cycle cycle;  // no cost: none below the cutoff
  Trajectory run;
  double cost = no_cost;  // energy and what the group adds to the demand charge
  double bound = 0;
};

/// `gap_frac` of the cost: where to stop. `cutoff`: only what costs less is wanted.
PeakFound with_demand(const CycleSearch& search, const Automaton& automaton, const PeakTask& task,
                      const Effort& effort, double cutoff = no_cost);

}  // namespace firstdraw::week
