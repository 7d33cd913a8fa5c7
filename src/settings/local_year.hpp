// A year of the site cut at its clock's steps: what happens at which step of the typical week.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "settings/inputs.hpp"

namespace firstdraw::settings {

/// A stretch of true time within one step of the local clock and without a change of the clock.
struct LocalPiece {
  std::int64_t begin_unix_s = 0, length_s = 0;
  week::LocalTime local;   // at its beginning
  std::size_t step = 0;    // of the week from Monday 00:00 on the clock
  std::size_t season = 0;  // index into season_order
};

/// The step as a whole number; std::invalid_argument when it is none that divides an hour.
std::int64_t whole_step_s(double step_s);

/// Seasons in the order in which they begin in the year; one without a name where the calendar has none.
std::vector<week::Season> season_order(const week::Calendar& calendar);

/// From the year's first moment to its last, rising. A skipped hour has no piece, a doubled one has two.
/// The step as in whole_step_s.
void walk_year(const Inputs& inputs, double step_s, const std::function<void(const LocalPiece&)>& each);

}  // namespace firstdraw::settings
