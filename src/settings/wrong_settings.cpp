#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "forecast/ensemble.hpp"
#include "plan/run_classes.hpp"
#include "settings/ordinary_year.hpp"
#include "settings/readings.hpp"
#include "settings/wrong_words.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr double joule_per_kwh = 3.6e6, reading_every_s = 600;
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// One group's week in figures.
struct GroupWeek {
  double kwh = 0, on_w = nan, mean_reading_c = nan, coldest_c = nan, band_h_per_day = 0, hot_frac = nan;
};

double mean(const std::vector<float>& values) {
  double sum = 0;
  for (const float value : values) sum += static_cast<double>(value);
  return values.empty() ? nan : sum / static_cast<double>(values.size());
}

void measure_runs(const draw::Scene& scene, const draw::Result& result, int group, GroupWeek& week) {
  const rules::GrowthBand band = rules::growth_band();
  const double days = (result.end_s - result.begin_s) / draw::day_s;
  for (std::size_t r = 0; r < scene.runs.size(); ++r) {
    if (scene.runs[r].group != group) continue;
    week.coldest_c = std::fmin(week.coldest_c, result.runs[r].time_at.mean_c());
    const double band_s = result.runs[r].time_at.between(band.low_c, band.high_c);
    week.band_h_per_day = std::max(week.band_h_per_day, band_s / draw::hour_s / days);
  }
}

double hot_in_10_s(const std::vector<int>& tap_groups, const draw::Result& result, int group) {
  std::uint64_t open = 0, hot = 0;
  for (std::size_t t = 0; t < tap_groups.size(); ++t) {
    if (tap_groups[t] != group) continue;
    open += result.taps[t].open_10_s;
    hot += result.taps[t].hot_in_10_s;
  }
  return open > 0 ? static_cast<double>(hot) / static_cast<double>(open) : nan;
}

GroupWeek measure(const Lab& lab, const draw::Result& result, int group) {
  const draw::Scene& scene = lab.nominal();
  const draw::GroupResult& own = result.groups[at(group)];
  GroupWeek week;
  const double energy_j = std::accumulate(own.energy_j.begin(), own.energy_j.end(), 0.0);
  week.kwh = energy_j / joule_per_kwh;
  if (own.on_frac > 0) week.on_w = energy_j / (own.on_frac * (result.end_s - result.begin_s));
  if (scene.groups[at(group)].sensor_run != draw::none)
    week.mean_reading_c = mean(column(result.records.reading_c, scene.groups.size(), group));
  measure_runs(scene, result, group, week);
  week.hot_frac = hot_in_10_s(group_of_tap(scene), result, group);
  return week;
}

/// Of the cables' usual voltage: current is power over it.
double voltage_ratio(const Lab& lab, const Wrong& wrong) {
  if (wrong.fault.kind != forecast::FaultKind::wrong_voltage) return 1;
  double sum = 0, length_m = 0;
  for (const draw::SceneRun& run : lab.nominal().runs) {
    if (run.group != wrong.group) continue;
    sum += run.length_m * lab.plan().runs[at(run.job_run)].voltage_frac;
    length_m += run.length_m;
  }
  const auto& group = lab.job().groups[at(wrong.group)];
  const double panel_v = lab.job().panels[at(plan::index_of(lab.job().panels, group.panel))].voltage_v;
  return wrong.fault.value / (panel_v * sum / length_m);
}

WrongSetting setting_of(const Lab& lab, const Wrong& wrong, const GroupWeek& right, const GroupWeek& now) {
  WrongSetting made;
  made.group = lab.job().groups[at(wrong.group)].id;
  made.what = wrong.what;
  made.fault = wrong.text;
  made.kwh_per_week = now.kwh;
  made.kwh_change_frac = right.kwh > 0 ? now.kwh / right.kwh - 1 : nan;
  made.mean_reading_c = now.mean_reading_c;
  made.reading_change_k = now.mean_reading_c - right.mean_reading_c;
  made.coldest_run_c = now.coldest_c;
  made.coldest_change_k = now.coldest_c - right.coldest_c;
  made.band_h_per_day = now.band_h_per_day;
  made.hot_in_10_s_frac = now.hot_frac;
  made.hot_change_frac = now.hot_frac - right.hot_frac;
  made.current_change_frac = now.on_w / right.on_w / voltage_ratio(lab, wrong) - 1;
  say(lab, wrong, made);
  return made;
}

/// One week: the groups in which this is wrong together.
using Trial = std::vector<Wrong>;

std::vector<Trial> trials_of(const Lab& lab, const Timetable& timetable) {
  std::vector<Trial> trials(1);  // the first has nothing wrong
  for (const WrongKind kind : wrong_kinds)
    for (const auto& groups : groups_apart(lab.nominal())) {
      Trial trial;
      for (const int group : groups)
        if (auto wrong = wrong_in(lab, timetable, kind, group)) trial.push_back(std::move(*wrong));
      if (!trial.empty()) trials.push_back(std::move(trial));
    }
  return trials;
}

std::vector<GroupWeek> live_trial(const Lab& lab, const Trial& trial, std::uint64_t seed,
                                  const std::function<bool(double)>& progress) {
  forecast::SceneOptions building;
  for (const Wrong& wrong : trial) building.faults.push_back(wrong.fault);
  draw::Options how;
  how.record_every_s = reading_every_s;
  how.record_controls_only = true;
  how.progress = progress;
  const draw::Result result = lab.live(lab.scene(building), how, week_seed(seed, WeekKind::wrong, 0));
  std::vector<GroupWeek> weeks;
  for (std::size_t g = 0; g < lab.nominal().groups.size(); ++g)
    weeks.push_back(measure(lab, result, static_cast<int>(g)));
  return weeks;
}

}  // namespace

std::vector<WrongSetting> wrong_settings(const job::Job& job, const plan::Plan& plan,
                                         const Timetable& timetable, const ProofOptions& options) {
  const Lab lab(job, plan, timetable, options);
  const std::vector<Trial> trials = trials_of(lab, timetable);
  forecast::SharedProgress progress(options.progress, trials.size());
  const auto make = [&](std::size_t i) {
    return live_trial(lab, trials[i], options.seed,
                      [&progress, i](double done_frac) { return progress.report(i, done_frac); });
  };
  std::vector<GroupWeek> right;
  std::vector<WrongSetting> all;
  forecast::in_order(options.threads, trials.size(), make, [&](std::size_t i, std::vector<GroupWeek>& weeks) {
    if (i == 0) right = weeks;
    for (const Wrong& wrong : trials[i])
      all.push_back(setting_of(lab, wrong, right[at(wrong.group)], weeks[at(wrong.group)]));
  });
  if (progress.stopped()) return {};
  std::ranges::stable_sort(
      all, {}, [&job](const WrongSetting& setting) { return plan::index_of(job.groups, setting.group); });
  return all;
}

}  // namespace firstdraw::settings
