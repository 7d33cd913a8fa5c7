#include "serve/series.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace firstdraw::serve {
namespace {

using draw::at;
using nlohmann::json;

double tenth(double value) { return std::round(10 * value) / 10; }

/// Which of the records are told.
struct Steps {
  std::size_t first = 0, end = 0, stride = 1;
};

Steps steps_of(const SeriesSource& source, double every_s, double from_s) {
  Steps steps;
  steps.end = source.records.time_s.size();
  steps.stride = static_cast<std::size_t>(std::max(1.0, std::round(every_s / source.every_s)));
  while (steps.first < steps.end && source.records.time_s[steps.first] < from_s) steps.first += steps.stride;
  return steps;
}

/// One column of flat values.
template <class Values>
json column(const Values& values, const Steps& steps, std::size_t width, std::size_t place) {
  json list = json::array();
  for (std::size_t row = steps.first; row < steps.end; row += steps.stride) {
    const double value = values[row * width + place];
    list.push_back(std::isfinite(value) ? json(tenth(value)) : json());
  }
  return list;
}

}  // namespace

SeriesSource series_of(const job::Job& job, const draw::Scene& scene, const draw::Records& records,
                       double every_s) {
  SeriesSource source;
  source.every_s = every_s;
  source.records = records;
  if (!records.time_s.empty()) source.begin_s = records.time_s.front();
  for (const draw::SceneRun& run : scene.runs)
    source.runs.push_back(run.job_run == draw::none ? "" : job.runs[at(run.job_run)].id);
  for (const draw::Tap& tap : scene.taps) source.taps.push_back(tap.id);
  for (const draw::SceneGroup& group : scene.groups) {
    source.groups.push_back(group.id);
    std::vector<double>& held = source.setpoints_c.emplace_back();
    for (const double time_s : records.time_s)
      held.push_back(draw::set_point_c(group.control, time_s).value_or(std::nan("")));
  }
  return source;
}

json series_json(const SeriesSource& source, double every_s, double from_s) {
  const Steps steps = steps_of(source, every_s, from_s);
  json runs = json::array(), taps = json::array(), groups = json::array();
  for (std::size_t r = 0; r < source.runs.size(); ++r)
    if (!source.runs[r].empty())
      runs.push_back(
          {{"id", source.runs[r]}, {"water_c", column(source.records.run_c, steps, source.runs.size(), r)}});
  for (std::size_t t = 0; t < source.taps.size(); ++t)
    taps.push_back(
        {{"id", source.taps[t]}, {"water_c", column(source.records.tap_c, steps, source.taps.size(), t)}});
  for (std::size_t g = 0; g < source.groups.size(); ++g)
    groups.push_back({{"id", source.groups[g]},
                      {"power_w", column(source.records.group_w, steps, source.groups.size(), g)},
                      {"setpoint_c", column(source.setpoints_c[g], steps, 1, 0)}});
  return {{"every_s", source.every_s * static_cast<double>(steps.stride)},
          {"begin_s", source.begin_s + source.every_s * static_cast<double>(steps.first)},
          {"runs", std::move(runs)},
          {"taps", std::move(taps)},
          {"groups", std::move(groups)}};
}

}  // namespace firstdraw::serve
