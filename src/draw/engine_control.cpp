#include <algorithm>
#include <cmath>

#include "draw/engine.hpp"

namespace firstdraw::draw {

/// All moving runs meet, insulation and cable follow, controllers decide until `next_s`.
void Engine::tick(double now_s, double next_s) {
  for (const int run : moving_) advance(run, now_s);
  for (const int run : moving_) {
    slow_step(run, now_s);
    state_[at(run)].read = 0;
  }
  for (const int run : flowed_) streams_[at(run)].clear();
  flowed_.clear();
  lose_power(now_s);
  for (const int run : in_changing_air_) state_[at(run)].air_c = scene_.runs[at(run)].air_c.at(now_s);
  cold_c_ = scene_.supply.cold_c.at(now_s);
  for (std::size_t g = 0; g < groups_.size(); ++g) {
    read_sensor(static_cast<int>(g), now_s);
    decide(static_cast<int>(g), now_s, next_s);
  }
  set_valve(now_s);
  for (const int run : moving_) {
    refresh_source(run);
    set_film(run);
  }
}

/// Circuits whose breaker opens: their runs come to this moment with power and go on without.
void Engine::lose_power(double now_s) {
  std::erase_if(to_lose_power_, [&](int run) {
    if (scene_.runs[at(run)].cable_until_s > now_s) return false;
    if (state_[at(run)].flow_m3_per_s <= 0) stand(run, now_s);
    model_[at(run)].share = 0;
    for (auto& of_duty : propagators_[at(run)]) of_duty.reset();
    return true;
  });
}

void Engine::read_sensor(int index, double now_s) {
  const SceneGroup& group = scene_.groups[at(index)];
  GroupState& state = groups_[at(index)];
  const int run = group.sensor_run;
  if (run == none) return;
  if (state_[at(run)].flow_m3_per_s <= 0) stand(run, now_s);
  const RunModel& m = model_[at(run)];
  const auto cell =
      std::min(static_cast<std::size_t>(group.sensor_at_frac * static_cast<double>(m.cells)), m.cells - 1);
  const double wall_c = wall_[m.first + cell];
  const double power = m.cable ? state.duty * m.share * live(run, cell) * m.cable->at(wall_c) : 0;
  const bool off_pipe = group.sensor_off_pipe && now_s >= group.fault_begin_s;
  const double there_c = off_pipe ? state_[at(run)].air_c : wall_c + group.sensor_k_per_w_per_m * power;
  const double shown_c = there_c + group.sensor_offset_k;
  const bool lags = group.sensor_lag_s > 0 && !std::isnan(state.reading_c);
  if (!lags) state.reading_c = shown_c;
  if (lags)
    state.reading_c += (shown_c - state.reading_c) * -std::expm1(-options_.tick_s / group.sensor_lag_s);
  if (!reporting_) return;
  GroupResult& result = result_.groups[at(index)];
  result.lowest_reading_c = std::min(result.lowest_reading_c, state.reading_c);
  result.highest_reading_c = std::max(result.highest_reading_c, state.reading_c);
}

void Engine::decide(int index, double now_s, double next_s) {
  const SceneGroup& group = scene_.groups[at(index)];
  GroupState& state = groups_[at(index)];
  const bool failed = now_s >= group.fault_begin_s;
  const bool seen = (group.sensor_present || !failed) && group.sensor_run != none;
  double duty = state.controller.decide(now_s, next_s,
                                        seen ? state.reading_c : std::numeric_limits<double>::quiet_NaN());
  if (failed && group.contactor == SceneGroup::Contactor::stuck_on) duty = 1;
  if (failed && group.contactor == SceneGroup::Contactor::stuck_off) duty = 0;
  state.duty = duty;
  if (reporting_) state.on_s += duty * (next_s - now_s);
  const Switching& last = state.log.back();
  if (last.duty == duty) return;
  state.log.push_back({now_s, duty, last.integral_s + last.duty * (now_s - last.begin_s)});
}

/// Share of hot water through the mixing valve at the hot water's present temperature.
double Engine::hot_share_at_valve() const {
  const int run = scene_.supply.valve_run;
  const RunModel& m = model_[at(run)];
  const double hot_c = water_[2 * m.first + state_[at(run)].head + m.cells - 1];
  const double wanted_c = scene_.supply.delivered_c;
  return hot_c <= wanted_c ? 1 : (wanted_c - cold_c_) / (hot_c - cold_c_);
}

void Engine::set_valve(double now_s) {
  if (scene_.supply.valve_run == none) return;
  valve_share_ = hot_share_at_valve();
  for (const int run : moving_)
    if (model_[at(run)].above_valve) set_flow(run, now_s);
}

/// Fully mixed tank: what was drawn went out, the heater fills up between its two limits.
void Engine::heat_tank(double from_s, double to_s) {
  const Supply& supply = scene_.supply;
  if (supply.tank_m3 <= 0) return;
  const double set_c = supply.stored_c.at(to_s);
  if (tank_c_ <= set_c - supply.tank_differential_k) heater_on_ = true;
  if (tank_c_ >= set_c) heater_on_ = false;
  const double in_j = heater_on_ ? supply.heater_w * (to_s - from_s) : 0;
  tank_c_ += (in_j - tank_drawn_j_) / (supply.tank_m3 * scene_.water_j_per_m3_k);
  tank_drawn_j_ = 0;
}

}  // namespace firstdraw::draw
