#include "watch/run_model.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "physics/wall_angle.hpp"
#include "plan/check_context.hpp"
#include "plan/held.hpp"
#include "plan/sections.hpp"
#include "plan/sensor.hpp"

namespace firstdraw::watch {
namespace {

constexpr double film_difference_k = 1, least_difference_k = 5;
constexpr double bare_mass_frac = 0.01;      // a bare pipe's two outer masses, of its wall
constexpr double water_j_per_m3_k = 4.13e6;  // at 50 degC, as room draw has it

double in_table(std::span<const double> table, double first, double x) {
  const double place = std::clamp(x - first, 0.0, static_cast<double>(table.size()) - 1.000001);
  const auto i = static_cast<std::size_t>(place);
  const double share = place - static_cast<double>(i);
  return table[i] + share * (table[i + 1] - table[i]);
}

/// Ladder scaled to the steady conductance at `difference_k`, fittings counted.
physics::RadialLadder ladder_of(const physics::PipeSection& section, const job::Run& run, double air_c,
                                double difference_k, double steady_w_per_m_k, double wall_j_per_m_k) {
  const auto around = plan::surroundings_of(run, air_c);
  const auto loss = physics::pipe_loss(section, air_c + difference_k, around);
  const double surface = loss.loss_w_per_m / (loss.surface_c - air_c);
  auto ladder = physics::radial_ladder(section.layers, 0.5 * (loss.wall_c + loss.surface_c), surface);
  if (physics::is_bare(ladder)) {
    const double third = 3 * steady_w_per_m_k, mass = bare_mass_frac * wall_j_per_m_k;
    return {third, third, third, mass, mass};
  }
  const double scale = steady_w_per_m_k / ladder.steady_w_per_m_k();
  ladder.wall_to_inner_w_per_m_k *= scale;
  ladder.inner_to_outer_w_per_m_k *= scale;
  ladder.outer_to_air_w_per_m_k *= scale;
  return ladder;
}

void set_cable(RunDesign& design, const job::Job& job, int group, const hold::HeldRun& held,
               const job::Run& run) {
  const physics::HeatingCable cable(job.cables.at(static_cast<std::size_t>(held.cable)));
  design.cable_tolerance_frac = cable.sheet().output_tolerance_frac;
  double volts = cable.sheet().rated_voltage_v;
  for (const job::Panel& panel : job.panels)
    if (panel.id == job.groups[static_cast<std::size_t>(group)].panel) volts = panel.voltage_v;
  const double rated_v = cable.sheet().rated_voltage_v;
  const double factor =
      cable.voltage_factor(volts * held.voltage_frac) / std::max(1e-9, cable.voltage_factor(rated_v));
  const double share = held.passes * held.derating_frac * held.pipe_length_m / run.length_m * factor;
  for (std::size_t i = 0; i < design.output_w_per_m.size(); ++i)
    design.output_w_per_m[i] =
        share * cable.power_w_per_m(RunDesign::first_c + static_cast<double>(i), rated_v);
}

}  // namespace

double RunDesign::conductance_at(double difference_k) const {
  return in_table(conductance_w_per_m_k, first_k, difference_k);
}
double RunDesign::output_at(double wall_c) const { return in_table(output_w_per_m, first_c, wall_c); }

RunDesign run_design(const job::Job& job, const plan::Plan& plan, int group, int index) {
  RunDesign design;
  plan::Sections sections;
  const job::Run& run = job.runs.at(static_cast<std::size_t>(index));
  const plan::RunPlan& planned = plan.runs.at(static_cast<std::size_t>(index));
  const job::ControlGroup& of = job.groups.at(static_cast<std::size_t>(group));
  const hold::HeldRun held = plan::held_run(job, planned, index, sections);
  const double ratio = held.loss_length_m / run.length_m;
  design.air_c = held.air.usual_c;
  design.air_low_c = held.air.low_c;
  design.air_high_c = held.air.high_c;
  design.about_c = of.maintain_c;
  design.water_j_per_m_k = water_j_per_m3_k * run.pipe.bore_area_m2();
  design.wall_j_per_m_k =
      run.pipe.wall_area_m2() * run.pipe.density_kg_per_m3 * run.pipe.heat_capacity_j_per_kg_k;
  const double bore_m = run.pipe.inner_diameter_m();
  design.film_w_per_m_k =
      std::numbers::pi * bore_m *
      physics::standing_water_film_w_per_m2_k(bore_m, of.maintain_c, of.maintain_c + film_difference_k);
  for (std::size_t i = 0; i < design.conductance_w_per_m_k.size(); ++i) {
    double d = RunDesign::first_k + static_cast<double>(i);
    if (std::abs(d) < 0.5) d = 0.5;
    design.conductance_w_per_m_k[i] = ratio * held.loss.loss_w_per_m(design.air_c + d, design.air_c) / d;
  }
  const double difference_k = std::max(least_difference_k, of.maintain_c - design.air_c);
  design.ladder =
      ladder_of(plan::section_of(run, sections.insulation(run), planned.insulation), run, design.air_c,
                difference_k, design.conductance_at(difference_k), design.wall_j_per_m_k);
  if (!physics::is_bare(design.ladder) && ratio > 0) {
    design.ladder.inner_j_per_m_k *= ratio;
    design.ladder.outer_j_per_m_k *= ratio;
  }
  set_cable(design, job, group, held, run);
  design.sensor_lag_s = of.sensor_lag_s;
  if (of.maintain_c > design.air_c) {
    const physics::HeatingCable cable(job.cables.at(static_cast<std::size_t>(held.cable)));
    const double offset_k = plan::sensor_offset_k(run.pipe, held.loss, of.maintain_c, design.air_c,
                                                  of.sensor_angle_rad, cable, held.passes);
    design.sensor_k_per_w_per_m = offset_k / (held.loss.loss_w_per_m(of.maintain_c, design.air_c) * ratio);
  }
  return design;
}

namespace {

/// The two masses of insulation.
struct Shells {
  double inner_c = 0, outer_c = 0;
};

/// One step of the model with everything that does not change in a run of it worked out.
class Stepper {
 public:
  Stepper(const RunDesign& design, const RunState& state, double step_s)
      : design_(design), state_(state), pieces_(static_cast<int>(std::ceil(step_s / longest_s - 1e-9))) {
    piece_s_ = step_s / pieces_;
    g0_ = state.conductance_frac * design.ladder.wall_to_inner_w_per_m_k;
    g1_ = state.conductance_frac * design.ladder.inner_to_outer_w_per_m_k;
    g2_ = state.conductance_frac * design.ladder.outer_to_air_w_per_m_k;
    steady_ = state.conductance_frac * design.ladder.steady_w_per_m_k();
    capacity_ = state.capacity_frac * design.capacity_j_per_m_k();
    const double water_frac = design.water_j_per_m_k / design.capacity_j_per_m_k();
    rise_k_m_per_w_ = state.rise_frac * water_frac * water_frac / design.film_w_per_m_k;
    const double film_lag_s = state.rise_frac * design.water_j_per_m_k * design.wall_j_per_m_k /
                              design.capacity_j_per_m_k() / design.film_w_per_m_k;
    lag_s_ = design.sensor_lag_s + film_lag_s;
    keep_frac_ = lag_s_ > 0 ? std::exp(-piece_s_ / lag_s_) : 0;
    water_keeps_frac_ = std::exp(-g0_ / capacity_ * piece_s_);
  }

  Shells steady(double wall_c, double air_c) const {
    const double flow = (wall_c - air_c) * steady_;
    return {wall_c - flow / g0_, air_c + flow / g2_};
  }

  /// Insulation below a wall of known temperature.
  Shells below(Shells shells, double wall_c, double air_c) const {
    for (int i = 0; i < pieces_; ++i) shells = settle(shells, wall_c, air_c);
    return shells;
  }

  struct Water {
    double mean_c = 0, reading_c = 0;
    Shells shells;
  };
  Water standing(Water now, double on_frac, double air_c) const {
    for (int i = 0; i < pieces_; ++i) {
      const auto [output, extra, rise] = at_wall(now, on_frac, air_c);
      now = couple(now, output - extra, rise, air_c);
      const double target = now.mean_c + rise + state_.rise_frac * design_.sensor_k_per_w_per_m * output;
      now.reading_c = target + (now.reading_c - target) * keep_frac_;
    }
    return now;
  }
  double rise_k(double on_frac, double mean_c) const {
    const double output = on_frac * state_.cable_frac * design_.output_at(mean_c);
    return output * (rise_k_m_per_w_ + state_.rise_frac * design_.sensor_k_per_w_per_m);
  }
  /// What the cable adds to the reading beyond the wall.
  double sensor_rise_k(double on_frac, double wall_c) const {
    return on_frac * state_.cable_frac * design_.output_at(wall_c) * state_.rise_frac *
           design_.sensor_k_per_w_per_m;
  }
  /// How much of a difference in the starting temperature is left after a step.
  double decay_frac() const { return std::exp(-steady_ / capacity_ * piece_s_ * pieces_); }

 private:
  static constexpr double longest_s = 120;

  struct AtWall {
    double output = 0, extra = 0, rise_k = 0;
  };
  /// Output and loss go by the wall, which they raise over the water's mean: twice around is enough, each
  /// round leaves a twentieth of the error.
  AtWall at_wall(const Water& now, double on_frac, double air_c) const {
    AtWall at;
    for (int round = 0; round < 2; ++round) {
      const double wall_c = now.mean_c + at.rise_k, d = wall_c - air_c;
      at.output = on_frac * state_.cable_frac * design_.output_at(wall_c);
      at.extra = (state_.conductance_frac * design_.conductance_at(d) - steady_) * d;
      at.rise_k = rise_k_m_per_w_ * (at.output - g0_ * (wall_c - now.shells.inner_c) - at.extra);
    }
    return at;
  }

  /// Backward Euler of the two masses.
  Shells settle(Shells now, double wall_c, double air_c) const {
    const double a = design_.ladder.inner_j_per_m_k / piece_s_, b = design_.ladder.outer_j_per_m_k / piece_s_;
    const double left = a + g0_ + g1_, right = b + g1_ + g2_;
    const double top = a * now.inner_c + g0_ * wall_c, bottom = b * now.outer_c + g2_ * air_c;
    const double outer = (bottom + g1_ / left * top) / (right - g1_ * g1_ / left);
    return {(top + g1_ * outer) / left, outer};
  }

  /// All three masses together, trapezoidal in the water, whose swings are what is fitted.
  Water couple(Water now, double source, double rise, double air_c) const {
    const Shells half = settle(now.shells, now.mean_c + rise, air_c);
    const double shell_c = 0.5 * (now.shells.inner_c + half.inner_c);
    const double level = shell_c - rise + source / g0_;
    Water next = now;
    next.mean_c = level + (now.mean_c - level) * water_keeps_frac_;
    next.shells = settle(now.shells, 0.5 * (now.mean_c + next.mean_c) + rise, air_c);
    return next;
  }

  const RunDesign& design_;
  const RunState& state_;
  int pieces_;
  double piece_s_ = 0, g0_ = 0, g1_ = 0, g2_ = 0, steady_ = 0, capacity_ = 0;
  double rise_k_m_per_w_ = 0, lag_s_ = 0, keep_frac_ = 0, water_keeps_frac_ = 0;
};

/// Insulation before every step, driven by what was read: what a stretch starts from.
std::vector<Shells> shells_by_step(const Stepper& stepper, const Grid& grid, const RunState& state) {
  std::vector<Shells> all(grid.size());
  bool known = false;
  Shells now;
  double wall_c = 0;
  for (std::size_t i = 0; i < grid.size(); ++i) {
    const double air_c = grid.air_c[i] + state.air_shift_k;
    const double on = std::isnan(grid.on_frac[i]) ? 0 : grid.on_frac[i];
    if (!std::isnan(grid.reading_c[i]))
      wall_c = grid.reading_c[i] - state.sensor_shift_k - stepper.sensor_rise_k(on, grid.reading_c[i]);
    else if (!known)
      continue;
    if (!known) now = stepper.steady(wall_c, air_c);
    known = true;
    all[i] = now;
    now = stepper.below(now, wall_c, air_c);
  }
  return all;
}

/// Mean of the first readings.
double beginning_c(const Grid& grid, const Stretch& stretch) {
  const std::size_t last = std::min(stretch.last, stretch.first + 3);
  double sum = 0;
  for (std::size_t i = stretch.first; i < last; ++i) sum += grid.reading_c[i];
  return sum / static_cast<double>(last - stretch.first);
}

/// Level by which residuals with these weights are best shifted, large ones counting less.
double robust_shift(std::span<const double> residual, std::span<const double> weight, double noise_k) {
  double shift = 0;
  for (int round = 0; round < 4; ++round) {
    double up = 0, down = 1e-12;
    for (std::size_t i = 0; i < residual.size(); ++i) {
      const double left = (residual[i] + shift * weight[i]) / noise_k;
      const double counts = 1 / std::sqrt(1 + left * left);
      up -= counts * weight[i] * residual[i];
      down += counts * weight[i] * weight[i];
    }
    shift = up / down;
  }
  return shift;
}

}  // namespace

Residuals residuals(const RunDesign& design, const Grid& grid, std::span<const Stretch> stretches,
                    const RunState& state, std::size_t skip, double noise_k) {
  Residuals all;
  const Stepper stepper(design, state, grid.step_s);
  const std::vector<Shells> shells = shells_by_step(stepper, grid, state);
  const double decay = stepper.decay_frac();
  std::vector<double> one, weight;
  for (const Stretch& stretch : stretches) {
    one.clear();
    weight.clear();
    const double start_c = beginning_c(grid, stretch) - state.sensor_shift_k;
    const double on = grid.on_frac[stretch.first];
    Stepper::Water now{start_c - stepper.rise_k(on, start_c), start_c, shells[stretch.first]};
    double left = 1;
    const std::size_t began = all.at.size();
    for (std::size_t i = stretch.first; i < stretch.last; ++i) {
      if (i >= stretch.first + skip) {
        one.push_back(now.reading_c + state.sensor_shift_k - grid.reading_c[i]);
        weight.push_back(left);
        all.at.push_back(i);
      }
      if (i + 1 == stretch.last) break;
      now = stepper.standing(now, grid.on_frac[i], grid.air_c[i] + state.air_shift_k);
      left *= decay;
    }
    const double shift = robust_shift(one, weight, noise_k);
    for (std::size_t i = 0; i < one.size(); ++i) all.residual_k.push_back(one[i] + shift * weight[i]);
    all.at.resize(began + one.size());
  }
  return all;
}

HeldWeek held_week(const RunDesign& design, std::span<const double> set_points_c, double slot_s,
                   double differential_k) {
  constexpr int looks = 10;  // of the thermostat, a slot
  const RunState state;
  const Stepper stepper(design, state, slot_s / looks);
  Stepper::Water now{design.about_c, design.about_c, stepper.steady(design.about_c, design.air_c)};
  HeldWeek week;
  bool on = false;
  for (int round = 0; round < 2; ++round) {
    week = {};
    for (const double set_c : set_points_c) {
      double reading = 0, on_looks = 0;
      for (int look = 0; look < looks; ++look) {
        if (now.reading_c < set_c - 0.5 * differential_k) on = true;
        if (now.reading_c > set_c + 0.5 * differential_k) on = false;
        now = stepper.standing(now, on ? 1 : 0, design.air_c);
        reading += now.reading_c / looks;
        on_looks += on ? 1.0 / looks : 0;
      }
      week.reading_c.push_back(reading);
      week.on_frac.push_back(on_looks);
    }
  }
  return week;
}

}  // namespace firstdraw::watch
