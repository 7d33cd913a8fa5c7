// What instruments should show after switching on, and what wrong settings do to a week.
#pragma once

#include <string>
#include <vector>

#include "settings/proof.hpp"
#include "settings/timetable.hpp"

namespace firstdraw::settings {

/// Sensor of one group a while after it was switched on from cold, no water drawn.
struct ReadingAfter {
  double after_s = 0;                         // 10 min, 1 h, 1 day
  double low_c = 0, usual_c = 0, high_c = 0;  // of the sensor: 5 %, 50 %, 95 % of the buildings; NaN: none
  double duty_frac = 0;                       // over the last tenth of that time
};
struct CircuitAfter {
  std::string circuit;
  /// Settled, while on, like the group's `after`. Low: warm building, low voltage, weak cable, meter reading
  /// low; high: all the other way. NaN: the data sheet is silent.
  std::vector<double> low_a, usual_a, high_a;
};
struct GroupReadings {
  std::string group;
  double start_c =
      0;  // usual air round the sensor's run (without one, the group's first): pipe and water then
  double begin_s = 0;  // of the week, when all groups were switched on: a working hour, none of them off
  std::vector<ReadingAfter> after;
  std::vector<CircuitAfter> circuits;
};
/// Over `options.members` buildings (forecast::variations), everything at the air's temperature before. Empty
/// when it was stopped.
std::vector<GroupReadings> first_readings(const job::Job& job, const plan::Plan& plan,
                                          const Timetable& timetable, const ProofOptions& options);

/// One thing set or fitted wrong in one group, against the same week set right: what can be seen of it.
/// Diagnosis compares readings with these.
struct WrongSetting {
  std::string group;
  std::string what;   // "sensor on the cable's side", "clock 3 h ahead"
  std::string fault;  // as forecast::read_fault takes it
  double kwh_per_week = 0, kwh_change_frac = 0;
  double mean_reading_c = 0, reading_change_k = 0;
  double coldest_run_c = 0, coldest_change_k = 0;    // mean of the coldest run
  double band_h_per_day = 0;                         // of the run that is longest in the growth band
  double hot_in_10_s_frac = 0, hot_change_frac = 0;  // of the group's taps
  double current_change_frac = 0;                    // of the group while on; NaN: never on
  std::string seen;                                  // where a technician sees it, in one sentence
  std::string harm;                                  // what it does to people and pipes; empty: little
};
/// Each kind of fault in all groups that do not feed each other at once, over the same week with the same
/// draws, in the nominal building: what groups share (tank, a main above them) is not told apart. Kinds that
/// cannot be in a group, or a clock where the set-point never changes, are left out. Empty when it was
/// stopped.
std::vector<WrongSetting> wrong_settings(const job::Job& job, const plan::Plan& plan,
                                         const Timetable& timetable, const ProofOptions& options);

}  // namespace firstdraw::settings
