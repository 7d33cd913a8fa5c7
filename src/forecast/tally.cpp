#include <algorithm>
#include <cmath>

#include "forecast/answers.hpp"

namespace firstdraw::forecast {
namespace {

constexpr double quarter_s = 900, joule_per_kwh = 3.6e6, quarters_per_hour = 4;

template <class T, std::size_t n>
void add_each(std::array<T, n>& sum, const std::array<T, n>& more) {
  for (std::size_t i = 0; i < n; ++i) sum[i] += more[i];
}

void add(draw::TapResult& sum, const draw::TapResult& more) {
  for (std::size_t i = 0; i < sum.since_open.size(); ++i)
    add_each(sum.since_open[i].count, more.since_open[i].count);
  add_each(sum.at_end.count, more.at_end.count);
  add_each(sum.hot_after_s, more.hot_after_s);
  sum.draws += more.draws;
  sum.hot_at_once += more.hot_at_once;
  sum.hot_in_10_s += more.hot_in_10_s;
  sum.hot_in_30_s += more.hot_in_30_s;
  sum.never_hot += more.never_hot;
  sum.open_10_s += more.open_10_s;
  sum.open_30_s += more.open_30_s;
  sum.litres += more.litres;
  sum.litres_wasted += more.litres_wasted;
  sum.heat_j += more.heat_j;
  sum.oldest_water_s = std::max(sum.oldest_water_s, more.oldest_water_s);
  sum.hottest_c = std::max(sum.hottest_c, more.hottest_c);
}

void add(draw::RunResult& sum, const draw::RunResult& more, double seconds) {
  sum.min_c = std::min(sum.min_c, more.min_c);
  sum.max_c = std::max(sum.max_c, more.max_c);
  add_each(sum.time_at.seconds, more.time_at.seconds);
  sum.longest_standing_s = std::max(sum.longest_standing_s, more.longest_standing_s);
  sum.longest_in_band_s = std::max(sum.longest_in_band_s, more.longest_in_band_s);
  sum.longest_below_s = std::max(sum.longest_below_s, more.longest_below_s);
  sum.mean_age_s += more.mean_age_s * seconds;
  sum.oldest_s = std::max(sum.oldest_s, more.oldest_s);
  sum.cable_j += more.cable_j;
  sum.loss_j += more.loss_j;
  sum.litres += more.litres;
}

void add(draw::Balance& sum, const draw::Balance& more) {
  sum.supply_j += more.supply_j;
  sum.cable_j += more.cable_j;
  sum.drawn_j += more.drawn_j;
  sum.loss_j += more.loss_j;
  sum.stored_change_j += more.stored_change_j;
  sum.residual_j += more.residual_j;
  sum.worst_step_frac = std::max(sum.worst_step_frac, more.worst_step_frac);
}

/// Quarter hours that were simulated to their end.
std::size_t whole_quarters(const draw::Result& member) {
  return static_cast<std::size_t>(std::floor((member.end_s - member.begin_s) / quarter_s + 1e-9));
}

void add(GroupTally& sum, const draw::GroupResult& more, std::size_t quarters, double seconds, bool first) {
  sum.quarter_kwh.resize(std::max(sum.quarter_kwh.size(), quarters));
  for (std::size_t q = 0; q < quarters; ++q) {
    const double kwh = std::max(0.0, more.energy_j.at(q) / joule_per_kwh);  // rounding of an integral: -1e-20
    sum.quarter_kwh[q] += kwh;
    sum.kw.push_back(kwh * quarters_per_hour);
  }
  sum.cycles += more.cycles;
  sum.on_s += more.on_frac * seconds;
  sum.lowest_reading_c =
      first ? more.lowest_reading_c : std::min(sum.lowest_reading_c, more.lowest_reading_c);
  sum.highest_reading_c =
      first ? more.highest_reading_c : std::max(sum.highest_reading_c, more.highest_reading_c);
}

void add_building_kw(std::vector<double>& kw, const draw::Result& member, std::size_t quarters) {
  for (std::size_t q = 0; q < quarters; ++q) {
    double joule = 0;
    for (const draw::GroupResult& group : member.groups) joule += group.energy_j.at(q);
    kw.push_back(joule / joule_per_kwh * quarters_per_hour);
  }
}

}  // namespace

void Tally::add(const draw::Result& member) {
  const bool first = seconds == 0;
  const double lived_s = member.end_s - member.begin_s;
  if (lived_s <= 0) return;
  if (first) begin_s = member.begin_s;
  taps.resize(member.taps.size());
  runs.resize(member.runs.size());
  groups.resize(member.groups.size());
  for (std::size_t i = 0; i < taps.size(); ++i) forecast::add(taps[i], member.taps[i]);
  for (std::size_t i = 0; i < runs.size(); ++i) forecast::add(runs[i], member.runs[i], lived_s);
  const std::size_t whole = whole_quarters(member);
  for (std::size_t g = 0; g < groups.size(); ++g)
    forecast::add(groups[g], member.groups[g], whole, lived_s, first);
  add_building_kw(building_kw, member, whole);
  quarters.resize(std::max(quarters.size(), whole));
  for (std::size_t q = 0; q < whole; ++q) ++quarters[q];
  forecast::add(balance, member.balance);
  heater_j += member.heater_j;
  lowest_supply_c = first ? member.lowest_supply_c : std::min(lowest_supply_c, member.lowest_supply_c);
  seconds += lived_s;
}

}  // namespace firstdraw::forecast
