// Logs with a known truth: the simulated network with planted insulation, air, cable and draws, read by a
// noisy, rounding logger. What is planted in water, film and sensor is drawn from the widths that the
// estimates assume; nothing else of the estimator is used.
#pragma once

#include <cmath>
#include <random>

#include "draw/simulate.hpp"
#include "forecast/scene.hpp"
#include "forecast/test_building.hpp"
#include "plan/sections.hpp"
#include "watch/logged.hpp"

namespace firstdraw::reference {

struct PlantedLog {
  double insulation_factor = 1, air_shift_k = 0, cable_factor = 1;
  double noise_k = 0.1, rounded_k = 0.1;
  bool on_logged = true, air_logged = false, night_setback = true;
  double nuisance_share = 1;  // of the widths of heat stored, film and sensor
  int draws_per_tap_and_day = 10;
  double days = 1.5, every_s = 60;
  std::uint64_t seed = 1;
};

/// 2026-03-02 00:00 UTC, a Monday.
inline constexpr std::int64_t log_begin_ms = 1'772'409'600'000;

inline forecast::Planned building_with(std::vector<job::Period> periods, double maintain_c = 55) {
  forecast::Planned made;
  job::ControlGroup& group = made.job.groups[0];
  group.maintain_c = maintain_c;
  group.setback_c = maintain_c - 10;
  group.low_alarm_c = 40;
  group.high_alarm_c = 65;
  made.job.supply = {"heater", "", "L1", 60, 60, 10};
  made.job.periods = std::move(periods);
  made.plan = plan::make_plan(made.job, forecast::quick());
  return made;
}

inline forecast::Planned watched_building(bool night_setback) {
  if (!night_setback) return building_with({});
  return building_with({{"main", 0x7f, 22 * 3600.0, 5 * 3600.0, job::Period::Setting::setback, 0}});
}

struct LogOf {
  watch::Logged logged;
  double conductance_frac = 1, air_c = 0, cable_frac = 1;
  std::vector<bool> drawn;  // by reading: water moved through the sensor's run since the one before
};

inline void add_draws(const draw::Scene& scene, const PlantedLog& planted, double begin_s, double end_s,
                      std::vector<draw::Draw>& draws) {
  std::mt19937_64 random(planted.seed * 7919);
  std::uniform_real_distribution<double> share;
  const double days = (end_s - begin_s) / draw::day_s;
  for (std::size_t tap = 0; tap < scene.taps.size(); ++tap)
    for (int i = 0; i < planted.draws_per_tap_and_day * days; ++i) {
      const double day = std::floor(share(random) * std::ceil(days));
      const double hour = 6 + 16 * share(random);
      const double open_s = begin_s + day * draw::day_s + hour * draw::hour_s;
      draws.push_back({static_cast<int>(tap), open_s, 15 + 200 * share(random) * share(random),
                       (2 + 6 * share(random)) / 60000});
    }
  draw::sort_draws(draws);
}

inline LogOf log_of(const forecast::Planned& building, const PlantedLog& planted) {
  std::mt19937_64 random(planted.seed);
  std::normal_distribution<double> normal;
  forecast::SceneOptions options;
  const std::size_t runs = building.job.runs.size();
  options.variation.insulation_factor.assign(runs, planted.insulation_factor);
  options.variation.air_shift_k.assign(runs, planted.air_shift_k);
  options.variation.cable_factor.assign(building.job.cables.size(), planted.cable_factor);
  options.variation.sensor_shift_k = {0.5 * planted.nuisance_share * normal(random)};
  draw::Scene scene = forecast::make_scene(building.job, building.plan, options);
  const double capacity = std::exp(0.04 * planted.nuisance_share * normal(random)),
               rise = std::exp(0.3 * planted.nuisance_share * normal(random));
  scene.water_j_per_m3_k *= capacity;
  for (draw::SceneRun& run : scene.runs) {
    run.wall_j_per_m_k *= capacity;
    run.standing_film_w_per_m2_k /= rise;
  }
  scene.groups[0].sensor_k_per_w_per_m *= rise;

  draw::Options simulated;
  simulated.begin_s = 0;
  simulated.end_s = planted.days * draw::day_s;
  simulated.run_in_s = draw::day_s / 2;
  simulated.record_every_s = planted.every_s;
  simulated.record_controls_only = true;
  std::vector<draw::Draw> draws;
  add_draws(scene, planted, 0, simulated.end_s, draws);
  const draw::Result result = draw::simulate(scene, draws, simulated);

  LogOf made;
  const std::size_t count = result.records.time_s.size();
  watch::LoggedSeries sensor{{1, "main.sensor", "temperature", "main"}, {}};
  watch::LoggedSeries on{{2, "main.on", "on", "main"}, {}},
      air{{3, "ceiling.air", "temperature", "ceiling"}, {}};
  made.air_c = 21 + planted.air_shift_k;
  const double air_bias = 0.5 * normal(random);
  std::size_t next = 0;
  double moving_until_s = -1;
  for (std::size_t i = 0; i < count; ++i) {
    const double time_s = result.records.time_s[i];
    const std::int64_t at = log_begin_ms + static_cast<std::int64_t>(1000 * time_s);
    const double reading =
        static_cast<double>(result.records.reading_c[i]) + planted.noise_k * normal(random);
    sensor.samples.push_back({at, std::round(reading / planted.rounded_k) * planted.rounded_k});
    on.samples.push_back({at, result.records.duty_frac[i] > 0.5f ? 1.0 : 0.0});
    if (i % 10 == 0) air.samples.push_back({at, made.air_c + air_bias + 0.1 * normal(random)});
    bool drawn = moving_until_s > time_s - planted.every_s;
    for (; next < draws.size() && draws[next].open_s <= time_s; ++next) {
      drawn = true;
      moving_until_s = std::max(moving_until_s, draws[next].open_s + draws[next].duration_s);
    }
    made.drawn.push_back(drawn);
  }
  made.logged.from_ms = log_begin_ms;
  made.logged.to_ms = sensor.samples.back().at_ms + 1;
  made.logged.series = {sensor};
  if (planted.on_logged) made.logged.series.push_back(on);
  if (planted.air_logged) made.logged.series.push_back(air);

  plan::Sections sections;
  const job::Run& run = building.job.runs[1];
  const hold::LossCurve& loss = sections.loss(run, building.plan.runs[1].insulation);
  made.conductance_frac =
      loss.loss_w_per_m(50, made.air_c, planted.insulation_factor) / loss.loss_w_per_m(50, made.air_c, 1);
  made.cable_frac = planted.cable_factor;
  return made;
}

}  // namespace firstdraw::reference
