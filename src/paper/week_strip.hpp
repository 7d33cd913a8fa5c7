// The week of one control group at a glance: a row for each day, a block for each stretch with its set-point.
#pragma once

#include "paper/ink.hpp"
#include "settings/timetable.hpp"
#include "units/quantity.hpp"

namespace firstdraw::paper {

struct WeekStrip {
  std::string title{};
  const settings::GroupTimetable* timetable = nullptr;
  units::System system = units::System::metric;  // of the numbers
};
/// The darker the hotter; off is white with a cross stroke. Numbers stand where they fit.
void draw_week_strip(Ink& ink, const Frame& frame, const WeekStrip& strip);
inline constexpr double week_strip_height_mm = 20;

}  // namespace firstdraw::paper
