#include <algorithm>
#include <cmath>

#include "draw/engine.hpp"

namespace firstdraw::draw {
namespace {

constexpr double slope_reach_k = 5;
constexpr double first_step_s = 60;
constexpr double duty_classes = 8;

double duty_class(double duty) { return std::round(std::clamp(duty, 0.0, 1.0) * duty_classes); }

double integral_to(const Switching& switching, double time_s) {
  return switching.integral_s + switching.duty * (time_s - switching.begin_s);
}

/// One exact step of the linear part of a run's cells; what is not linear (cable, conductivity, outer film)
/// acts as a source that changes evenly between its values before and after. Temperatures are above the
/// air's.
struct StandingStep {
  const RunModel& m;
  const Propagator& p;
  double air_c, slope_w;
  // Over all cells: sources, temperatures before, heat stored.
  double cable_w = 0, loss_w = 0, stored_j = 0;
  double source_before_w = 0, source_change_w = 0;
  Propagator::Vector before{};

  double cable_source(double strength, double wall_k) const {
    return strength > 0 ? strength * m.cable->at(wall_k + air_c) - slope_w * wall_k : -slope_w * wall_k;
  }

  Propagator::Vector cell(const Propagator::Vector& x, double strength) {
    const double cable_before = cable_source(strength, x[1]), loss_before = m.nonlinear_w_per_m(x[1]);
    Propagator::Vector y = linear(x, cable_before - loss_before);
    const double cable_after = cable_source(strength, y[1]), loss_after = m.nonlinear_w_per_m(y[1]);
    const double change = (cable_after - loss_after) - (cable_before - loss_before);
    for (std::size_t i = 0; i < 4; ++i) {
      y[i] += p.ramp[i] * change;
      before[i] += x[i];
    }
    source_before_w += cable_before - loss_before;
    source_change_w += change;
    cable_w += 0.5 * (cable_before + cable_after);
    loss_w += 0.5 * (loss_before + loss_after);
    stored_j += m.water_j * (y[0] - x[0]) + m.wall_j * (y[1] - x[1]) + m.inner_j * (y[2] - x[2]) +
                m.outer_j * (y[3] - x[3]);
    return y;
  }

  Propagator::Vector linear(const Propagator::Vector& x, double source_w) const {
    Propagator::Vector y;
    for (std::size_t i = 0; i < 4; ++i)
      y[i] = p.next[i][0] * x[0] + p.next[i][1] * x[1] + p.next[i][2] * x[2] + p.next[i][3] * x[3] +
             p.response[i] * source_w;
    return y;
  }

  /// Sum over the cells of a mass's temperature, integrated over the step.
  double integral(const Propagator::Vector& of_before, double of_source, double of_ramp) const {
    double sum = of_source * source_before_w + of_ramp * source_change_w;
    for (std::size_t i = 0; i < 4; ++i) sum += of_before[i] * before[i];
    return sum;
  }
  double cable_j(double step_s) const {
    return m.cell_m * (cable_w * step_s +
                       slope_w * integral(p.wall_integral, p.wall_integral_of_f, p.wall_integral_of_ramp));
  }
  double loss_j(double step_s) const {
    return m.cell_m * (loss_w * step_s +
                       m.g2 * integral(p.outer_integral, p.outer_integral_of_f, p.outer_integral_of_ramp));
  }
};

}  // namespace

/// Brings a run in which nothing moves up to `until_s`.
void Engine::stand(int run, double until_s) {
  RunState& state = state_[at(run)];
  while (state.time_s < until_s) {
    const double end_s = std::min(until_s, state.time_s + longest_step_s(run));
    const Stretch stretch = model_[at(run)].group == none
                                ? Stretch{end_s, 0}
                                : next_stretch(state, groups_[at(model_[at(run)].group)], end_s);
    standing_step(run, stretch.end_s - state.time_s, stretch.duty);
    state.time_s = stretch.end_s;
  }
}

/// Without cable a run cools far, fastest at first: steps grow with the time it has stood.
double Engine::longest_step_s(int run) const {
  if (model_[at(run)].cable) return options_.longest_step_s;
  const double stood_s = state_[at(run)].time_s - state_[at(run)].standing_since_s;
  return std::min(std::max(stood_s, first_step_s), options_.longest_step_s);
}

/// How far the group's output stays as it is; pulses shorter than a step are taken by their mean.
Engine::Stretch Engine::next_stretch(RunState& state, const GroupState& group, double end_s) const {
  const std::vector<Switching>& log = group.log;
  std::size_t& i = state.log_at;
  while (i + 1 < log.size() && log[i + 1].begin_s <= state.time_s) ++i;
  if (!group.averaged) return {i + 1 < log.size() ? std::min(end_s, log[i + 1].begin_s) : end_s, log[i].duty};
  end_s = std::min(end_s, state.time_s + group.averaged_step_s);
  std::size_t last = i;
  while (last + 1 < log.size() && log[last + 1].begin_s < end_s) ++last;
  return {end_s,
          (integral_to(log[last], end_s) - integral_to(log[i], state.time_s)) / (end_s - state.time_s)};
}

Propagator& Engine::propagator(int run, double duty) {
  const double eighths = duty_class(duty);
  std::unique_ptr<Propagator>& result = propagators_[at(run)][static_cast<std::size_t>(eighths)];
  if (!result) {
    const RunModel& m = model_[at(run)];
    result = std::make_unique<Propagator>(StandingCell{m.water_j, m.wall_j, m.inner_j, m.outer_j,
                                                       m.standing_w_per_m_k, m.g0, m.g1, m.g2,
                                                       linear_slope(run, duty)});
  }
  return *result;
}

/// What the propagator counts as the cable's output per kelvin of wall; the rest is a source.
double Engine::linear_slope(int run, double duty) const {
  const RunModel& m = model_[at(run)];
  if (!m.cable) return 0;
  const double about_c = scene_.runs[at(run)].linear_about_c;
  const double rise = m.cable->at(about_c + slope_reach_k) - m.cable->at(about_c - slope_reach_k);
  return duty_class(duty) / duty_classes * m.share * std::min(0.0, rise / (2 * slope_reach_k));
}

void Engine::standing_step(int run, double step_s, double duty) {
  const RunModel& m = model_[at(run)];
  RunState& state = state_[at(run)];
  const Series& air = scene_.runs[at(run)].air_c;
  const double air_c = air.constant() ? state.air_c : air.mean(state.time_s, state.time_s + step_s);
  Propagator& p = propagator(run, duty);
  p.prepare(step_s);
  StandingStep step{m, p, air_c, linear_slope(run, duty)};
  double* w = water(run);
  const double first_before = w[0], last_before = w[m.cells - 1];
  double coldest_c = std::numeric_limits<double>::infinity();
  for (std::size_t c = 0; c < m.cells; ++c) {
    const std::size_t k = m.first + c;
    const double strength = m.cable ? duty * m.share * live(run, c) : 0;
    const auto y =
        step.cell({w[c] - air_c, wall_[k] - air_c, inner_[k] - air_c, outer_[k] - air_c}, strength);
    add_time_at(run, w[c], y[0] + air_c, step_s);
    w[c] = y[0] + air_c;
    wall_[k] = y[1] + air_c;
    inner_[k] = y[2] + air_c;
    outer_[k] = y[3] + air_c;
    coldest_c = std::min(coldest_c, w[c]);
  }
  if (state.filled > 0)
    follow_inlet(run, w[0] - first_before, w[m.cells - 1] - last_before,
                 std::exp(-step_s * m.standing_w_per_m_k / m.water_j));
  ++result_.work.standing_steps;
  result_.work.standing_cells += m.cells;
  if (!reporting_) return;
  note_band(run, coldest_c, step_s);
  book_step(run, step_s, step.cable_j(step_s), step.loss_j(step_s), m.cell_m * step.stored_j);
}

/// Cable and loss of one step; what they leave open against the heat stored is noted.
void Engine::book_step(int run, double step_s, double cable_j, double loss_j, double stored_j) {
  constexpr double least_j = 1;  // below it rounding is all there is
  const double moved_j = std::abs(cable_j) + std::abs(loss_j) + std::abs(stored_j);
  double& worst = result_.balance.worst_step_frac;
  if (moved_j > least_j) worst = std::max(worst, std::abs(cable_j - loss_j - stored_j) / moved_j);
  RunResult& result = result_.runs[at(run)];
  result.cable_j += cable_j;
  result.loss_j += loss_j;
  const double begin_s = state_[at(run)].time_s;
  if (cable_j != 0) add_cable_energy(model_[at(run)].group, begin_s, begin_s + step_s, cable_j);
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
