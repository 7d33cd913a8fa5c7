#include <algorithm>
#include <limits>
#include <numbers>
#include <optional>
#include <set>
#include <stdexcept>

#include "forecast/scene_parts.hpp"
#include "hold/balance.hpp"
#include "plan/decide.hpp"
#include "plan/run_classes.hpp"
#include "plan/sensor.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;

draw::Period period_of(const job::Period& period, const job::ControlGroup& group) {
  draw::Period made{period.weekdays, period.begin_s, period.end_s, {}};
  using enum job::Period::Setting;
  switch (period.setting) {
    case maintain:
      made.hold_c = group.maintain_c;
      break;
    case setback:
      made.hold_c = group.setback_c;
      break;
    case temperature:
      made.hold_c = period.hold_c;
      break;
    case off:
      break;
  }
  return made;
}

draw::SensorLost when_lost(job::SensorLost lost) {
  switch (lost) {
    case job::SensorLost::on:
      return draw::SensorLost::on;
    case job::SensorLost::entered_ambient:
      return draw::SensorLost::open_loop;
    case job::SensorLost::off:
      break;
  }
  return draw::SensorLost::off;
}

/// Share of output that would hold the group's average run at each set-point in use with the entered ambient
/// as air, as the steady room has it; 1 when no ambient was entered.
void set_open_loop(draw::ControlSettings& control, const hold::Building& held, int group) {
  std::set<double> in_use{control.hold_c};
  for (const draw::Period& period : control.periods)
    if (period.hold_c) in_use.insert(*period.hold_c);
  const std::vector<int> runs = hold::runs_by_group(held)[at(group)];
  for (const double set_c : in_use) {
    const double duty = runs.empty() ? 0 : hold::open_loop_duty(held, held.groups[at(group)], runs, set_c);
    control.open_loop_at_c.push_back(set_c);
    control.open_loop_duty.push_back(std::clamp(duty, 0.0, 1.0));
  }
}

/// The proportional band is draw's own: the job knows none.
draw::ControlSettings control_of(const Blueprint& blueprint, int index) {
  const job::ControlGroup& group = blueprint.job.groups[at(index)];
  draw::ControlSettings control;
  if (group.method == job::ControlMethod::pulsed) control.mode = draw::ControlMode::pulsed;
  control.hold_c = group.maintain_c;
  for (const job::Period& period : blueprint.job.periods)
    if (period.group == group.id) control.periods.push_back(period_of(period, group));
  control.differential_k = group.differential_k;
  // The job knows a cycle only where one is needed by its own choices; a lost sensor may need it too.
  if (group.cycle_s > 0) control.cycle_s = group.cycle_s;
  if (group.high_cutout_c > 0) control.cutout_c = group.high_cutout_c;
  control.min_on_s = group.min_on_s;
  control.min_off_s = group.min_off_s;
  control.when_lost = when_lost(group.when_lost);
  if (const Fault* clock = fault_at(blueprint.options, FaultKind::clock_off, group.id))
    control.clock_error_s = clock->value;
  set_open_loop(control, blueprint.held, index);
  return control;
}

/// Reading above the wall per W/m of cable on: the wall-angle model's reading when the cable just covers the
/// loss (then the wall's mean is the water's temperature), over that loss per metre of pipe.
double sensor_k_per_w_per_m(const Blueprint& blueprint, const hold::HeldRun& held, double angle_rad) {
  const job::Run& run = blueprint.job.runs[at(held.job_run)];
  const double water_c = blueprint.held.groups[at(held.group)].maintain_c, air_c = held.air.usual_c;
  if (!(water_c > air_c)) return 0;
  const double offset_k = plan::sensor_offset_k(run.pipe, held.loss, water_c, air_c, angle_rad,
                                                blueprint.held.cables[at(held.cable)], held.passes);
  const double lost_w_per_m = held.loss.loss_w_per_m(water_c, air_c) * held.loss_length_m / run.length_m;
  return offset_k / lost_w_per_m;
}

void mount_sensor(const Blueprint& blueprint, int index, draw::SceneGroup& made) {
  const job::ControlGroup& group = blueprint.job.groups[at(index)];
  made.sensor_lag_s = group.sensor_lag_s;
  made.sensor_offset_k = varied(blueprint.options.variation.sensor_shift_k, index, 0);
  made.sensor_present = !fault_at(blueprint.options, FaultKind::sensor_lost, group.id);
  const int sensor = plan::sensor_run_of(blueprint.job, index);
  if (sensor == draw::none || blueprint.held_of_run[at(sensor)] == draw::none) return;
  made.sensor_run = blueprint.scene_of_run[at(sensor)];
  const bool beside = fault_at(blueprint.options, FaultKind::sensor_beside_cable, group.id);
  const hold::HeldRun& held = blueprint.held.runs[at(blueprint.held_of_run[at(sensor)])];
  made.sensor_k_per_w_per_m = sensor_k_per_w_per_m(blueprint, held, beside ? 0 : group.sensor_angle_rad);
}

/// What the group's faults say of when they begin; several that differ are a mistake of the program.
double faults_begin_s(const SceneOptions& options, const std::string& group) {
  using enum FaultKind;
  std::optional<double> begin_s;
  for (const FaultKind kind : {sensor_lost, sensor_off_pipe, contactor_stuck_on, contactor_stuck_off}) {
    const Fault* fault = fault_at(options, kind, group);
    if (!fault) continue;
    if (begin_s && *begin_s != fault->begin_s)
      throw std::logic_error("faults of one group's sensor and contactor must begin together");
    begin_s = fault->begin_s;
  }
  return begin_s.value_or(-std::numeric_limits<double>::infinity());
}

draw::SceneGroup scene_group(const Blueprint& blueprint, int index) {
  const job::ControlGroup& group = blueprint.job.groups[at(index)];
  const SceneOptions& options = blueprint.options;
  draw::SceneGroup made;
  made.id = group.id;
  made.control = control_of(blueprint, index);
  mount_sensor(blueprint, index, made);
  // As in the steady room: a group without a sensor on heated pipe follows its entered ambient.
  if (group.kind == job::ControlKind::entered_ambient || made.sensor_run == draw::none)
    made.control.mode = draw::ControlMode::open_loop;
  if (made.sensor_run != draw::none && fault_at(options, FaultKind::sensor_upstream, group.id)) {
    const int above = untraced_above(blueprint.job, blueprint.plan, index);
    if (above != draw::none) made.sensor_run = blueprint.scene_of_run[at(above)];
  }
  made.sensor_off_pipe =
      made.sensor_run != draw::none && fault_at(options, FaultKind::sensor_off_pipe, group.id);
  made.fault_begin_s = faults_begin_s(options, group.id);
  if (fault_at(options, FaultKind::contactor_stuck_on, group.id))
    made.contactor = draw::SceneGroup::Contactor::stuck_on;
  if (fault_at(options, FaultKind::contactor_stuck_off, group.id))
    made.contactor = draw::SceneGroup::Contactor::stuck_off;
  return made;
}

}  // namespace

std::vector<draw::SceneGroup> scene_groups(const Blueprint& blueprint) {
  std::vector<draw::SceneGroup> groups;
  for (std::size_t g = 0; g < blueprint.job.groups.size(); ++g)
    groups.push_back(scene_group(blueprint, static_cast<int>(g)));
  return groups;
}

}  // namespace firstdraw::forecast
