#include "solvers/small_scenes.hpp"

namespace firstdraw::solvers {
namespace {

constexpr double litre_per_s = 1e-3;

/// Straight from 22 W/m at 0 degC to 2 W/m at 80 degC: invented.
draw::CableCurve falling_cable() {
  draw::CableCurve curve;
  for (int i = 0; i < draw::CableCurve::points; ++i)
    curve.power_w_per_m[i] = 22 - 0.25 * (draw::CableCurve::first_c + i * draw::CableCurve::step_k);
  return curve;
}

/// Copper in mineral wool, figures of the right size but invented.
draw::SceneRun insulated(const char* id, int upstream, double length_m, double bore_m,
                         double wall_j_per_m_k) {
  draw::SceneRun run;
  run.id = id, run.upstream = upstream;
  run.length_m = length_m, run.inner_diameter_m = bore_m, run.wall_j_per_m_k = wall_j_per_m_k;
  run.cells = static_cast<int>(length_m + 0.5);
  run.insulation = {0.55, 0.42, 0.70, 55, 130};
  run.loss_u0 = 0.150, run.loss_u1 = 3e-4, run.loss_u2 = 1e-6;
  run.standing_film_w_per_m2_k = 300;
  run.flowing_film_w_per_m2_k = 3500;
  run.air_c = 18.0;
  return run;
}

draw::SceneRun traced(draw::SceneRun run) {
  run.group = 0, run.cable = 0, run.cable_share = 0.9;
  return run;
}

/// A runout in thin foam, without cable.
draw::SceneRun thin(draw::SceneRun run) {
  run.insulation = {0.9, 0.8, 0.9, 12, 18};
  run.loss_u0 = 0.28, run.loss_u1 = 1e-3, run.loss_u2 = 0;
  return run;
}

draw::SceneGroup open_loop(double share) {
  draw::SceneGroup group;
  group.id = "riser";
  group.control.mode = draw::ControlMode::open_loop;
  group.control.hold_c = 50;
  group.control.cycle_s = 20;
  group.control.open_loop_at_c = {20, 80};
  group.control.open_loop_duty = {share, share};
  return group;
}

draw::Tap tap(const char* id, int run) {
  draw::Tap result;
  result.id = id, result.run = run;
  return result;
}

}  // namespace

Case small_tree() {
  Case result;
  result.scene.runs = {traced(insulated("main", draw::none, 12, 0.026, 260)),
                       traced(insulated("riser", 0, 8, 0.020, 190)),
                       traced(insulated("near", 1, 5, 0.014, 120)),
                       insulated("cool", 1, 6, 0.014, 120),
                       traced(insulated("far", 1, 9, 0.014, 120)),
                       thin(insulated("near#1", 2, 3, 0.010, 75)),
                       thin(insulated("cool#1", 3, 3, 0.010, 75)),
                       thin(insulated("far#1", 4, 4, 0.010, 75))};
  result.scene.taps = {tap("near", 5), tap("cool", 6), tap("far", 7)};
  result.scene.groups = {open_loop(0.6)};
  result.scene.cables = {falling_cable()};
  result.draws = {{0, 300, 40, 0.08 * litre_per_s},  {1, 310, 90, 0.10 * litre_per_s},
                  {2, 600, 120, 0.12 * litre_per_s}, {0, 660, 15, 0.06 * litre_per_s},
                  {1, 900, 25, 0.10 * litre_per_s},  {2, 1500, 30, 0.09 * litre_per_s},
                  {0, 1515, 30, 0.08 * litre_per_s}, {1, 2400, 60, 0.07 * litre_per_s},
                  {2, 2460, 20, 0.12 * litre_per_s}, {0, 3000, 8, 0.08 * litre_per_s},
                  {2, 3300, 45, 0.10 * litre_per_s}, {1, 3310, 12, 0.10 * litre_per_s}};
  result.end_s = 3600;
  return result;
}

Case cooling_tree() {
  constexpr double air_c = 20, light_wall_j_per_m_k = 1, light_layer_j_per_m_k = 0.25;
  Case result;
  result.scene.runs = {insulated("main", draw::none, 12, 0.026, 0), insulated("riser", 0, 8, 0.020, 0),
                       insulated("near", 1, 5, 0.014, 0),           insulated("far", 1, 9, 0.014, 0),
                       insulated("near#1", 2, 3, 0.010, 0),         insulated("far#1", 3, 4, 0.010, 0)};
  for (draw::SceneRun& run : result.scene.runs) {
    run.wall_j_per_m_k = light_wall_j_per_m_k;
    run.insulation = {0.9, 0.9, 0.9, light_layer_j_per_m_k, light_layer_j_per_m_k};
    run.loss_u0 = run.insulation.steady_w_per_m_k(), run.loss_u1 = run.loss_u2 = 0;
    run.standing_film_w_per_m2_k = run.flowing_film_w_per_m2_k = 300;
    run.air_c = air_c;
  }
  result.scene.taps = {tap("near", 4), tap("far", 5)};
  result.draws = {{0, 60, 120, 0.08 * litre_per_s},   {1, 120, 180, 0.10 * litre_per_s},
                  {0, 600, 30, 0.06 * litre_per_s},   {1, 900, 60, 0.12 * litre_per_s},
                  {0, 930, 60, 0.08 * litre_per_s},   {1, 1800, 20, 0.08 * litre_per_s},
                  {0, 2400, 150, 0.05 * litre_per_s}, {1, 2460, 90, 0.10 * litre_per_s},
                  {0, 3300, 30, 0.08 * litre_per_s},  {1, 3360, 60, 0.06 * litre_per_s}};
  result.end_s = 3600, result.held = false, result.shortest_time_s = 0.05;
  return result;
}

}  // namespace firstdraw::solvers
