// The cheapest week of every group for the prices of a season: needs of runs turned into least temperatures
// of the sensor's run, the exact search over the reduced model (week/optimise.hpp), every run lived through
// in lumps, and the least temperatures raised where a run would have missed its own, until none does.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "settings/group_model.hpp"
#include "settings/needs.hpp"
#include "settings/prices.hpp"
#include "settings/timetable.hpp"
#include "week/optimise.hpp"

namespace firstdraw::settings {

struct SearchOptions {
  double step_s = 1800, grid_k = 0.1;
  int threads = 2;
  int rounds = 10;  // of raising
  week::Effort effort{.gap_frac = 2e-3, .most_searches = 400, .rounds = 12, .threads = 2};
};

struct CheapestWeek {
  week::WeekTask task;       // as it was in the last round
  week::WeekPlan plan;       // over the season's days
  Timetable timetable;       // set-points are readings, rounded up to the controller's step
  std::vector<Lived> lived;  // like models
  int rounds = 0;
  double raised_k = 0;   // most that a least temperature was raised by
  bool settled = false;  // false: some run still misses its least by `missed_k`
  double missed_k = 0;
  std::string missed_run;
  /// Of the first round, before anything was raised: no schedule that keeps the needs in the steady model
  /// costs less.
  double bound = 0;
};

/// Not possible: plan.possible is false and plan.impossible says what was asked in vain.
CheapestWeek cheapest_week(const job::Job& job, std::span<const GroupModel> models,
                           std::span<const GroupNeeds> needs, const SeasonOfYear& season,
                           const SearchOptions& options = {});

}  // namespace firstdraw::settings
