// Runs that miss what is asked of them while the sensor's run does not, and the sensor's least temperatures
// raised until they no longer do. Part of cheapest.cpp.
#pragma once

#include <string>

#include "settings/group_model.hpp"
#include "settings/needs.hpp"
#include "week/schedule.hpp"

namespace firstdraw::settings {

struct Miss {
  double by_k = 0;  // the worst; 0: nothing is missed
  std::string run;
  std::string what;  // "comfort", "hot hold"…, for findings
};

/// By how much any run that is not hopeless misses anything.
Miss worst_miss(const GroupModel& model, const GroupNeeds& needs, const Lived& lived, int steps_a_day);

/// One round. `run`: what the sensor's run did, on the grid. Raises `asked` and never lowers it; not above
/// `highest_c`. `rest`: as asked before any raise.
/// - A run that is late after the sensor's run was heated up: the heating begins earlier, by 1, 2, 4… steps.
/// - One that falls ahead of the sensor's run: the least there becomes what the sensor's run had, and what
///   was missing.
/// - A stay in the growth band that is too long: fewer steps of it.
/// - A hot hold that comes too late: 1, 2, 4… more steps of it.
struct Lag {
  const GroupModel& model;
  const GroupNeeds& needs;
  const week::Needs& rest;
  const week::Automaton& automaton;
  int steps_a_day = 48;
};
void raise(const Lag& lag, const week::Trajectory& run, const Lived& lived, int round, week::Needs& asked);

/// Last resort: everything that a stretch asks is asked all the time.
void ask_flat(const Lag& lag, week::Needs& asked);

}  // namespace firstdraw::settings
