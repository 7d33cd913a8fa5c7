// Alarm limits and delays that a year of ordinary weeks does not trip more often than is bearable, and how
// long a real fault stays unseen behind them. Faults are planted in the full simulation.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "settings/proof.hpp"
#include "settings/timetable.hpp"

namespace firstdraw::settings {

/// One alarm of one group. A reading beyond `limit` for `delay_s` on end raises it. Low current: looked at
/// only while the cable is called for.
struct Alarm {
  enum class Kind { low_temperature, high_temperature, low_current } kind{};
  double limit = 0;  // degC or A; with follows_set_point K from the set-point in force, negative: below it
  double delay_s = 0;
  double events_per_year = 0;  // false ones, in the simulated year
  double worst_ordinary = 0;   // lowest or highest reading of that year, counted as the limit is
  /// Limit counts from the set-point in force, not from zero; silent while a period is off. Not every
  /// controller can: `planted` promises nothing by it, only `otherwise` tells what it would do.
  bool follows_set_point = false;
};
/// A fault that was planted, and what raised the alarm first.
struct Planted {
  std::string fault;  // in words: "circuit C-03 lost"
  std::string text;   // as forecast::read_fault takes it
  std::optional<Alarm::Kind> caught_by;
  /// Slowest over the times of the week at which it was planted; infinity: not caught, or not at all of them.
  double after_s = 0;
  bool in_time = false;
  std::string otherwise;  // sentences: what would find it, where no alarm does in time
};
struct GroupAlarms {
  std::string group;
  std::vector<Alarm> alarms;  // at most one of each kind, and one more low one that follows the set-point
  double cutout_c = 0;        // high-temperature cut-out; NaN: without a sensor there is none
  std::string cutout_because;
  std::vector<Planted> planted;
  double simulated_weeks = 0;
  std::vector<std::string> notes;  // what the figures rest on and cannot tell
};
/// Ordinary weeks differ by their draws and, every second one, by the building's tolerances. With N weeks a
/// rate below 52/N a year cannot be told: limits are then such that no week trips them, and a note says so.
/// Empty when it was stopped.
std::vector<GroupAlarms> set_alarms(const job::Job& job, const plan::Plan& plan, const Timetable& timetable,
                                    const ProofOptions& options, int weeks = 52);

}  // namespace firstdraw::settings
