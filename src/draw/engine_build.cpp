#include <algorithm>
#include <cmath>
#include <numbers>

#include "draw/engine.hpp"

namespace firstdraw::draw {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double shortest_averaged_step_s = 600;

RunModel model_of(const Scene& scene, const SceneRun& run, std::size_t first) {
  RunModel model;
  model.first = first;
  model.cells = at(run.cells);
  model.cell_m = run.length_m / run.cells;
  model.area_m2 = pi / 4 * run.inner_diameter_m * run.inner_diameter_m;
  model.wetted_m = pi * run.inner_diameter_m;
  model.block_m3 = model.area_m2 * model.cell_m;
  model.water_j = scene.water_j_per_m3_k * model.area_m2;
  model.wall_j = run.wall_j_per_m_k;
  model.inner_j = run.insulation.inner_j_per_m_k;
  model.outer_j = run.insulation.outer_j_per_m_k;
  model.g0 = run.insulation.wall_to_inner_w_per_m_k;
  model.g1 = run.insulation.inner_to_outer_w_per_m_k;
  model.g2 = run.insulation.outer_to_air_w_per_m_k;
  model.u_ref = 1 / (1 / model.g0 + 1 / model.g1 + 1 / model.g2);
  model.u0 = run.loss_u0;
  model.u1 = run.loss_u1;
  model.u2 = run.loss_u2;
  model.standing_w_per_m_k = run.standing_film_w_per_m2_k * model.wetted_m;
  model.group = run.group;
  model.upstream = run.upstream;
  if (run.group != none) {
    model.share = run.cable_share;
    model.cable = &scene.cables[at(run.cable)];
  }
  return model;
}

GroupState group_state(const SceneGroup& group) {
  GroupState state{Controller(group.control), {}};
  state.averaged = group.control.mode != ControlMode::thermostat;
  state.averaged_step_s = std::max(group.control.cycle_s, shortest_averaged_step_s);
  return state;
}

}  // namespace

Engine::Engine(const Scene& scene, std::span<const Draw> draws, const Options& options)
    : scene_(scene), draws_(draws), options_(options) {
  check(scene);
  for (const SceneGroup& group : scene.groups) groups_.push_back(group_state(group));
  taps_.resize(scene.taps.size());
  result_.taps.resize(scene.taps.size());
  result_.groups.resize(scene.groups.size());
  build_runs();
  build_paths();
  start();
}

void Engine::build_runs() {
  std::size_t cells = 0;
  for (const SceneRun& run : scene_.runs) {
    model_.push_back(model_of(scene_, run, cells));
    RunModel& model = model_.back();
    if (std::isnan(run.flowing_film_w_per_m2_k)) model.film = &films_.of(run.inner_diameter_m, run.length_m);
    if (model.cable && std::isfinite(run.cable_until_s))
      to_lose_power_.push_back(static_cast<int>(model_.size()) - 1);
    if (!run.air_c.constant()) in_changing_air_.push_back(static_cast<int>(model_.size()) - 1);
    cells += model.cells;
  }
  for (int run = scene_.supply.valve_run; run != none; run = model_[at(run)].upstream)
    model_[at(run)].above_valve = true;
  for (std::size_t tap = 0; tap < scene_.taps.size(); ++tap)
    model_[at(scene_.taps[tap].run)].tap = static_cast<int>(tap);
  for (std::vector<double>* field : {&wall_, &inner_, &outer_, &source_, &lost_}) field->resize(cells);
  water_.resize(2 * cells);
  born_.resize(2 * cells);
  state_.resize(model_.size());
  propagators_.resize(model_.size());
  streams_.resize(model_.size());
  result_.runs.resize(model_.size());
}

void Engine::build_paths() {
  for (const Tap& tap : scene_.taps) {
    path_first_.push_back(static_cast<int>(path_.size()));
    for (int run = tap.run; run != none; run = model_[at(run)].upstream) path_.push_back(run);
    std::reverse(path_.begin() + path_first_.back(), path_.end());
  }
  path_first_.push_back(static_cast<int>(path_.size()));
}

/// Heated runs at their set-point, the rest at the air's temperature; insulation in its steady profile.
void Engine::start() {
  now_s_ = options_.begin_s - options_.run_in_s;
  for (std::size_t r = 0; r < model_.size(); ++r) {
    const RunModel& model = model_[r];
    RunState& state = state_[r];
    state.time_s = state.standing_since_s = now_s_;
    state.air_c = scene_.runs[r].air_c.at(now_s_);
    double water_c = state.air_c;
    if (options_.start == Start::held && model.group != none)
      water_c = set_point_c(scene_.groups[at(model.group)].control, now_s_).value_or(state.air_c);
    const double flux = model.u_ref * (water_c - state.air_c);
    for (std::size_t c = model.first; c < model.first + model.cells; ++c) {
      wall_[c] = water_c;
      inner_[c] = water_c - flux / model.g0;
      outer_[c] = state.air_c + flux / model.g2;
    }
    std::fill_n(&water_[2 * model.first], 2 * model.cells, water_c);
    std::fill_n(&born_[2 * model.first], 2 * model.cells, now_s_);
    state.head = model.cells;
    state.inlet_c = water_c;
    state.inlet_born_s = now_s_;
  }
  for (GroupState& group : groups_) group.log.push_back({now_s_, 0, 0});
  tank_c_ = scene_.supply.stored_c.at(now_s_);
  cold_c_ = scene_.supply.cold_c.at(now_s_);
}

double Engine::live(int run, std::size_t cell) const {
  const auto& live = scene_.runs[at(run)].live_frac;
  return live.empty() ? 1 : live[cell];
}

}  // namespace firstdraw::draw
