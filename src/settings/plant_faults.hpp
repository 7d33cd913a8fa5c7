// Faults that begin at different times of the week, lived through: what the controllers read from then on.
#pragma once

#include <string>
#include <vector>

#include "forecast/ensemble.hpp"
#include "settings/lab.hpp"

namespace firstdraw::settings {

/// One fault of one group, begun at one time of the week, and what was read from then on, by alarm_step_s.
struct FaultCourse {
  int group = -1;
  forecast::FaultKind kind{};
  double begin_s = 0;  // of the week
  std::vector<float> reading_c;
};

/// Times of the week at which faults are begun: in the evening, at night, in the afternoon, at the weekend,
/// at the busiest hour of the workdays, and where the timetable lowers the set-points most: just before that
/// and in the middle of it. At least six, rising, on the alarm's step.
std::vector<double> fault_begins_s(const Lab& lab, const Timetable& timetable, std::uint64_t seed);

struct Planting {
  std::vector<double> begins_s;
  double watched_s = 0;  // from a fault's beginning
  int repeats = 1;       // each with other draws
  std::uint64_t seed = 1;
  int threads = 1;
};
/// What a sensor may see: the contactor stuck on or off, the sensor off the pipe, the circuit lost that heats
/// the sensor's run. In the nominal building; groups apart (groups_apart) fail together.
std::size_t planting_tasks(const Lab& lab, const Planting& planting);
/// Tasks from `first_task` on of `progress`.
std::vector<FaultCourse> plant_faults(const Lab& lab, const Planting& planting,
                                      forecast::SharedProgress& progress, std::size_t first_task);

/// Index into plan.circuits of the one that heats the sensor's run; none without one.
int sensor_circuit(const Lab& lab, int group);

}  // namespace firstdraw::settings
