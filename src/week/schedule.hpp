// What a week of set-points must keep and what it costs; running one over the reduced model.
// Steps are counted from the first day's midnight; arrays "by step" cover all days.
#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "week/reduced.hpp"

namespace firstdraw::week {

/// The days of the cycle and which program each follows: {0,0,0,0,0,0,0} one schedule for the week,
/// {0,0,0,0,0,1,1} working days and weekend, {0,1,2,3,4,5,6} each day its own. Programs are numbered from 0
/// in the order in which they first come up.
struct Days {
  int steps_a_day = 48;
  std::vector<int> program_of_day = {0, 0, 0, 0, 0, 0, 0};

  int days() const { return static_cast<int>(program_of_day.size()); }
  int steps() const { return steps_a_day * days(); }
  int programs() const;
};

/// What the user's controller can do.
struct ControllerLimits {
  int most_changes_a_day = 4;  // periods that may begin in a day; the last one runs on over midnight
  int begin_every_steps = 1;   // periods begin at multiples of this, from midnight
  double least_change_k = 0;   // between one set-point and the next: the least set-back worth the name
};

/// Longest time without a break between the two temperatures. A step counts whole as soon as any part of it
/// lies there. With the low end left open all water below the high end counts, which is the safe reading:
/// real water may be warmer than the model's.
struct GrowthBand {
  double low_c = -std::numeric_limits<double>::infinity(), high_c = 45;
  int most_steps = 8;
};

/// Once in the cycle, between one midnight and the next, so many steps on end at or above a temperature.
struct HotHold {
  double at_least_c = 60;
  int steps = 2;
};

struct Needs {
  std::vector<double> least_c;                              // by step, from its beginning to its end
  double most_c = std::numeric_limits<double>::infinity();  // no set-point above it
  std::optional<GrowthBand> band;
  std::optional<HotHold> hot_hold;
};

/// Price of the highest mean power of a step among those of a window, of all groups together.
struct DemandPrice {
  double per_kw = 0;            // over the whole time priced
  std::vector<char> in_window;  // by step
};

struct Prices {
  std::vector<double> per_kwh;  // by step; times the cycles of the time priced (52/12 weeks for a month)
  std::vector<DemandPrice> demand;
};

/// One group.
struct GroupTask {
  Automaton automaton;
  Needs needs;
  ControllerLimits limits;
};

struct SchedulePeriod {
  int begin_step = 0;  // of the day
  double set_point_c = 0;
  bool goes_on = false;  // at midnight: in force from the day before, nothing begins
};

/// What a sequence of set-points does once it repeats itself.
struct Trajectory {
  std::vector<int> set_point;    // by step, index
  std::vector<int> temperature;  // by step at its beginning, index of the grid; one more: the end
  std::vector<double> power_w;   // mean of the step
};

/// Why a sequence of set-points may not be used; empty when it may.
struct Breach {
  enum class What {
    none,
    forbidden_move,
    too_cold,
    too_hot,
    band,
    hot_hold,
    changes,
    begin,
    small_change,
    program
  };
  What what = What::none;
  int step = 0;
};

/// Follows the set-points from a temperature until a cycle ends as it began, at most grid.count cycles (a
/// temperature only moves one way from cycle to cycle, as a step keeps the order of temperatures).
/// None where a move leaves the grid.
std::optional<Trajectory> settle(const Automaton& automaton, const std::vector<int>& set_points,
                                 int from_temperature);

/// The first rule that a settled trajectory breaks.
Breach first_breach(const GroupTask& task, const Days& days, const Trajectory& trajectory);

/// The day's list: every beginning with the set-point from there on.
std::vector<SchedulePeriod> periods_of_day(const Automaton& automaton, const Days& days,
                                           const std::vector<int>& set_points, int day);

/// The law itself under the same set-points, unrounded, from a temperature, cycle after cycle until it
/// repeats within 1e-6 K: temperature at the beginning of each step, one more at the end.
std::vector<double> replay(const ThermalLaw& law, const Automaton& automaton,
                           const std::vector<int>& set_points, double from_c);

struct Cost {
  double energy_kwh = 0;  // of one cycle
  double energy = 0, demand = 0;
  double total() const { return energy + demand; }
};
/// `other_load_w`, by step or empty: what else the meter sees. Its energy is not counted; of demand only what
/// `power_w` adds to it.
Cost cost_of(const Prices& prices, const std::vector<double>& power_w, double step_s,
             const std::vector<double>& other_load_w = {});

}  // namespace firstdraw::week
