#include <algorithm>
#include <cmath>

#include "draw/engine.hpp"
#include "physics/inside_film.hpp"

namespace firstdraw::draw {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double front_k = 1, front_step_s = 3;
constexpr double same_film_frac = 0.1;  // of the flow

}  // namespace

/// Moves the water of a run on to `until_s`; the run above has been there already.
void Engine::advance(int run, double until_s) {
  Moving moving{run, model_[at(run)], state_[at(run)]};
  RunState& state = moving.state;
  if (state.flow_m3_per_s <= 0 || until_s <= state.time_s) return;
  ++result_.work.run_advances;
  const double block_s = moving.model.block_m3 / state.flow_m3_per_s, per_block = 1 / block_s;
  while (state.time_s < until_s) {
    const double full_s = state.time_s + (1 - state.filled) * block_s;
    const bool full = full_s <= until_s;
    const double end_s = full ? full_s : until_s, step_s = end_s - state.time_s;
    take_in(moving, end_s, full ? 1 : state.filled + step_s * per_block);
    let_out(moving, end_s);
    state.pending_exchange += state.exchange_per_s * step_s;
    state.pending_source_s += step_s;
    if (full) {
      shift(moving);
      exchange(moving);
      if (scene_.axial_mixing) mix_along(run, block_s);
      if (end_s - state.slow_since_s >= front_step_s && has_front(moving)) slow_step(run, end_s);
    }
    state.time_s = end_s;
  }
}

/// Where a front passes, insulation and losses must not wait for the tick.
inline bool Engine::has_front(const Moving& moving) const {
  const double* w = &water_[2 * moving.model.first + moving.state.head];
  return std::abs(w[0] - w[moving.model.cells - 1]) > front_k;
}

/// What enters until `end_s` becomes part of the block at the inlet, which is then `filled`.
inline void Engine::take_in(Moving& moving, double end_s, double filled) {
  RunState& state = moving.state;
  const Piece in = inflow(moving, end_s);
  if (filled > 0) {
    const double share = (filled - state.filled) / filled;
    state.inlet_c += (in.temp_c - state.inlet_c) * share;
    state.inlet_born_s += (in.born_s - state.inlet_born_s) * share;
  }
  state.filled = filled;
}

/// Mean until `end_s` of what comes out of the run above, or of the supply.
inline Piece Engine::inflow(Moving& moving, double end_s) {
  RunState& state = moving.state;
  if (moving.model.upstream == none) return supplied(state, end_s);
  const std::vector<Piece>& stream = streams_[at(moving.model.upstream)];
  const Piece* piece = stream.data() + state.read;
  const Piece* const last = stream.data() + stream.size() - 1;
  while (piece < last && piece->end_s <= state.time_s) ++piece;
  Piece in = *piece;
  if (piece < last && piece->end_s < end_s) {
    double heat = 0, born = 0;
    for (double at_s = state.time_s;;) {
      const double until_s = piece == last ? end_s : std::min(piece->end_s, end_s);
      heat += piece->temp_c * (until_s - at_s);
      born += piece->born_s * (until_s - at_s);
      at_s = until_s;
      if (at_s >= end_s) break;
      ++piece;
    }
    const double step_s = end_s - state.time_s;
    in = {end_s, heat / step_s, born / step_s};
  }
  state.read = static_cast<std::size_t>(piece - stream.data());
  return in;
}

Piece Engine::supplied(const RunState& state, double end_s) {
  const Supply& supply = scene_.supply;
  const double source_c = supply.tank_m3 > 0 ? tank_c_ : supply.stored_c.mean(state.time_s, end_s);
  const double in_c = supply.valve_run == none ? std::min(source_c, supply.delivered_c) : source_c;
  const double heat_per_k = scene_.water_j_per_m3_k * state.flow_m3_per_s * (end_s - state.time_s);
  result_.balance.supply_j += heat_per_k * in_c;
  result_.heater_j += heat_per_k * (in_c - cold_c_);
  tank_drawn_j_ += heat_per_k * (in_c - cold_c_);
  return {end_s, in_c, 0.5 * (state.time_s + end_s)};
}

/// The last block leaves until `end_s`, through the mixing valve if it sits here.
inline void Engine::let_out(Moving& moving, double end_s) {
  const RunModel& m = moving.model;
  const RunState& state = moving.state;
  const std::size_t last = 2 * m.first + state.head + m.cells - 1;
  double temp_c = water_[last];
  if (m.tap != none) {
    TapState& tap = taps_[at(m.tap)];
    tap.last_c = temp_c;
    tap.last_born_s = born_[last];
    tap.left_s += end_s - state.time_s;
    tap.left_k_s += temp_c * (end_s - state.time_s);
    if (reporting_) {
      double& hottest_c = result_.taps[at(m.tap)].hottest_c;
      hottest_c = std::max(hottest_c, temp_c);
    }
    if (!tap.settled) watch(m.tap, state.time_s, end_s);
    return;
  }
  if (moving.run == scene_.supply.valve_run) temp_c = tempered_c(state, end_s, temp_c);
  std::vector<Piece>& stream = streams_[at(moving.run)];
  if (stream.empty())
    flowed_.push_back(moving.run);
  else if (stream.back().temp_c == temp_c && stream.back().born_s == born_[last]) {
    stream.back().end_s = end_s;
    return;
  }
  stream.push_back({end_s, temp_c, born_[last]});
}

/// Behind the mixing valve; the cold water it adds is booked as supplied.
double Engine::tempered_c(const RunState& state, double end_s, double hot_c) {
  const double temp_c = std::min(hot_c, scene_.supply.delivered_c);
  result_.balance.supply_j += scene_.water_j_per_m3_k * (end_s - state.time_s) *
                              (state.tap_flow_m3_per_s * temp_c - state.flow_m3_per_s * hot_c);
  return temp_c;
}

/// The row moves on by one block: the last has left, the one at the inlet is whole.
inline void Engine::shift(Moving& moving) {
  const RunModel& m = moving.model;
  RunState& state = moving.state;
  double* const water = &water_[2 * m.first];
  double* const born = &born_[2 * m.first];
  if (m.tap != none) taps_[at(m.tap)].left_before_c = water[state.head + m.cells - 1];
  if (state.head == 0) {
    std::copy_backward(water, water + m.cells - 1, water + 2 * m.cells);
    std::copy_backward(born, born + m.cells - 1, born + 2 * m.cells);
    state.head = m.cells + 1;
  }
  --state.head;
  water[state.head] = state.inlet_c;
  born[state.head] = state.inlet_born_s;
  state.filled = 0;
}

namespace {

/// Both temperatures of each cell move towards each other by these shares of their difference.
__attribute__((target_clones("avx2", "default"))) void meet(double* __restrict water, double* __restrict wall,
                                                            const double* __restrict source,
                                                            std::size_t cells, double to_water,
                                                            double to_wall, double source_k) {
  for (std::size_t c = 0; c < cells; ++c) {
    const double warmed = wall[c] + source_k * source[c];
    const double apart = water[c] - warmed;
    water[c] -= to_water * apart;
    wall[c] = warmed + to_wall * apart;
  }
}

}  // namespace

/// Water and wall of every cell come together, exactly, for the time since they last did.
inline void Engine::exchange(Moving& moving) {
  const RunModel& m = moving.model;
  RunState& state = moving.state;
  if (state.pending_exchange != state.last_exchange) {
    state.last_exchange = state.pending_exchange;
    state.last_share = -std::expm1(-state.pending_exchange) / (m.water_j + m.wall_j);
  }
  meet(&water_[2 * m.first + state.head], &wall_[m.first], &source_[m.first], m.cells,
       m.wall_j * state.last_share, m.water_j * state.last_share, state.pending_source_s / m.wall_j);
  state.pending_exchange = state.pending_source_s = 0;
  result_.work.cell_exchanges += m.cells;
}

/// Spread along the pipe within one block's time, as a second difference.
void Engine::mix_along(int run, double block_s) {
  const RunModel& m = model_[at(run)];
  const SceneRun& pipe = scene_.runs[at(run)];
  double* w = water(run);
  const double speed = state_[at(run)].flow_m3_per_s / m.area_m2;
  const double mixing =
      physics::axial_mixing_m2_per_s(pipe.inner_diameter_m, speed, w[m.cells / 2], pipe.length_m / speed);
  constexpr double stable = 0.5;
  const double share = std::min(mixing * block_s / (m.cell_m * m.cell_m), stable);
  double above = w[0];
  for (std::size_t c = 1; c + 1 < m.cells; ++c) {
    const double here = w[c];
    w[c] += share * (above - 2 * here + w[c + 1]);
    above = here;
  }
}

/// Insulation and losses of a moving run since the last slow step: backward Euler for the two masses against
/// the wall as it last met the water. The wall has lost by estimate meanwhile; now it gets the difference.
void Engine::slow_step(int run, double now_s) {
  const RunModel& m = model_[at(run)];
  RunState& state = state_[at(run)];
  const double step_s = now_s - state.slow_since_s;
  if (step_s <= 0) return;
  ++result_.work.slow_steps;
  const double flush_k = state.pending_source_s / m.wall_j;
  state.pending_source_s = 0;
  state.slow_since_s = now_s;
  const double a = m.inner_j / step_s + m.g0 + m.g1, b = m.outer_j / step_s + m.g1 + m.g2;
  const double determinant = a * b - m.g1 * m.g1;
  const double air_c = state.air_c;
  double cable_w = 0, loss_w = 0;
  double coldest_c = infinity, warmest_c = -infinity;
  const double* w = water(run);
  for (std::size_t c = 0; c < m.cells; ++c) {
    const std::size_t k = m.first + c;
    const double drive_a = m.inner_j / step_s * (inner_[k] - air_c) + m.g0 * (wall_[k] - air_c);
    const double drive_b = m.outer_j / step_s * (outer_[k] - air_c);
    const double inner_k = (b * drive_a + m.g1 * drive_b) / determinant;
    const double outer_k = (a * drive_b + m.g1 * drive_a) / determinant;
    const double rest = m.nonlinear_w_per_m(wall_[k] - air_c);
    const double lost = m.g0 * (wall_[k] - air_c - inner_k) + rest;
    inner_[k] = air_c + inner_k;
    outer_[k] = air_c + outer_k;
    cable_w += source_[k] + lost_[k];
    loss_w += m.g2 * outer_k + rest;
    wall_[k] += flush_k * source_[k] + (lost_[k] - lost) * step_s / m.wall_j;
    source_[k] += lost_[k] - lost;
    lost_[k] = lost;
    coldest_c = std::min(coldest_c, w[c]);
    warmest_c = std::max(warmest_c, w[c]);
  }
  if (!reporting_) return;
  add_time_at(run, coldest_c, warmest_c, step_s * static_cast<double>(m.cells));
  note_band(run, coldest_c, step_s);
  RunResult& result = result_.runs[at(run)];
  result.loss_j += loss_w * m.cell_m * step_s;
  result.litres += 1000 * state.flow_m3_per_s * step_s;
  if (!m.cable) return;
  const double cable_j = cable_w * m.cell_m * step_s;
  result.cable_j += cable_j;
  add_cable_energy(m.group, now_s - step_s, now_s, cable_j);
}

/// Cable less loss, as the wall will see it until the next slow step.
void Engine::refresh_source(int run) {
  const RunModel& m = model_[at(run)];
  const double air_c = state_[at(run)].air_c;
  const double strength = m.cable ? groups_[at(m.group)].duty * m.share : 0;
  for (std::size_t c = 0; c < m.cells; ++c) {
    const std::size_t k = m.first + c;
    lost_[k] = m.g0 * (wall_[k] - inner_[k]) + m.nonlinear_w_per_m(wall_[k] - air_c);
    source_[k] = (strength > 0 ? strength * live(run, c) * m.cable->at(wall_[k]) : 0) - lost_[k];
  }
}

/// Starts, changes or ends the flow of a run to what its open taps ask for; the run's state is of `now_s`.
void Engine::set_flow(int run, double now_s) {
  const RunModel& m = model_[at(run)];
  RunState& state = state_[at(run)];
  const double wanted =
      state.open_taps == 0 ? 0 : state.tap_flow_m3_per_s * (m.above_valve ? valve_share_ : 1);
  const bool moves = state.flow_m3_per_s > 0;
  if (!moves && wanted > 0) {
    if (reporting_) {
      RunResult& result = result_.runs[at(run)];
      result.longest_standing_s = std::max(result.longest_standing_s, now_s - state.standing_since_s);
    }
    moving_.insert(std::lower_bound(moving_.begin(), moving_.end(), run), run);
    state.slow_since_s = now_s;
    refresh_source(run);
    state.read =
        m.upstream == none || streams_[at(m.upstream)].empty() ? 0 : streams_[at(m.upstream)].size() - 1;
  } else if (moves && wanted <= 0) {
    slow_step(run, now_s);
    moving_.erase(std::lower_bound(moving_.begin(), moving_.end(), run));
    state.standing_since_s = now_s;
    state.log_at = m.group == none ? 0 : groups_[at(m.group)].log.size() - 1;
  }
  state.flow_m3_per_s = wanted;
  if (std::abs(wanted - state.film_flow_m3_per_s) > same_film_frac * state.film_flow_m3_per_s && wanted > 0)
    set_film(run);
}

void Engine::set_film(int run) {
  const RunModel& m = model_[at(run)];
  RunState& state = state_[at(run)];
  const double fixed = scene_.runs[at(run)].flowing_film_w_per_m2_k;
  const double film = m.film ? m.film->film_w_per_m2_k(state.flow_m3_per_s, water(run)[m.cells / 2]) : fixed;
  state.exchange_per_s = film * m.wetted_m * (1 / m.water_j + 1 / m.wall_j);
}

}  // namespace firstdraw::draw
