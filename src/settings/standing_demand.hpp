// What the job asks of the water in every heated pipe at all times, as the full simulation can see it.
#pragma once

#include <limits>

#include "draw/simulate.hpp"
#include "job/job.hpp"

namespace firstdraw::settings {

/// Draws bring cold water out of untraced pipe into a heated run, and there it stays until the cable has
/// warmed it: no set-point prevents that. "At all times" is taken as all but this share of the week, for the
/// run's mean (our choice, no source); the findings of the forecast speak of untraced pipe.
inline constexpr double seldom_frac = 0.05;

struct StandingDemand {
  double below_c = -std::numeric_limits<double>::infinity();        // the guideline's temperature in pipes
  double most_below_frac = 1;                                       // of the week, the run's mean
  double most_below_s = std::numeric_limits<double>::infinity();    // on end, the run's coldest cell
  double most_in_band_s = std::numeric_limits<double>::infinity();  // on end, the user's wish
};
StandingDemand standing_demand_of(const job::Job& job);

/// Over the week that was lived. A thermostat holds its set-point on average: `swing_k` below it is part of
/// holding.
bool kept(const StandingDemand& demand, const draw::RunResult& run, double swing_k);
/// Share of the week that the run's mean is colder.
double share_below(const draw::RunResult& run, double water_c);

}  // namespace firstdraw::settings
