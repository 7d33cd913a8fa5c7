// A small invented network for the tests of this room: insulated copper, one group, runs and taps added one
// by one.
#pragma once

#include <cmath>
#include <numbers>
#include <string>

#include "draw/simulate.hpp"

namespace firstdraw::draw {

struct TestScene {
  TestScene() {
    CableCurve curve;
    for (int i = 0; i < CableCurve::points; ++i)
      curve.power_w_per_m[i] = 20 - 0.2 * (CableCurve::first_c + i * CableCurve::step_k);
    scene.cables.push_back(curve);
    SceneGroup group;
    group.id = "G1";
    group.control.hold_c = 55;
    scene.groups.push_back(group);
    scene.supply.stored_c = 60.0;
  }

  /// Copper 22 x 1 in 30 mm of insulation, k 0.035; heated unless it says no. Returns its index.
  int pipe(int upstream, double length_m, bool heated = true, double outer_diameter_m = 0.022) {
    SceneRun run;
    run.id = "R" + std::to_string(scene.runs.size() + 1);
    run.upstream = upstream;
    run.length_m = length_m;
    run.inner_diameter_m = outer_diameter_m - 0.002;
    run.cells = static_cast<int>(std::ceil(length_m / cell_m - 1e-9));
    const double wall_m2 =
        std::numbers::pi / 4 *
        (outer_diameter_m * outer_diameter_m - run.inner_diameter_m * run.inner_diameter_m);
    run.wall_j_per_m_k = wall_m2 * 8900 * 385;
    const double jacket_m = outer_diameter_m + 0.060;
    const double layer = std::log(jacket_m / outer_diameter_m) / (2 * std::numbers::pi * 0.035);
    const double film = 1 / (10 * std::numbers::pi * jacket_m);
    const double stored =
        std::numbers::pi / 4 * (jacket_m * jacket_m - outer_diameter_m * outer_diameter_m) * 60 * 840;
    run.insulation = {1 / (0.25 * layer), 1 / (0.45 * layer), 1 / (0.3 * layer + film), 0.4 * stored,
                      0.25 * stored};
    run.loss_u0 = run.insulation.steady_w_per_m_k();
    run.standing_film_w_per_m2_k = 200;
    run.flowing_film_w_per_m2_k = 1500;
    run.air_c = 20.0;
    if (heated) {
      run.group = 0;
      run.cable = 0;
      run.cable_share = 1;
      run.linear_about_c = 55;
      if (scene.groups[0].sensor_run == none)
        scene.groups[0].sensor_run = static_cast<int>(scene.runs.size());
    }
    scene.runs.push_back(run);
    return static_cast<int>(scene.runs.size()) - 1;
  }
  /// A runout of 15 x 1, with its tap.
  int tap(int upstream, double length_m = 2) {
    const int run = pipe(upstream, length_m, false, 0.015);
    scene.taps.push_back({"T" + std::to_string(scene.taps.size() + 1), none, run, 45, {}});
    return static_cast<int>(scene.taps.size()) - 1;
  }
  void draw(int tap_index, double open_s, double duration_s, double litres_per_minute) {
    draws.push_back({tap_index, open_s, duration_s, litres_per_minute / 60000});
  }
  Result run(const Options& options) {
    sort_draws(draws);
    return simulate(scene, draws, options);
  }

  Scene scene;
  std::vector<Draw> draws;
  double cell_m = 0.5;
};

/// Two floors, four taps, a day of draws.
inline TestScene small_building() {
  TestScene t;
  const int main = t.pipe(none, 8, true, 0.035), riser = t.pipe(main, 6, true, 0.028);
  for (int floor = 0; floor < 2; ++floor) {
    const int branch = t.pipe(floor == 0 ? main : riser, 7);
    for (int side = 0; side < 2; ++side) t.tap(branch, 1.5 + side);
  }
  for (int tap = 0; tap < 4; ++tap)
    for (int i = 0; i < 12; ++i)
      t.draw(tap, 6 * hour_s + 977.0 * i * (tap + 1) + 131 * tap, 20 + 15 * (i % 4), 3 + tap);
  return t;
}

}  // namespace firstdraw::draw
