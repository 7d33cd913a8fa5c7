#include "forecast/answers.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <tuple>

#include "hold/strata.hpp"

namespace firstdraw::forecast {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN(),
                 never = std::numeric_limits<double>::infinity();
constexpr double joule_per_kwh = 3.6e6, quarter_s = 900, days_per_week = 7;
constexpr double enough_log_per_week = 5;  // our choice, no source
constexpr double low_share = 0.05, middle_share = 0.5, high_share = 0.95;

using draw::at;

double ratio(double part, double whole) { return whole > 0 ? part / whole : unknown; }

Spread spread_of(const draw::TempCounts& counts) {
  return {counts.quantile(low_share), counts.quantile(middle_share), counts.quantile(high_share)};
}

/// Seconds by which a share of all draws was hot.
double hot_after_quantile(const draw::TapResult& tap, double share) {
  if (tap.draws == 0) return unknown;
  double wanted = share * tap.draws;
  for (std::size_t second = 0; second < tap.hot_after_s.size(); ++second) {
    const double here = tap.hot_after_s[second];
    const bool whole = second == 0 || second + 1 == tap.hot_after_s.size();
    if (here > 0 && wanted <= here) return static_cast<double>(second) + (whole ? 0 : wanted / here);
    wanted -= here;
  }
  return never;
}

OutletAnswer outlet_answer(const draw::Tap& tap, const draw::TapResult& result, double days) {
  OutletAnswer answer;
  answer.tap = tap.id;
  answer.outlet = tap.outlet;
  answer.hot_c = tap.hot_c;
  answer.draws_per_day = ratio(result.draws, days);
  answer.hot_at_once_frac = ratio(result.hot_at_once, result.draws);
  answer.hot_in_10_s_frac = ratio(result.hot_in_10_s, result.open_10_s);
  answer.hot_in_30_s_frac = ratio(result.hot_in_30_s, result.open_30_s);
  answer.hot_after_s = hot_after(result);
  answer.end_c = spread_of(result.at_end);
  for (std::size_t i = 0; i < result.since_open.size(); ++i)
    answer.since_open_c[i] = spread_of(result.since_open[i]);
  answer.litres_per_day = ratio(result.litres, days);
  answer.wasted_litres_per_day = ratio(result.litres_wasted, days);
  answer.oldest_water_s = result.oldest_water_s;
  return answer;
}

/// Whether the set has a figure at or below the temperature; where it has none, it counts nothing.
bool reaches(const physics::InactivationSet& set, double water_c) { return set.temp_c.front() <= water_c; }

void add_inactivation(RunAnswer& answer, const draw::TempSeconds& time_at, double days) {
  const auto sets = physics::inactivation_sets();
  answer.log_reduction_per_day = ratio(log_reduction(time_at, sets.front()), days);
  answer.log_reduction_low = answer.log_reduction_high = answer.log_reduction_per_day;
  for (const physics::InactivationSet& set : sets) {
    if (!reaches(set, answer.mean_c)) continue;
    const double per_day = ratio(log_reduction(time_at, set), days);
    answer.log_reduction_low = std::min(answer.log_reduction_low, per_day);
    answer.log_reduction_high = std::max(answer.log_reduction_high, per_day);
  }
  answer.inactivated = answer.log_reduction_per_day * days_per_week >= enough_log_per_week;
}

RunAnswer run_answer(int job_run, const draw::RunResult& result, const rules::GrowthBand& band, double days) {
  RunAnswer answer;
  answer.run = job_run;
  answer.min_c = result.min_c;
  answer.mean_c = result.time_at.mean_c();
  answer.max_c = result.max_c;
  answer.band_hours_per_day = ratio(result.time_at.between(band.low_c, band.high_c) / draw::hour_s, days);
  answer.longest_in_band_s = result.longest_in_band_s;
  answer.longest_standing_s = result.longest_standing_s;
  add_inactivation(answer, result.time_at, days);
  answer.mean_age_s = ratio(result.mean_age_s, days * draw::day_s);
  answer.oldest_s = result.oldest_s;
  answer.cable_kwh_per_day = ratio(result.cable_j / joule_per_kwh, days);
  answer.loss_kwh_per_day = ratio(result.loss_j / joule_per_kwh, days);
  return answer;
}

/// Energy of each hour of an average week: hours that were simulated more than once are averaged.
std::array<double, 168> by_hour_of_week(const Tally& tally, const GroupTally& group) {
  std::array<double, 168> kwh{}, lived_h{};
  for (std::size_t q = 0; q < group.quarter_kwh.size(); ++q) {
    const double time_s = std::fmod(tally.begin_s + quarter_s * static_cast<double>(q), draw::week_s);
    const auto hour = static_cast<std::size_t>((time_s < 0 ? time_s + draw::week_s : time_s) / draw::hour_s);
    kwh[hour] += group.quarter_kwh[q];
    lived_h[hour] += tally.quarters[q] * quarter_s / draw::hour_s;
  }
  for (std::size_t hour = 0; hour < kwh.size(); ++hour) kwh[hour] = ratio(kwh[hour], lived_h[hour]);
  return kwh;
}

/// Falling; straight between the sorted means.
std::array<double, 101> duration_curve(std::vector<double> kw) {
  std::array<double, 101> curve;
  curve.fill(unknown);
  if (kw.empty()) return curve;
  std::ranges::sort(kw, std::greater<>());
  const auto last = static_cast<double>(kw.size() - 1);
  for (std::size_t percent = 0; percent < curve.size(); ++percent) {
    const double place = last * static_cast<double>(percent) / 100;
    const auto below = static_cast<std::size_t>(place);
    const double next = kw[std::min(below + 1, kw.size() - 1)];
    curve[percent] = kw[below] + (place - static_cast<double>(below)) * (next - kw[below]);
  }
  return curve;
}

double largest(const std::vector<double>& values) {
  return values.empty() ? unknown : std::ranges::max(values);
}

GroupAnswer group_answer(const Tally& tally, const GroupTally& group) {
  const double kwh = std::accumulate(group.quarter_kwh.begin(), group.quarter_kwh.end(), 0.0);
  GroupAnswer answer;
  answer.kwh_per_day = ratio(kwh, static_cast<double>(group.kw.size()) * quarter_s / draw::day_s);
  answer.peak_kw = largest(group.kw);
  answer.cycles_per_day = ratio(group.cycles, tally.days());
  answer.on_frac = ratio(group.on_s, tally.seconds);
  answer.kwh_by_hour = by_hour_of_week(tally, group);
  answer.duration_curve_kw = duration_curve(group.kw);
  answer.lowest_reading_c = group.lowest_reading_c;
  answer.highest_reading_c = group.highest_reading_c;
  return answer;
}

draw::TapResult together(const std::vector<draw::TapResult>& taps) {
  draw::TapResult all;
  for (const draw::TapResult& tap : taps) {
    all.draws += tap.draws;
    all.hot_at_once += tap.hot_at_once;
    all.hot_in_10_s += tap.hot_in_10_s;
    all.hot_in_30_s += tap.hot_in_30_s;
    all.open_10_s += tap.open_10_s;
    all.open_30_s += tap.open_30_s;
    all.litres += tap.litres;
    all.litres_wasted += tap.litres_wasted;
  }
  return all;
}

}  // namespace

Spread hot_after(const draw::TapResult& tap) {
  return {hot_after_quantile(tap, low_share), hot_after_quantile(tap, middle_share),
          hot_after_quantile(tap, high_share)};
}

Spread spread_of(std::vector<double> values) {
  if (values.empty()) return {unknown, unknown, unknown};
  const hold::Quantiles found = hold::quantiles_of(values);
  return {found.p5, found.p50, found.p95};
}

double log_reduction(const draw::TempSeconds& time_at, const physics::InactivationSet& set) {
  double tenfolds = 0;
  for (std::size_t bin = 0; bin < time_at.seconds.size(); ++bin) {
    const double middle_c = (static_cast<double>(bin) + 0.5) * draw::TempCounts::step_k;
    if (time_at.seconds[bin] > 0)
      tenfolds += time_at.seconds[bin] / physics::decimal_reduction_s(set, middle_c);
  }
  return tenfolds;
}

std::vector<OutletAnswer> outlet_answers(const draw::Scene& scene, const Tally& tally) {
  std::vector<OutletAnswer> answers;
  for (std::size_t i = 0; i < tally.taps.size(); ++i)
    answers.push_back(outlet_answer(scene.taps.at(i), tally.taps[i], tally.days()));
  return answers;
}

std::vector<RunAnswer> run_answers(const draw::Scene& scene, const Tally& tally) {
  const rules::GrowthBand band = rules::growth_band();
  std::vector<RunAnswer> answers;
  for (std::size_t i = 0; i < tally.runs.size(); ++i) {
    const int job_run = scene.runs.at(i).job_run;
    if (job_run != draw::none) answers.push_back(run_answer(job_run, tally.runs[i], band, tally.days()));
  }
  return answers;
}

std::vector<GroupAnswer> group_answers(const Tally& tally) {
  std::vector<GroupAnswer> answers;
  for (const GroupTally& group : tally.groups) answers.push_back(group_answer(tally, group));
  return answers;
}

BuildingAnswer building_answer(const Tally& tally) {
  const draw::TapResult taps = together(tally.taps);
  const double days = tally.days();
  BuildingAnswer answer;
  answer.cable_kwh_per_day = ratio(tally.balance.cable_j / joule_per_kwh, days);
  answer.heater_kwh_per_day = ratio(tally.heater_j / joule_per_kwh, days);
  answer.loss_kwh_per_day = ratio(tally.balance.loss_j / joule_per_kwh, days);
  answer.peak_kw = largest(tally.building_kw);
  answer.litres_per_day = ratio(taps.litres, days);
  answer.wasted_litres_per_day = ratio(taps.litres_wasted, days);
  answer.hot_at_once_frac = ratio(taps.hot_at_once, taps.draws);
  answer.hot_in_10_s_frac = ratio(taps.hot_in_10_s, taps.open_10_s);
  answer.hot_in_30_s_frac = ratio(taps.hot_in_30_s, taps.open_30_s);
  answer.lowest_supply_c = tally.lowest_supply_c;
  answer.balance_residual_frac =
      ratio(tally.balance.residual_j, tally.balance.supply_j + tally.balance.cable_j);
  return answer;
}

int worst_tap(std::span<const OutletAnswer> outlets) {
  const auto badness = [&](std::size_t i) {
    const OutletAnswer& tap = outlets[i];
    const double hot_frac = std::isnan(tap.hot_in_10_s_frac) ? never : tap.hot_in_10_s_frac;
    return std::tuple(hot_frac, -tap.hot_after_s.p50, -tap.hot_after_s.p95, std::string_view(tap.tap));
  };
  int worst = draw::none;
  for (std::size_t i = 0; i < outlets.size(); ++i) {
    if (!(outlets[i].draws_per_day > 0)) continue;
    if (worst == draw::none || badness(i) < badness(at(worst))) worst = static_cast<int>(i);
  }
  return worst;
}

}  // namespace firstdraw::forecast
