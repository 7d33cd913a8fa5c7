#include "watch/programmed.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "week/calendar.hpp"

namespace firstdraw::watch {
namespace {

constexpr int day_s = 86400;

double set_point_of(const job::Period& period, const job::ControlGroup& group) {
  switch (period.setting) {
    case job::Period::Setting::maintain:
      return group.maintain_c;
    case job::Period::Setting::setback:
      return group.setback_c;
    case job::Period::Setting::temperature:
      return period.hold_c;
    case job::Period::Setting::off:
      break;
  }
  return off_c;
}

bool holds(const job::Period& period, int weekday, double second) {
  const auto begins_on = [&period](int day) { return (period.weekdays >> ((day + 7) % 7)) & 1; };
  if (period.end_s > period.begin_s)
    return begins_on(weekday) && second >= period.begin_s && second < period.end_s;
  return (begins_on(weekday) && second >= period.begin_s) ||
         (begins_on(weekday - 1) && second < period.end_s);
}

}  // namespace

std::vector<double> programmed_week(const job::Job& job, const job::ControlGroup& group) {
  std::vector<double> week(slots, group.maintain_c);
  for (int slot = 0; slot < slots; ++slot) {
    const int second = slot * slot_s;
    for (const job::Period& period : job.periods)
      if (period.group == group.id && holds(period, second / day_s, second % day_s))
        week[static_cast<std::size_t>(slot)] = set_point_of(period, group);
  }
  return week;
}

int slot_of(const week::Zone& zone, std::int64_t at_ms) {
  const week::LocalTime local = week::local_time(zone, at_ms / 1000);
  return (week::weekday_of(local.date) * day_s + local.second_of_day) / slot_s;
}

BestShift best_shift(std::span<const double> cost, double alike) {
  const int count = static_cast<int>(cost.size()), half = count / 2;
  const auto at = [&](int shift) {
    return cost[static_cast<std::size_t>(((shift % count) + count) % count)];
  };
  BestShift best;
  best.cost = *std::ranges::min_element(cost);
  best.cost_at_zero = at(0);
  std::vector<double> sorted(cost.begin(), cost.end());
  std::ranges::nth_element(sorted, sorted.begin() + half);
  best.usual_cost = sorted[static_cast<std::size_t>(half)];
  const double most = best.cost + alike;
  if (best.cost_at_zero <= most) return best;
  for (int away = 1; away <= half; ++away)
    for (const int shift : {away, -away}) {
      if (at(shift) > most) continue;
      // Nearest end of a plateau: its middle lies further out.
      int far = shift;
      const int way = shift > 0 ? 1 : -1;
      while (std::abs(far + way) <= half && at(far + way) <= most) far += way;
      best.shift = (shift + far) / 2;
      return best;
    }
  return best;
}

ClockShift as_clock(int shift) {
  const double off_s = static_cast<double>(shift) * slot_s;
  ClockShift clock;
  if (std::abs(off_s) > day_s / 2.0) clock.days = std::round(off_s / day_s);
  clock.clock_s = off_s - clock.days * day_s;
  return clock;
}

}  // namespace firstdraw::watch
