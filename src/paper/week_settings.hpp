// What a technician keys in for one control group, and what instruments should show then: tables of the
// settings sheet.
#pragma once

#include "paper/week_words.hpp"

namespace firstdraw::paper {

struct KeyLine {
  std::string name, value, note;
};
/// In the order in which they are set, all but the week's program. Lines of the plan's own sheet that have no
/// counterpart here come last, as they stand there.
std::vector<KeyLine> key_lines(const Pack& pack, int group);
/// "Change on 1 May and 1 October"; empty where one set of settings serves all year.
std::string season_changes(const Pack& pack);

/// A row for each program, a column for each period.
Table program_table(const Pack& pack, const settings::GroupTimetable& timetable);
/// Sensor and share of time on after 10 min, 1 h and 1 day; no rows where nothing was simulated.
Table reading_table(const Pack& pack, const std::string& group);
/// Circuit by circuit: delay, currents from switching on until settled.
Table current_table(const Pack& pack, int group);
/// What only the maker's instructions can tell.
std::vector<std::string> what_the_maker_knows(const Pack& pack, int group);

}  // namespace firstdraw::paper
