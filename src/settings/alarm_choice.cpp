#include "settings/alarm_choice.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "week/reduced.hpp"

namespace firstdraw::settings {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double weeks_per_year = 52;

/// How well a pair does: uncaught courses, slowest, all together; then the fewest false alarms.
struct Score {
  int uncaught = 0;
  double slowest_s = 0, sum_s = 0;
  int events = 0;
  auto key() const { return std::tie(uncaught, slowest_s, sum_s, events); }
};

Score score_of(const AlarmView& view, const Alarm& alarm, int events, std::span<const FaultCourse> courses) {
  Score score;
  score.events = events;
  for (const FaultCourse& course : courses) {
    if (!view.may_catch(course.kind)) continue;
    const double after_s = caught_after_s(view, alarm, course);
    if (std::isinf(after_s)) {
      ++score.uncaught;
      continue;
    }
    score.slowest_s = std::max(score.slowest_s, after_s);
    score.sum_s += after_s;
  }
  return score;
}

double highest(const Signal& signal) {
  double most = -infinity;
  for (const auto& piece : signal.pieces)
    for (const float value : piece) most = std::max(most, static_cast<double>(value));
  return most;
}

/// Set-point of every sample of a week; NaN: off.
std::vector<double> set_points_of_week(const GroupTimetable& timetable) {
  std::vector<double> set_c = by_step(timetable, alarm_step_s);
  for (double& c : set_c)
    if (c == week::cable_off_c) c = std::numeric_limits<double>::quiet_NaN();
  return set_c;
}

}  // namespace

std::vector<float> AlarmView::signal(std::span<const float> reading_c, double begin_s) const {
  std::vector<float> values(reading_c.begin(), reading_c.end());
  if (kind == Alarm::Kind::high_temperature) return values;
  if (!follows_set_point) {
    for (float& value : values) value = -value;
    return values;
  }
  const std::vector<double> set_c = set_points_of_week(timetable);
  auto place = static_cast<std::size_t>(std::lround(begin_s / alarm_step_s)) % set_c.size();
  for (float& value : values) {
    const double below_k = set_c[place] - static_cast<double>(value);
    value = static_cast<float>(std::isnan(below_k) ? -infinity : below_k);
    place = (place + 1) % set_c.size();
  }
  return values;
}

Signal AlarmView::year(const OrdinaryGroup& ordinary) const {
  Signal all{alarm_step_s, {}};
  for (const auto& week : ordinary.reading_c) all.pieces.push_back(signal(week, 0));
  return all;
}

Grid AlarmView::grid(const job::Job& job) const {
  return follows_set_point ? Grid{0, job.controller.step_k} : limit_grid(job, kind);
}

Trip AlarmView::trip(const Alarm& alarm) const {
  return {kind == Alarm::Kind::high_temperature ? alarm.limit : -alarm.limit, alarm.delay_s};
}

Alarm AlarmView::alarm(const Trip& trip) const {
  Alarm made;
  made.kind = kind;
  made.limit = kind == Alarm::Kind::high_temperature ? trip.threshold : -trip.threshold;
  made.delay_s = trip.delay_s;
  made.follows_set_point = follows_set_point;
  return made;
}

bool AlarmView::may_catch(forecast::FaultKind fault) const {
  return (fault == forecast::FaultKind::contactor_stuck_on) == (kind == Alarm::Kind::high_temperature);
}

Grid limit_grid(const job::Job& job, Alarm::Kind kind) {
  const double zero_c = job.units == units::System::us ? *units::to_si(0, "°F", units::Kind::temperature) : 0;
  return {kind == Alarm::Kind::high_temperature ? zero_c : -zero_c, job.controller.step_k};
}

int most_events(const job::Job& job, int weeks) {
  return static_cast<int>(std::floor(job.week.false_alarms_per_year * weeks / weeks_per_year + 1e-9));
}

std::optional<Alarm> choose_alarm(const job::Job& job, const AlarmView& view, const OrdinaryYear& year,
                                  int group, std::span<const FaultCourse> courses) {
  const Signal signal = view.year(year.groups.at(static_cast<std::size_t>(group)));
  const double top = highest(signal);
  if (!std::isfinite(top)) return std::nullopt;
  std::optional<Alarm> best;
  Score best_score;
  for (const double delay_s : alarm_delays_s) {
    const Closest closest = settings::closest(signal, delay_s, view.grid(job), most_events(job, year.weeks));
    if (std::isnan(closest.trip.threshold)) continue;
    Alarm alarm = view.alarm(closest.trip);
    const Score score = score_of(view, alarm, closest.events, courses);
    if (best && score.key() >= best_score.key()) continue;
    alarm.events_per_year = closest.events * weeks_per_year / year.weeks;
    alarm.worst_ordinary = view.kind == Alarm::Kind::high_temperature ? top : -top;
    best = alarm;
    best_score = score;
  }
  return best;
}

double caught_after_s(const AlarmView& view, const Alarm& alarm, const FaultCourse& course) {
  return first_event_s(view.signal(course.reading_c, course.begin_s), alarm_step_s, view.trip(alarm));
}

}  // namespace firstdraw::settings
