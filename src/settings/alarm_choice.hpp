// Which limit and delay a temperature alarm gets: of the closest limits that a year of ordinary weeks bears,
// the pair that catches planted faults soonest. A search over recorded readings; nothing is simulated here.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "settings/alarm_series.hpp"
#include "settings/alarms.hpp"
#include "settings/ordinary_year.hpp"
#include "settings/plant_faults.hpp"

namespace firstdraw::settings {

/// Delays that are tried.
inline constexpr double alarm_delays_s[] = {0, 300, 600, 900, 1800, 3600, 7200, 14400};

/// What an alarm looks at: grows towards the alarm. Low: minus the reading; with the set-point followed: how
/// far the reading is below it, -infinity while the cable is off.
struct AlarmView {
  Alarm::Kind kind{};
  bool follows_set_point = false;
  const GroupTimetable& timetable;

  std::vector<float> signal(std::span<const float> reading_c, double begin_s) const;
  Signal year(const OrdinaryGroup& ordinary) const;
  Grid grid(const job::Job& job) const;
  /// Between an alarm as people set it and its place on the signal.
  Trip trip(const Alarm& alarm) const;
  Alarm alarm(const Trip& trip) const;
  bool may_catch(forecast::FaultKind kind) const;
};

/// Limits a controller takes: whole steps from zero in the job's unit, as places on the signal.
Grid limit_grid(const job::Job& job, Alarm::Kind kind);

/// As seldom as the job asks; with too few weeks to tell, no event in any of them.
int most_events(const job::Job& job, int weeks);

/// `courses`: of this group. None when the year has no readings or no end to what they show.
std::optional<Alarm> choose_alarm(const job::Job& job, const AlarmView& view, const OrdinaryYear& year,
                                  int group, std::span<const FaultCourse> courses);

/// From the fault's beginning until the alarm; infinity: not within the course.
double caught_after_s(const AlarmView& view, const Alarm& alarm, const FaultCourse& course);

}  // namespace firstdraw::settings
