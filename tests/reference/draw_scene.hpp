// Tiny scenes made by hand, for what the engine must agree with.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "draw/simulate.hpp"

namespace firstdraw::reference {

constexpr double pi = std::numbers::pi;
/// Of a part that should hold no heat: the engine wants every capacity above 0.
constexpr double hardly_any_j_per_m_k = 1e-3;

/// Loss through something that stores no heat.
inline physics::RadialLadder loss_only(double loss_w_per_m_k) {
  physics::RadialLadder ladder;
  ladder.wall_to_inner_w_per_m_k = ladder.inner_to_outer_w_per_m_k = ladder.outer_to_air_w_per_m_k =
      3 * loss_w_per_m_k;
  ladder.inner_j_per_m_k = ladder.outer_j_per_m_k = hardly_any_j_per_m_k;
  return ladder;
}

/// The air stands at `start_c` at `begin_s` and at `air_c` right after: a cold start begins at `start_c`.
inline draw::Series air_after(double start_c, double air_c, double begin_s) {
  return {{begin_s, begin_s + 1e-3}, {start_c, air_c}};
}

struct PipeGiven {
  double length_m = 1, inner_diameter_m = 0.02;
  int cells = 1;
  double wall_j_per_m_k = hardly_any_j_per_m_k, loss_w_per_m_k = 1e-9;
  double film_w_per_m2_k = 1e5;  // so large that it does not count
  draw::Series air_c = 20.0;
};

inline draw::SceneRun pipe_run(const PipeGiven& given, int upstream = draw::none) {
  draw::SceneRun run;
  run.id = "pipe";
  run.upstream = upstream;
  run.length_m = given.length_m;
  run.inner_diameter_m = given.inner_diameter_m;
  run.cells = given.cells;
  run.wall_j_per_m_k = given.wall_j_per_m_k;
  run.insulation = loss_only(given.loss_w_per_m_k);
  run.loss_u0 = given.loss_w_per_m_k;
  run.standing_film_w_per_m2_k = run.flowing_film_w_per_m2_k = given.film_w_per_m2_k;
  run.air_c = given.air_c;
  return run;
}

/// One pipe from an endless supply to a tap.
inline draw::Scene one_pipe(const PipeGiven& given) {
  draw::Scene scene;
  scene.runs = {pipe_run(given)};
  scene.taps.resize(1);
  scene.taps[0].id = "tap";
  scene.taps[0].run = 0;
  return scene;
}

/// Heats every run with `curve`, always on.
inline void heat(draw::Scene& scene, const draw::CableCurve& curve) {
  scene.cables = {curve};
  draw::SceneGroup group;
  group.id = "group";
  group.control.hold_c = 50;
  group.contactor = draw::SceneGroup::Contactor::stuck_on;
  scene.groups = {group};
  for (draw::SceneRun& run : scene.runs) {
    run.group = run.cable = 0;
    run.cable_share = 1;
  }
}

/// Straight over temperature, not below 0.
inline draw::CableCurve straight_cable(double at_0_c_w_per_m, double w_per_m_k) {
  draw::CableCurve curve;
  for (int i = 0; i < draw::CableCurve::points; ++i) {
    const double wall_c = draw::CableCurve::first_c + i * draw::CableCurve::step_k;
    curve.power_w_per_m[i] = std::max(0.0, at_0_c_w_per_m + w_per_m_k * wall_c);
  }
  return curve;
}

/// From time 0, everything at the air's temperature of before.
inline draw::Options from_cold(double end_s, double tick_s) {
  draw::Options options;
  options.begin_s = 0;
  options.end_s = end_s;
  options.run_in_s = 0;
  options.start = draw::Start::cold;
  options.tick_s = options.record_every_s = tick_s;
  return options;
}

/// One column of records, straight between them.
inline double recorded(const draw::Records& records, const std::vector<float>& values, double time_s,
                       std::size_t index = 0) {
  const std::size_t width = values.size() / records.time_s.size();
  const auto after = std::ranges::lower_bound(records.time_s, time_s);
  const auto i = static_cast<std::size_t>(std::min(after, records.time_s.end() - 1) - records.time_s.begin());
  const auto value = [&](std::size_t record) { return static_cast<double>(values[record * width + index]); };
  if (i == 0) return value(0);
  const double share = (time_s - records.time_s[i - 1]) / (records.time_s[i] - records.time_s[i - 1]);
  return value(i - 1) + share * (value(i) - value(i - 1));
}

}  // namespace firstdraw::reference
