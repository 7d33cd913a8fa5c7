#include "forecast/replay.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "physics/water.hpp"

namespace firstdraw::forecast {

namespace {

constexpr double step_of_air_s = 1e-3;      // in which the air comes from the start's temperature to its own
constexpr double most_recorded = 2e7;       // values of one quantity
constexpr double shortest_record_s = 0.25;  // a front takes longer than that to pass a tap

const draw::Series* driven(const RecordedLog& log, LogUse use, std::string_view place) {
  for (const LogDrive& drive : log.drives)
    if (drive.use == use && drive.place == place) return &drive.values;
  return nullptr;
}

/// Space of every run of the scene; a runout's is its outlet's.
std::vector<std::string> spaces_of(const job::Job& job, const draw::Scene& scene) {
  std::vector<std::string> spaces(scene.runs.size());
  for (std::size_t i = 0; i < scene.runs.size(); ++i) {
    const int run = scene.runs[i].job_run;
    if (run != draw::none) spaces[i] = job.runs[draw::at(run)].space;
  }
  for (const draw::Tap& tap : scene.taps)
    if (tap.outlet != draw::none) spaces[draw::at(tap.run)] = job.outlets[draw::at(tap.outlet)].space;
  return spaces;
}

/// Begins at `start_c`, where a cold start looks, and goes on as `air_c`.
draw::Series starting_at(double start_c, const draw::Series& air_c, double begin_s) {
  const double after_s = begin_s + step_of_air_s;
  std::vector<double> times_s{begin_s, after_s}, values{start_c, air_c.at(after_s)};
  for (std::size_t i = 0; i < air_c.times_s().size(); ++i) {
    if (air_c.times_s()[i] <= after_s) continue;
    times_s.push_back(air_c.times_s()[i]);
    values.push_back(air_c.values()[i]);
  }
  return {std::move(times_s), std::move(values)};
}

void drive_air(draw::Scene& scene, const job::Job& job, const RecordedLog& log,
               std::optional<double> start_c) {
  const std::vector<std::string> spaces = spaces_of(job, scene);
  for (std::size_t i = 0; i < scene.runs.size(); ++i) {
    draw::Series& air_c = scene.runs[i].air_c;
    const draw::Series* own = driven(log, LogUse::air, spaces[i]);
    if (own == nullptr) own = driven(log, LogUse::air, "");
    if (own != nullptr) air_c = *own;
    if (start_c) air_c = starting_at(*start_c, air_c, log.begin_s);
  }
}

/// Recorded water enters as it is: no tank runs down, no valve tempers.
void drive_supply(draw::Scene& scene, const RecordedLog& log) {
  const draw::Series* recorded = driven(log, LogUse::supply, "");
  if (recorded == nullptr) return;
  draw::Supply supply;
  supply.stored_c = *recorded;
  supply.cold_c = scene.supply.cold_c;
  scene.supply = supply;
  const physics::Water water = physics::water(recorded->mean(log.begin_s, log.end_s));
  scene.water_j_per_m3_k = water.density_kg_per_m3 * water.heat_capacity_j_per_kg_k;
}

/// A quarter of the log's interval, a whole number of times in the log.
double record_interval_s(const RecordedLog& log, std::size_t runs) {
  const double length_s = log.end_s - log.begin_s;
  const double most = most_recorded / static_cast<double>(runs);
  const double wanted_s = std::max({log.usual_interval_s / 4, shortest_record_s, length_s / most});
  return length_s / std::ceil(length_s / wanted_s);
}

/// Records at every tick, so that the log's begin and end are recorded too.
draw::Options options_for(const RecordedLog& log, std::size_t runs, const ReplayOptions& options) {
  draw::Options run;
  run.begin_s = log.begin_s;
  run.end_s = log.end_s;
  run.tick_s = record_interval_s(log, runs);
  run.record_every_s = run.tick_s / 2;
  run.run_in_s = options.start_c ? 0 : run.tick_s * std::ceil(draw::day_s / run.tick_s);
  if (options.start_c) run.start = draw::Start::cold;
  run.progress = options.progress;
  return run;
}

/// One column of records, straight between them.
class Recorded {
 public:
  Recorded(const draw::Records& records, const draw::Scene& scene, const LogTrace& trace)
      : times_s_(records.time_s), index_(draw::at(trace.index)) {
    width_ = scene.runs.size();
    if (trace.tap) {
      values_ = &records.tap_c;
      width_ = scene.taps.size();
    } else if (trace.use == LogUse::reading) {
      values_ = &records.reading_c;
      width_ = scene.groups.size();
    } else {
      values_ = trace.use == LogUse::wall ? &records.run_end_wall_c : &records.run_end_c;
    }
  }
  /// NaN beyond the records.
  double at(double time_s) const {
    const auto after = std::ranges::lower_bound(times_s_, time_s);
    if (after == times_s_.end()) return std::numeric_limits<double>::quiet_NaN();
    const auto i = static_cast<std::size_t>(after - times_s_.begin());
    if (i == 0) return time_s < times_s_[0] ? std::numeric_limits<double>::quiet_NaN() : value(0);
    const double share = (time_s - times_s_[i - 1]) / (times_s_[i] - times_s_[i - 1]);
    return value(i - 1) + share * (value(i) - value(i - 1));
  }

 private:
  double value(std::size_t record) const { return static_cast<double>((*values_)[record * width_ + index_]); }

  const std::vector<double>& times_s_;
  const std::vector<float>* values_ = nullptr;
  std::size_t index_, width_ = 0;
};

ReplayTrace compare(const LogTrace& recorded, const Recorded& simulated) {
  ReplayTrace trace;
  trace.column = recorded.column;
  trace.what = recorded.what;
  double sum_k = 0, squares_k2 = 0;
  for (std::size_t i = 0; i < recorded.time_s.size(); ++i) {
    const double simulated_c = simulated.at(recorded.time_s[i]);
    if (std::isnan(simulated_c)) continue;
    const double off_k = simulated_c - recorded.temp_c[i];
    trace.time_s.push_back(recorded.time_s[i]);
    trace.recorded_c.push_back(recorded.temp_c[i]);
    trace.simulated_c.push_back(simulated_c);
    sum_k += off_k;
    squares_k2 += off_k * off_k;
    if (std::abs(off_k) <= std::abs(trace.largest_k)) continue;
    trace.largest_k = off_k;
    trace.largest_at_s = recorded.time_s[i];
  }
  const auto points = static_cast<double>(trace.time_s.size());
  trace.bias_k = sum_k / points;
  trace.rmse_k = std::sqrt(squares_k2 / points);
  return trace;
}

double litres(const std::vector<draw::Draw>& draws) {
  double volume_m3 = 0;
  for (const draw::Draw& draw : draws) volume_m3 += draw.flow_m3_per_s * draw.duration_s;
  return 1000 * volume_m3;
}

std::vector<std::string> notes_on(const RecordedLog& log, const ReplayOptions& options) {
  std::vector<std::string> notes;
  notes.push_back(options.start_c
                      ? fmt::format("at the start all pipes and all water are at {:.1f} °C", *options.start_c)
                      : "before the log nobody draws for a day, with its first supply and air");
  if (driven(log, LogUse::supply, "") == nullptr)
    notes.emplace_back("no supply in the log: the job's supply enters");
  if (log.water_kg_per_m3 > 0)
    notes.push_back(fmt::format("a flow of mass is taken at {:.1f} kg/m³, the water that enters on average",
                                log.water_kg_per_m3));
  if (log.draws.empty()) notes.emplace_back("no water is drawn");
  if (log.longest_interval_s > 5 * log.usual_interval_s)
    notes.push_back(
        fmt::format("the longest interval between two rows is {:.5g} s (it ends on line {}), the usual "
                    "one {:.3g} s: between rows everything goes straight",
                    log.longest_interval_s, log.longest_interval_line, log.usual_interval_s));
  if (!log.unused_columns.empty())
    notes.push_back(fmt::format("columns not used: {}", fmt::join(log.unused_columns, ", ")));
  return notes;
}

}  // namespace

Replay replay(const job::Job& job, draw::Scene scene, RecordedLog log, const ReplayOptions& options) {
  drive_supply(scene, log);
  drive_air(scene, job, log, options.start_c);
  const draw::Result result = draw::simulate(scene, log.draws, options_for(log, scene.runs.size(), options));
  Replay replay;
  replay.options = options;
  for (const LogTrace& trace : log.traces) {
    ReplayTrace compared = compare(trace, Recorded(result.records, scene, trace));
    if (!compared.time_s.empty()) replay.traces.push_back(std::move(compared));
  }
  replay.litres = litres(log.draws);
  const double in_j = result.balance.supply_j + result.balance.cable_j;
  replay.balance_residual_frac = in_j == 0 ? 0 : std::abs(result.balance.residual_j / in_j);
  replay.notes = notes_on(log, options);
  replay.stopped = result.stopped;
  replay.log = std::move(log);
  return replay;
}

namespace {

nlohmann::json to_json(const ReplayTrace& trace, const RecordedLog& log) {
  return {{"column", trace.column},
          {"what", trace.what},
          {"points", trace.time_s.size()},
          {"bias_k", trace.bias_k},
          {"rmse_k", trace.rmse_k},
          {"largest_k", trace.largest_k},
          {"largest_at_s", trace.largest_at_s},
          {"largest_at", time_text(log, trace.largest_at_s)},
          {"time_s", trace.time_s},
          {"recorded_c", trace.recorded_c},
          {"simulated_c", trace.simulated_c}};
}

}  // namespace

nlohmann::json to_json(const Replay& replay) {
  const RecordedLog& log = replay.log;
  nlohmann::json json{{"begin_s", log.begin_s},    {"end_s", log.end_s},
                      {"dated", log.dated},        {"rows", log.rows},
                      {"draws", log.draws.size()}, {"drawn_l", replay.litres},
                      {"start_c", nullptr},        {"balance_residual_frac", replay.balance_residual_frac},
                      {"stopped", replay.stopped}, {"unused_columns", log.unused_columns},
                      {"notes", replay.notes},     {"places", nlohmann::json::array()}};
  if (replay.options.start_c) json["start_c"] = *replay.options.start_c;
  for (const ReplayTrace& trace : replay.traces) json["places"].push_back(to_json(trace, log));
  return json;
}

}  // namespace firstdraw::forecast
