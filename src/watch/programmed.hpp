// What the job's periods ask of a group through a week, and the best shift between that and a log.
// docs/logs-estimates.md.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "job/job.hpp"
#include "week/zone.hpp"

namespace firstdraw::watch {

inline constexpr int slot_s = 300, slots = 7 * 86400 / slot_s;
inline constexpr double off_c = -1000;  // no set-point: switched off

/// Set-point of every slot of the week from Monday 00:00 on the controller's clock; off_c when it is off.
std::vector<double> programmed_week(const job::Job& job, const job::ControlGroup& group);

/// Slot of the local week at a moment; the zone must cover it.
int slot_of(const week::Zone& zone, std::int64_t at_ms);

/// Shift in slots, -slots/2 to slots/2, that makes `cost(shift)` least. Shifts within `alike` of the best are
/// one plateau each; of several the one nearest to no shift is taken, of that its middle.
struct BestShift {
  int shift = 0;
  double cost = 0, cost_at_zero = 0, usual_cost = 0;  // usual: median over all shifts
};
BestShift best_shift(std::span<const double> cost_by_shift, double alike);

/// A shift as days and the rest, -12 h to 12 h.
struct ClockShift {
  double days = 0, clock_s = 0;
};
ClockShift as_clock(int shift);

}  // namespace firstdraw::watch
