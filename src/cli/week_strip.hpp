// A week of set-points as one line of marks, to be taken in at a glance.
#pragma once

#include <string>

#include "settings/timetable.hpp"

namespace firstdraw::cli {

struct WeekStrip {
  std::string days;   // names above the marks
  std::string marks;  // seven days with bars between them; higher is hotter, a dot is off
  double mark_s = 0;  // time of one mark, which shows the highest set-point within it
};

/// At most `width` columns, with as many marks a day as fit. Empty marks: not even one a day fits.
WeekStrip week_strip(const settings::GroupTimetable& group, int width);

}  // namespace firstdraw::cli
