// From what was simulated to what it answers: results of members added up, then read off. Counts are whole
// numbers and everything is added in the order of the members, so the same members give the same bits.
#pragma once

#include <span>
#include <vector>

#include "forecast/forecast.hpp"
#include "physics/inactivation.hpp"

namespace firstdraw::forecast {

/// One control group over all members. A quarter hour counts when it was simulated to its end.
struct GroupTally {
  std::vector<double> quarter_kwh;  // by quarter hour from begin_s, summed over members
  std::vector<double> kw;           // mean of every quarter hour of every member
  double cycles = 0, on_s = 0;
  double lowest_reading_c = 0, highest_reading_c = 0;
};

/// What the members lived through.
struct Tally {
  double begin_s = 0, seconds = 0;      // seconds: of all members together
  std::vector<std::uint32_t> quarters;  // how many members lived through each quarter hour
  std::vector<draw::TapResult> taps;    // like scene.taps
  std::vector<draw::RunResult> runs;    // like scene.runs; mean_age_s is an age times seconds
  std::vector<GroupTally> groups;       // like scene.groups
  std::vector<double> building_kw;      // mean of all groups together, every quarter hour of every member
  draw::Balance balance;
  double heater_j = 0, lowest_supply_c = 0;

  void add(const draw::Result& member);
  double days() const { return seconds / draw::day_s; }
};

std::vector<OutletAnswer> outlet_answers(const draw::Scene& scene, const Tally& tally);
/// Runs of the job only: what happens in runouts is told by their taps.
std::vector<RunAnswer> run_answers(const draw::Scene& scene, const Tally& tally);
std::vector<GroupAnswer> group_answers(const Tally& tally);
BuildingAnswer building_answer(const Tally& tally);

/// The tap that is least often hot in 10 s; of equals the one that waits longest, then the first by name.
/// none when nothing was drawn.
int worst_tap(std::span<const OutletAnswer> outlets);

/// 5th, 50th and 95th percentile of single values, in any order; NaN when there are none.
Spread spread_of(std::vector<double> values);
/// Seconds from opening until hot over all draws: 0 when hot within the first second, straight within a
/// second after that, 120 for all that is later, infinity for draws that ended before they were hot.
Spread hot_after(const draw::TapResult& tap);
/// Tenfold reductions of free Legionella by a history of temperatures (physics::inactivation_sets()); each
/// half kelvin counts at its middle.
double log_reduction(const draw::TempSeconds& time_at, const physics::InactivationSet& set);

}  // namespace firstdraw::forecast
