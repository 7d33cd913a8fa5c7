#include "settings/ordinary_year.hpp"

#include <algorithm>
#include <limits>

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr double infinity = std::numeric_limits<double>::infinity();

draw::Options week_options(forecast::SharedProgress& progress, std::size_t task) {
  draw::Options how;
  how.record_every_s = alarm_step_s;
  how.record_controls_only = true;
  how.progress = [&progress, task](double done_frac) { return progress.report(task, done_frac); };
  return how;
}

double longest_rest_s(const std::vector<float>& duty_frac) {
  std::size_t longest = 0, rest = 0;
  for (const float duty : duty_frac) {
    rest = duty > 0 ? 0 : rest + 1;
    longest = std::max(longest, rest);
  }
  return static_cast<double>(longest) * alarm_step_s;
}

void take_readings(const draw::Scene& scene, const draw::Records& records, OrdinaryYear& year) {
  for (std::size_t g = 0; g < scene.groups.size(); ++g) {
    OrdinaryGroup& group = year.groups[g];
    const int index = static_cast<int>(g);
    const auto duty_frac = column(records.duty_frac, scene.groups.size(), index);
    group.longest_rest_s = std::max(group.longest_rest_s, longest_rest_s(duty_frac));
    if (heeds_sensor(scene.groups[g]))
      group.reading_c.push_back(column(records.reading_c, scene.groups.size(), index));
  }
}

void take_runs(const draw::Scene& scene, const draw::Result& result, OrdinaryYear& year) {
  for (std::size_t r = 0; r < scene.runs.size(); ++r) {
    if (scene.runs[r].group == draw::none) continue;
    OrdinaryGroup& group = year.groups[at(scene.runs[r].group)];
    group.coldest_c = std::min(group.coldest_c, result.runs[r].min_c);
    group.hottest_c = std::max(group.hottest_c, result.runs[r].max_c);
  }
}

}  // namespace

bool heeds_sensor(const draw::SceneGroup& group) {
  return group.sensor_run != draw::none && group.sensor_present &&
         group.control.mode != draw::ControlMode::open_loop;
}

std::vector<float> column(const std::vector<float>& table, std::size_t groups, int group) {
  std::vector<float> values;
  values.reserve(table.size() / groups);
  for (std::size_t i = at(group); i < table.size(); i += groups) values.push_back(table[i]);
  return values;
}

OrdinaryYear live_ordinary(const Lab& lab, const ProofOptions& options, int weeks,
                           forecast::SharedProgress& progress) {
  const auto members = forecast::variations(lab.job(), weeks / 2 + 1, options.seed);
  const auto make = [&](std::size_t week) {
    forecast::SceneOptions building;
    if (week % 2 == 1) building.variation = members.at((week + 1) / 2);
    return lab.live(lab.scene(building), week_options(progress, week),
                    week_seed(options.seed, WeekKind::ordinary, week));
  };
  OrdinaryYear year{weeks, {}};
  year.groups.resize(lab.nominal().groups.size(), {{}, infinity, -infinity, 0});
  forecast::in_order(options.threads, static_cast<std::size_t>(weeks), make,
                     [&](std::size_t, const draw::Result& result) {
                       take_readings(lab.nominal(), result.records, year);
                       take_runs(lab.nominal(), result, year);
                     });
  return year;
}

}  // namespace firstdraw::settings
