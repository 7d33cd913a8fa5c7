// Several groups behind one meter: prices on the common peak give a bound and schedules, one group after the
// other then moves out of the way of the rest. Part of optimise.cpp.
#pragma once

#include <memory>

#include "week/optimise.hpp"
#include "week/optimise_cycle.hpp"

namespace firstdraw::week {

/// The searches of one group: for schedules, and for a bound where that is another one.
struct GroupSearch {
  std::unique_ptr<CycleSearch> schedule, relaxed;
};

struct Together {
  std::vector<Trajectory> runs;  // empty: not possible
  double cost = no_cost, bound = 0;
};

Together with_common_peak(const WeekTask& task, const std::vector<GroupSearch>& searches,
                          const std::vector<double>& other_load_w, const Effort& effort, Watch& watch);

}  // namespace firstdraw::week
