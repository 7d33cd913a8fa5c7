// Is what the controller does what was programmed? docs/logs.md.
#pragma once

#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "plan/plan.hpp"
#include "watch/logged.hpp"
#include "week/zone.hpp"

namespace firstdraw::watch {

struct ScheduleCheck {
  std::string group;
  double agrees_frac = 0;  // of the logged time, with what was programmed
  double clock_off_s = 0;  // that explains the log best; 0 when it is right
  double weekday_off = 0;  // days
  bool told = false;       // false: the schedule is constant or the log too coarse to tell
  std::vector<std::string> said;
};
/// From a logged set-point where there is one, else from the sensor and the on time: set-backs show as
/// cooling. Programmed: job.periods.
std::vector<ScheduleCheck> check_schedule(const job::Job& job, const plan::Plan& plan, const Logged& logged,
                                          const week::Zone& zone);

}  // namespace firstdraw::watch
