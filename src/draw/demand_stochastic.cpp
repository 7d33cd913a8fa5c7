// Poisson rectangular pulses (Buchberger & Wu 1995) with a day's rate that itself varies.
#include <cmath>
#include <map>
#include <stdexcept>

#include "draw/control.hpp"
#include "draw/demand.hpp"
#include "draw/demand_random.hpp"

namespace firstdraw::draw {

namespace {

/// Time of day by which a share of the day's draws has come.
double time_of_day_s(const std::array<double, 24>& hours, double share) {
  std::size_t hour = 0;
  while (hour + 1 < hours.size() && share >= hours[hour]) share -= hours[hour++];
  const double within = hours[hour] > 0 ? std::fmin(share / hours[hour], 1) : 0;
  return (static_cast<double>(hour) + within) * hour_s;
}

void add_day(std::vector<Draw>& draws, const TapUse& use, double day, const StochasticOptions& options) {
  const UseProfile& profile = *use.profile;
  const int weekday = weekday_of(day * day_s);
  const auto& hours = weekday < 5 ? profile.weekday_hours : profile.weekend_hours;
  Stream random(options.seed, use.key, static_cast<std::uint64_t>(static_cast<std::int64_t>(day)));
  const double expected = use.kind.per_day * profile.draws_frac *
                          profile.weekday_frac[static_cast<std::size_t>(weekday)] *
                          random.gamma(options.daily_cv);
  if (!(expected > 0)) return;
  const double hot = hot_share(use.kind.use_c, options.hot_c, options.cold_c);
  for (double share = random.exponential() / expected; share < 1; share += random.exponential() / expected) {
    Draw draw{use.tap, day * day_s + time_of_day_s(hours, share)};
    draw.duration_s = random.log_normal(use.kind.mean_duration_s, use.kind.duration_cv);
    draw.flow_m3_per_s = hot * random.log_normal(use.kind.mean_flow_m3_per_s, use.kind.flow_cv);
    if (draw.open_s >= options.begin_s && draw.open_s < options.end_s) draws.push_back(draw);
  }
}

/// A tap opens again only after it has closed.
void queue_at_taps(std::vector<Draw>& draws) {
  std::map<int, double> closes_s;
  for (Draw& draw : draws) {
    const auto [last, first] = closes_s.try_emplace(draw.tap, draw.open_s);
    draw.open_s = std::fmax(draw.open_s, last->second);
    last->second = draw.open_s + draw.duration_s;
  }
}

}  // namespace

std::vector<Draw> stochastic_draws(std::span<const TapUse> taps, const StochasticOptions& options) {
  std::vector<Draw> draws;
  for (const TapUse& use : taps) {
    if (use.profile == nullptr) throw std::logic_error("draws: a tap without a use profile");
    for (double day = std::floor(options.begin_s / day_s); day * day_s < options.end_s; ++day)
      add_day(draws, use, day, options);
  }
  sort_draws(draws);
  queue_at_taps(draws);
  std::erase_if(draws, [&](const Draw& draw) { return draw.open_s >= options.end_s; });
  sort_draws(draws);
  return draws;
}

}  // namespace firstdraw::draw
