#include "settings/use_hours.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace firstdraw::settings {

HoursOfWeek draws_by_hour(std::span<const draw::TapUse* const> taps) {
  constexpr std::size_t hours_a_day = 24, first_day_off = 5;
  HoursOfWeek draws{};
  for (const draw::TapUse* use : taps) {
    const draw::UseProfile& profile = *use->profile;
    for (std::size_t hour = 0; hour < hours_a_week; ++hour) {
      const std::size_t day = hour / hours_a_day;
      const auto& shape = day < first_day_off ? profile.weekday_hours : profile.weekend_hours;
      draws[hour] +=
          use->kind.per_day * profile.draws_frac * profile.weekday_frac[day] * shape[hour % hours_a_day];
    }
  }
  return draws;
}

std::vector<bool> busiest_hours(const HoursOfWeek& draws, double share_frac) {
  constexpr std::size_t hours_a_day = 24;
  constexpr double slack = 1e-9;  // what adding up may leave
  std::array<std::size_t, hours_a_week> order{};
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::sort(order, {}, [&](std::size_t hour) {
    return std::tuple(-draws[hour], hour % hours_a_day, hour / hours_a_day);
  });
  const double wanted = (share_frac - slack) * std::accumulate(draws.begin(), draws.end(), 0.0);
  std::vector<bool> chosen(hours_a_week);
  double carried = 0;
  for (const std::size_t hour : order) {
    if (carried >= wanted || draws[hour] <= 0) break;
    chosen[hour] = true;
    carried += draws[hour];
  }
  return chosen;
}

}  // namespace firstdraw::settings
