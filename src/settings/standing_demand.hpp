// What the job asks of the water in every heated pipe at all times, as the full simulation can see it.
#pragma once

#include <limits>

#include "draw/simulate.hpp"
#include "job/job.hpp"

namespace firstdraw::settings {

struct StandingDemand {
  double below_c = -std::numeric_limits<double>::infinity();  // the guideline's temperature in pipes
  double most_below_s = std::numeric_limits<double>::infinity();
  double most_in_band_s = std::numeric_limits<double>::infinity();  // on end, the user's wish
};
StandingDemand standing_demand_of(const job::Job& job);

/// A colder slug that is only passing through, on its way from an untraced pipe to a tap, is no run that was
/// not held. One minute, as the guidelines that name a time allow at a tap (HSG274 Part 2; our reading).
inline constexpr double passing_s = 60;

/// By the coldest cell of the run, over the week that was lived.
bool kept(const StandingDemand& demand, const draw::RunResult& run);

}  // namespace firstdraw::settings
