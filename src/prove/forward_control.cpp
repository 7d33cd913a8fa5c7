// Control: what each controller asks for and what its sensor shows.
#include <algorithm>
#include <cmath>

#include "prove/forward_parts.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using enum Cause;

constexpr double pocket_frac = 0.25;  // a sensor off its pipe may still lie near it
constexpr double off_pipe_k = 1.5, upstream_k = 2, display_k = 0.3, wall_k = 0.5;

Dual limited(const Dual& duty) {
  if (duty.v >= 1) return 1;
  if (duty.v <= 0) return 0;
  return duty;
}

/// What the sensor reads above the water while the cable is on.
Dual above_water(const ScopeGroup& group, bool beside) {
  return beside ? Dual::tolerance(group.beside_k, coupling_frac * group.beside_k, coupling_slot)
                : Dual(group.offset_k);
}

bool is_dead_at_sensor(double live_frac, const Luck& luck) {
  return live_frac <= 0 || (live_frac < 1 && live_frac <= sensor_at_frac(luck));
}

/// Of a run that is dead in part, the part where the sensor sits.
Dual water_at_sensor(const RunNow& run, const Luck& luck) {
  if (run.live_frac <= 0 || run.live_frac >= 1 || !is_dead_at_sensor(run.live_frac, luck)) return run.water_c;
  return (run.pipe_c - run.water_c * run.live_frac) * (1 / (1 - run.live_frac));
}

}  // namespace

/// Moisture in a broken cable goes by the same luck, each evenly spread whatever the other.
double sensor_at_frac(const Luck& luck) {
  const double even = luck.second < damaged_share ? luck.second / damaged_share
                                                  : (luck.second - damaged_share) / (1 - damaged_share);
  return 0.1 + 0.8 * even;
}

/// Share of output by the entered ambient and the entered cable; 1 where none was entered.
Dual Forward::open_loop_duty(int index, const Setting& setting) const {
  const ScopeGroup& group = scope_->groups[at(index)];
  const bool wrong = setting.of_group(wrong_ambient, index);
  if (!group.entered_c && !wrong) return 1;
  const double entered_c = wrong ? setting.fault.value : *group.entered_c;
  const double place = std::clamp((entered_c - first_ambient_c) / ambient_step_c, 0.0, ambients - 1.001);
  const auto cell = static_cast<std::size_t>(place);
  const double rise = group.duty_by_ambient[cell + 1] - group.duty_by_ambient[cell];
  double duty = group.duty_by_ambient[cell] + (place - static_cast<double>(cell)) * rise;
  if (setting.of_group(wrong_cable_entered, index) && group.entered_c && !group.circuits.empty()) {
    const int own = scope_->circuits[at(group.circuits.front())].cable;
    duty *= group.duty_by_entered_cable[at(setting.fault.sheet)] / group.duty_by_entered_cable[at(own)];
  }
  return limited(duty);
}

/// What holds the sensor's run at the set-point.
Dual Forward::held_duty(int index, const Setting& setting, const RunDrive& drive) const {
  Dual target = Dual::tolerance(set_c(index), sensor_sigma_k, sensor_slot);
  target -= above_water(scope_->groups[at(index)], setting.of_group(sensor_beside_cable, index));
  if (target.v <= drive.air_c.v) return 0;
  if (!(drive.gain.v > 1e-9) || is_dead_at_sensor(drive.live_frac, setting.luck)) return 1;
  const Sample output = drive.cable->output(target.v);
  const RunHeat::Loss loss = drive.heat->at(target.v - drive.air_c.v, drive.factor);
  const Dual lost = drive.loss_scale * (mapped(loss.w_per_m, loss.by_k, target - drive.air_c) +
                                        drive.own_loss * loss.by_log_factor);
  return limited(lost / (drive.gain * mapped(output.value, output.slope, target)));
}

Dual Forward::without_sensor(int index, const Setting& setting) const {
  switch (scope_->job.groups[at(scope_->groups[at(index)].job_group)].when_lost) {
    case job::SensorLost::on:
      return 1;
    case job::SensorLost::entered_ambient:
      return open_loop_duty(index, setting);
    case job::SensorLost::off:
      break;
  }
  return 0;
}

/// Over the last hours; what a controller does just now follows its reading.
Dual Forward::asked_duty(int index, const Setting& setting, const RunDrive* drive) const {
  if (scope_->groups[at(index)].open_loop) return open_loop_duty(index, setting);
  if (setting.of_group(sensor_unplugged, index)) return without_sensor(index, setting);
  if (setting.of_group(sensor_off_pipe, index)) return drive->air_c.v < set_c(index) ? 1 : 0;
  if (setting.of_group(sensor_upstream, index)) return 1 - setting.luck.second;
  return held_duty(index, setting, *drive);
}

void Forward::control(int index, const Setting& setting, const RunDrive* drive, Now& now) const {
  const ScopeGroup& group = scope_->groups[at(index)];
  GroupNow& made = now.groups[at(index)];
  made.lost = !group.open_loop && setting.of_group(sensor_unplugged, index);
  made.duty = made.called = asked_duty(index, setting, drive);
  if (group.sensor != -1 && !group.open_loop && made.called.v < 1) {
    const ScopeRun& at_sensor = scope_->runs[at(group.sensor)];
    // Hot water that passes the sensor does part of the work.
    if (at_sensor.supply_c > set_c(index))
      made.duty *= 1 - mixed_frac(setting.luck.flow, at_sensor.depth_frac);
  }
  if (setting.of_group(contactor_stuck_on, index)) made.duty = 1;
  if (setting.of_group(contactor_stuck_off, index)) made.duty = 0;
}

/// Sensors that are not where they should be.
bool Forward::read_elsewhere(int index, const Setting& setting, Now& now) const {
  const ScopeGroup& group = scope_->groups[at(index)];
  const ScopeRun& at_sensor = scope_->runs[at(group.sensor)];
  GroupNow& made = now.groups[at(index)];
  if (setting.of_group(sensor_off_pipe, index)) {
    const double warmer = pocket_frac * setting.luck.first;
    made.reading_c = air_of(*scope_, setting.fault, group.sensor) * (1 - warmer) +
                     now.runs[at(group.sensor)].water_c * warmer;
    made.reading_own_k = off_pipe_k;
  } else if (setting.of_group(sensor_upstream, index)) {
    made.reading_c = at_sensor.air_c + setting.luck.first * (at_sensor.supply_c - at_sensor.air_c);
    made.reading_own_k = upstream_k;
  } else {
    return false;
  }
  made.called = made.reading_c.v < set_c(index) ? 1 : 0;
  return true;
}

/// What the sensor shows once its run's temperature is known.
void Forward::read_sensor(int index, const Setting& setting, std::optional<double> minutes, Now& now) const {
  const ScopeGroup& group = scope_->groups[at(index)];
  if (group.sensor == -1 || read_elsewhere(index, setting, now)) return;
  GroupNow& made = now.groups[at(index)];
  const RunNow& run = now.runs[at(group.sensor)];
  const double set = set_c(index);
  const bool stuck =
      setting.of_group(contactor_stuck_on, index) || setting.of_group(contactor_stuck_off, index);
  const bool dead_here = run.live_frac < 1 && is_dead_at_sensor(run.live_frac, setting.luck);
  made.reading_c = water_at_sensor(run, setting.luck) - Dual::tolerance(0, sensor_sigma_k, sensor_slot);
  if (!dead_here && made.duty.v > 0 && (run.water_c.v <= set || made.duty.v >= 1))
    made.reading_c += above_water(group, setting.of_group(sensor_beside_cable, index));
  const bool held =
      !group.open_loop && !made.lost && !stuck && !minutes && made.called.v > 0 && made.called.v < 1;
  if (held && made.reading_c.v <= set + group.swing_k + 0.5) made.reading_c = set;
  made.reading_own_k = held ? std::hypot(group.swing_k, display_k) : std::hypot(run.own_k, wall_k);
  if (stuck && !group.open_loop && !made.lost) made.called = made.reading_c.v < set ? 1 : 0;
}

}  // namespace firstdraw::prove
