#include "draw/scene.hpp"

#include <algorithm>
#include <stdexcept>

namespace firstdraw::draw {
namespace {

[[noreturn]] void broken(const std::string& where, const char* what) {
  throw std::logic_error("scene, " + where + ": " + what);
}

bool positive(const physics::RadialLadder& ladder) {
  return ladder.wall_to_inner_w_per_m_k > 0 && ladder.inner_to_outer_w_per_m_k > 0 &&
         ladder.outer_to_air_w_per_m_k > 0 && ladder.inner_j_per_m_k > 0 && ladder.outer_j_per_m_k > 0;
}

void check_run(const Scene& scene, int index) {
  const SceneRun& run = scene.runs[at(index)];
  if (run.upstream >= index || run.upstream < none) broken(run.id, "stands before the run that feeds it");
  if (!(run.length_m > 0) || !(run.inner_diameter_m > 0) || run.cells < 1) broken(run.id, "has no volume");
  if (!(run.wall_j_per_m_k > 0) || !positive(run.insulation)) broken(run.id, "has no heat capacity");
  if (!(run.standing_film_w_per_m2_k > 0)) broken(run.id, "has no standing film");
  if (!run.live_frac.empty() && run.live_frac.size() != at(run.cells)) broken(run.id, "live_frac per cell");
  if (run.group == none) return;
  if (at(run.group) >= scene.groups.size()) broken(run.id, "group unknown");
  if (run.cable < 0 || at(run.cable) >= scene.cables.size()) broken(run.id, "cable unknown");
}

void check_taps(const Scene& scene) {
  std::vector<bool> shared(scene.runs.size());
  for (const SceneRun& run : scene.runs)
    if (run.upstream != none) shared[at(run.upstream)] = true;
  for (const Tap& tap : scene.taps) {
    if (tap.run < 0 || at(tap.run) >= scene.runs.size()) broken(tap.id, "runout unknown");
    if (shared[at(tap.run)]) broken(tap.id, "shares its runout");
    shared[at(tap.run)] = true;
  }
}

}  // namespace

double CableCurve::at(double wall_c) const {
  const double place = std::clamp((wall_c - first_c) / step_k, 0.0, points - 1.0);
  const int below = std::min(static_cast<int>(place), points - 2);
  const double share = place - below;
  return power_w_per_m[below] + share * (power_w_per_m[below + 1] - power_w_per_m[below]);
}

void check(const Scene& scene) {
  for (std::size_t i = 0; i < scene.runs.size(); ++i) check_run(scene, static_cast<int>(i));
  check_taps(scene);
  for (const SceneGroup& group : scene.groups)
    if (group.sensor_run != none && draw::at(group.sensor_run) >= scene.runs.size())
      broken(group.id, "sensor on an unknown run");
  if (scene.supply.valve_run != none && draw::at(scene.supply.valve_run) >= scene.runs.size())
    broken("supply", "valve on an unknown run");
}

}  // namespace firstdraw::draw
