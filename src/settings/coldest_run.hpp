// Steady state of a group that is held by its coldest run: the least energy with which every run is at least
// so warm, wherever the sensor is.
#pragma once

#include "hold/hold.hpp"
#include "job/job.hpp"
#include "settings/timetable.hpp"

namespace firstdraw::settings {

/// A timetable as one constant set-point: mean over the time in which it is not off.
struct MeanSetting {
  double set_c = 0;
  double on_frac = 0;  // 0: always off, set_c is NaN
};
MeanSetting mean_setting(const GroupTimetable& group);

/// The group alone, the others without runs.
hold::Building only_group(const hold::Building& building, int group);

/// Coldest water of a run of the only group under this set-point, in its usual mode, usual air; NaN when
/// there is no run.
double coldest_c(hold::Building only, int group, double set_c, bool open_loop);

/// The duty is the largest that any run needs for `least_c`; every other run settles where it then does.
struct HeldByColdest {
  int coldest = -1;  // index into runs
  double duty = 0, power_w = 0;
  hold::State state;
};
HeldByColdest hold_by_coldest(hold::Building only, int group, double least_c);

/// Share of the time that this run on its own would need the cable on.
double needed_duty(const hold::Building& building, const hold::HeldRun& run, double water_c);

}  // namespace firstdraw::settings
