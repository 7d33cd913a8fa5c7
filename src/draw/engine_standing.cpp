#include <algorithm>
#include <cmath>

#include "draw/engine.hpp"

namespace firstdraw::draw {
namespace {

constexpr double slope_reach_k = 5;
constexpr double duty_classes = 8;

double slope(const CableCurve& cable, double about_c) {
  return (cable.at(about_c + slope_reach_k) - cable.at(about_c - slope_reach_k)) / (2 * slope_reach_k);
}

}  // namespace

/// Brings a run in which nothing moves up to `until_s`, cut where its group was switched.
void Engine::stand(int run, double until_s) {
  RunState& state = state_[at(run)];
  const int group = model_[at(run)].group;
  while (state.time_s < until_s) {
    double end_s = std::min(until_s, state.time_s + options_.longest_step_s), duty = 0;
    if (group != none) {
      const GroupState& g = groups_[at(group)];
      const auto& log = g.log;
      std::size_t& i = state.log_at;
      while (i + 1 < log.size() && log[i + 1].begin_s <= state.time_s) ++i;
      if (g.averaged) {
        end_s = std::min(end_s, state.time_s + g.averaged_step_s);
        std::size_t last = i;
        while (last + 1 < log.size() && log[last + 1].begin_s < end_s) ++last;
        const auto integral = [](const Switching& s, double time_s) {
          return s.integral_s + s.duty * (time_s - s.begin_s);
        };
        duty = (integral(log[last], end_s) - integral(log[i], state.time_s)) / (end_s - state.time_s);
      } else {
        if (i + 1 < log.size()) end_s = std::min(end_s, log[i + 1].begin_s);
        duty = log[i].duty;
      }
    }
    const double step_s = end_s - state.time_s;
    standing_step(run, step_s, duty);
    state.time_s = end_s;
  }
}

Propagator& Engine::propagator(int run, double duty) {
  const auto eighth = static_cast<std::size_t>(std::lround(std::clamp(duty, 0.0, 1.0) * duty_classes));
  Propagator& result = propagators_[at(run)][eighth];
  if (!have_[at(run)][eighth]) {
    const RunModel& m = model_[at(run)];
    StandingCell cell{m.water_j, m.wall_j, m.inner_j, m.outer_j, m.standing_w_per_m_k, m.g0, m.g1, m.g2, 0};
    if (m.cable)
      cell.cable_slope_w_per_m_k = static_cast<double>(eighth) / duty_classes * m.share *
                                   std::min(0.0, slope(*m.cable, scene_.runs[at(run)].linear_about_c));
    result = Propagator(cell);
    have_[at(run)][eighth] = true;
  }
  return result;
}

/// One exact step of the linear part; what is not linear (cable, conductivity, outer film) acts as a source,
/// the mean of its values before and after.
void Engine::standing_step(int run, double step_s, double duty) {
  const RunModel& m = model_[at(run)];
  RunState& state = state_[at(run)];
  const Series& air = scene_.runs[at(run)].air_c;
  const double air_c = air.constant() ? state.air_c : air.mean(state.time_s, state.time_s + step_s);
  Propagator& p = propagator(run, duty);
  p.prepare(step_s);
  const bool heated = m.cable && duty > 0;
  const double strength = duty * m.share;
  // What the propagator itself counts as the cable's, so that the source is the rest.
  const double slope_w = heated ? std::round(duty * duty_classes) / duty_classes * m.share *
                                      std::min(0.0, slope(*m.cable, scene_.runs[at(run)].linear_about_c))
                                : 0;
  double* w = water(run);
  const double first_before = w[0], last_before = w[m.cells - 1];
  double cable_rest = 0, loss_rest = 0, wall_sum = 0, outer_sum = 0, source_sum = 0, stored = 0;
  std::array<double, 4> sums{};
  double coldest_c = std::numeric_limits<double>::infinity();
  for (std::size_t c = 0; c < m.cells; ++c) {
    const std::size_t k = m.first + c;
    const std::array<double, 4> x{w[c] - air_c, wall_[k] - air_c, inner_[k] - air_c, outer_[k] - air_c};
    const double alive = heated ? strength * live(run, c) : 0;
    const auto cable_source = [&](double wall_k) {
      return heated ? alive * m.cable->at(wall_k + air_c) - slope_w * wall_k : 0;
    };
    const double before_cable = cable_source(x[1]), before_loss = nonlinear_w_per_m(m, x[1]);
    const double f0 = before_cable - before_loss;
    std::array<double, 4> y;
    for (std::size_t i = 0; i < 4; ++i)
      y[i] = p.next[i][0] * x[0] + p.next[i][1] * x[1] + p.next[i][2] * x[2] + p.next[i][3] * x[3] +
             p.response[i] * f0;
    const double cable = 0.5 * (before_cable + cable_source(y[1]));
    const double loss = 0.5 * (before_loss + nonlinear_w_per_m(m, y[1]));
    const double correction = cable - loss - f0;
    for (std::size_t i = 0; i < 4; ++i) y[i] += p.response[i] * correction;
    cable_rest += cable;
    loss_rest += loss;
    source_sum += cable - loss;
    for (std::size_t i = 0; i < 4; ++i) sums[i] += x[i];
    stored += m.water_j * (y[0] - x[0]) + m.wall_j * (y[1] - x[1]) + m.inner_j * (y[2] - x[2]) +
              m.outer_j * (y[3] - x[3]);
    add_time_at(run, w[c], y[0] + air_c, step_s);
    w[c] = y[0] + air_c;
    wall_[k] = y[1] + air_c;
    inner_[k] = y[2] + air_c;
    outer_[k] = y[3] + air_c;
    coldest_c = std::min(coldest_c, w[c]);
  }
  wall_sum = p.wall_integral_of_f * source_sum;
  outer_sum = p.outer_integral_of_f * source_sum;
  for (std::size_t i = 0; i < 4; ++i) {
    wall_sum += p.wall_integral[i] * sums[i];
    outer_sum += p.outer_integral[i] * sums[i];
  }
  const double cable_j = m.cell_m * (cable_rest * step_s + slope_w * wall_sum);
  const double loss_j = m.cell_m * (loss_rest * step_s + m.g2 * outer_sum);
  if (state.filled > 0)
    follow_inlet(run, w[0] - first_before, w[m.cells - 1] - last_before,
                 std::exp(-step_s * m.standing_w_per_m_k / m.water_j));
  ++result_.work.standing_steps;
  result_.work.standing_cells += m.cells;
  if (!reporting_) return;
  note_band(run, coldest_c, step_s);
  const double moved = std::abs(cable_j) + std::abs(loss_j) + std::abs(stored * m.cell_m);
  if (moved > 1)
    result_.balance.worst_step_frac =
        std::max(result_.balance.worst_step_frac, std::abs(cable_j - loss_j - stored * m.cell_m) / moved);
  RunResult& result = result_.runs[at(run)];
  result.cable_j += cable_j;
  result.loss_j += loss_j;
  if (cable_j != 0) add_cable_energy(m.group, state.time_s, state.time_s + step_s, cable_j);
}

/// The share of a block that has entered stands in the first cell and comes to that cell's temperature. It
/// takes the place of what has left of the last block, whose exchange was counted in full; the difference is
/// spread over the row, so that no heat is lost.
void Engine::follow_inlet(int run, double first_change_k, double last_change_k, double still_apart) {
  const RunModel& m = model_[at(run)];
  RunState& state = state_[at(run)];
  double* w = water(run);
  const double before_c = state.inlet_c;
  state.inlet_c = w[0] + (before_c + first_change_k - w[0]) * still_apart;
  const double surplus_k = state.filled * ((state.inlet_c - before_c) - last_change_k) /
                           (static_cast<double>(m.cells) - state.filled);
  for (std::size_t c = 0; c < m.cells; ++c) w[c] -= surplus_k;
}

}  // namespace firstdraw::draw
