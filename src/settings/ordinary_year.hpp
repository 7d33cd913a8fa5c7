// What controllers read in a year in which nothing is wrong.
#pragma once

#include <vector>

#include "forecast/ensemble.hpp"
#include "settings/lab.hpp"

namespace firstdraw::settings {

/// Readings are kept this often.
inline constexpr double alarm_step_s = 60;

/// By group, like job.groups.
struct OrdinaryGroup {
  std::vector<std::vector<float>>
      reading_c;                        // [week][sample]; empty weeks: no sensor that the controller heeds
  double coldest_c = 0, hottest_c = 0;  // water in its heated runs
  double longest_rest_s = 0;            // without a call for heat
};
struct OrdinaryYear {
  int weeks = 0;
  std::vector<OrdinaryGroup> groups;
};

/// Every week has its own draws. Every second week is of the nominal building, the others each of one that
/// differs by its tolerances (forecast::variations). Weeks do not follow each other: each is run in for a
/// day. Tasks 0 ... weeks - 1 of `progress`.
OrdinaryYear live_ordinary(const Lab& lab, const ProofOptions& options, int weeks,
                           forecast::SharedProgress& progress);

/// The group's controller goes by a sensor.
bool heeds_sensor(const draw::SceneGroup& group);

/// Column of one group in records laid out by group.
std::vector<float> column(const std::vector<float>& table, std::size_t groups, int group);

}  // namespace firstdraw::settings
