#include "serve/series.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace firstdraw::serve {
namespace {

using draw::at;
using nlohmann::json;

double tenth(double value) { return std::round(10 * value) / 10; }

/// One column of the flat records, every `stride` of them.
template <class Values>
json column(const Values& values, std::size_t records, std::size_t width, std::size_t place,
            std::size_t stride) {
  json list = json::array();
  for (std::size_t row = 0; row < records; row += stride) {
    const double value = values[row * width + place];
    list.push_back(std::isfinite(value) ? json(tenth(value)) : json());
  }
  return list;
}

json setpoints(const std::vector<double>& values, std::size_t records, std::size_t stride) {
  json list = json::array();
  for (std::size_t row = 0; row < records; row += stride)
    list.push_back(std::isfinite(values[row]) ? json(tenth(values[row])) : json());
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

json series_json(const SeriesSource& source, double every_s) {
  const std::size_t records = source.records.time_s.size();
  const auto stride = static_cast<std::size_t>(std::max(1.0, std::round(every_s / source.every_s)));
  json runs = json::array(), taps = json::array(), groups = json::array();
  for (std::size_t r = 0; r < source.runs.size(); ++r)
    if (!source.runs[r].empty())
      runs.push_back({{"id", source.runs[r]},
                      {"water_c", column(source.records.run_c, records, source.runs.size(), r, stride)}});
  for (std::size_t t = 0; t < source.taps.size(); ++t)
    taps.push_back({{"id", source.taps[t]},
                    {"water_c", column(source.records.tap_c, records, source.taps.size(), t, stride)}});
  for (std::size_t g = 0; g < source.groups.size(); ++g)
    groups.push_back({{"id", source.groups[g]},
                      {"power_w", column(source.records.group_w, records, source.groups.size(), g, stride)},
                      {"setpoint_c", setpoints(source.setpoints_c[g], records, stride)}});
  return {{"every_s", source.every_s * static_cast<double>(stride)},
          {"begin_s", source.begin_s},
          {"runs", std::move(runs)},
          {"taps", std::move(taps)},
          {"groups", std::move(groups)}};
}

}  // namespace firstdraw::serve
