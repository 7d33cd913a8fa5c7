// A week of one control group as its changes, and as the entries and periods that say the same.
#pragma once

#include <optional>
#include <vector>

#include "settings/timetable.hpp"

namespace firstdraw::settings {

inline constexpr double a_day_s = 86400, a_week_s = 7 * a_day_s;
inline constexpr int days_a_week = 7;

/// From this moment of the week on.
struct Change {
  double begin_s = 0;  // from Monday 00:00
  std::optional<double> hold_c;
  bool operator==(const Change&) const = default;
};

/// Rising, without those that change nothing over the turn of the week; a week that never changes is one
/// change at its beginning. Of several at one moment the last counts.
std::vector<Change> only_changes(std::vector<Change> changes);
std::vector<Change> changes_of(const GroupTimetable& group);

/// As from_steps has them. Takes what only_changes gives.
std::vector<Entry> entries_of(const std::vector<Change>& changes);
/// Periods of a group that stands at `maintain_c` where none is, none of them longer than a day.
/// Takes what only_changes gives.
std::vector<job::Period> periods_of(const std::vector<Change>& changes, const std::string& group,
                                    double maintain_c);

}  // namespace firstdraw::settings
