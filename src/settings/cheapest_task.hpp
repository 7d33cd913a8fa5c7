// From a group and what is asked of it to the task of the exact search: set-points that can be keyed in, the
// grid of temperatures they lie on, and the needs of all runs as needs of the sensor's run. Part of
// cheapest.cpp.
#pragma once

#include <expected>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "settings/cheapest.hpp"

namespace firstdraw::settings {

/// The set-points of a group that its controller can be given, in water of the sensor's run: readings are
/// whole multiples of the controller's step in the job's unit.
struct KeyedIn {
  double first_c = 0, step_k = 1;

  /// A thousandth of a step beside one counts as there.
  double at_or_above(double c) const;
  double at_or_below(double c) const;
};
KeyedIn keyed_in(const job::Job& job, const GroupModel& model);

/// What all runs ask of the sensor's run, as if the group were always at rest: before anything is raised.
struct SensorNeeds {
  week::Needs needs;                // of the temperature of the sensor's run
  std::vector<double> set_least_c;  // by step: the set-point that keeps it at rest; -infinity: nothing asked
  std::optional<double> set_band_c, set_hot_c;
};
/// The error is one sentence: whose demand no set-point can meet.
std::expected<SensorNeeds, std::string> sensor_needs(const job::Job& job, const GroupModel& model,
                                                     const GroupNeeds& needs, const SearchOptions& options);

/// Set-points worth trying, rising: off, the least that holds at all times, what the comfort hours ask (at
/// most four), top of the band, hot hold, two above for heating ahead.
std::vector<double> candidates_c(const job::Job& job, const GroupModel& model, const SensorNeeds& asked);

week::GroupTask group_task(const job::Job& job, const GroupModel& model, const SensorNeeds& asked,
                           std::vector<double> set_points_c, const SearchOptions& options);

week::Days days_of(const job::Job& job, double step_s);
/// Prices of a season by the search's own step: the mean of what a step covers.
week::Prices prices_by_step(const SeasonOfYear& season, double step_s);

/// The task with some of its set-points only; indices rise.
week::GroupTask only_set_points(const week::GroupTask& task, const std::vector<int>& kept);

}  // namespace firstdraw::settings
