
#include <algorithm>
#include <cmath>
#include <limits>

#include "power/cold_start.hpp"
#include "prove/forward_parts.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using enum Cause;

/// Share of the water that has been replaced: nearest the heater most.
double mixed_frac(double flow, double depth_frac) {
  if (flow < still_frac) return 0;
  return std::pow((flow - still_frac) / (1 - still_frac), 1 + 2 * depth_frac);
}

Dual limited(const Dual& duty) {
  if (duty.v >= 1) return 1;
  if (duty.v <= 0) return 0;
  return duty;
}

}  // namespace

Forward::Forward(const Scope& scope, Known known) : scope_(&scope), known_(std::move(known)) {
  known_.set_c.resize(scope.groups.size());
}

double Forward::set_c(int group) const {
  return known_.set_c[at(group)].value_or(scope_->groups[at(group)].set_c);
}

Forward::RunDrive Forward::drive_of(int index, const Setting& setting, const Dual& volts) const {
  const ScopeRun& run = scope_->runs[at(index)];
  const ScopeCircuit& circuit = scope_->circuits[at(run.circuit)];
  const Fault& fault = setting.fault;
  RunDrive drive;
  const bool other = setting.of_circuit(wrong_cable, run.circuit, run.group);
  drive.cable = &scope_->cables[at(other ? fault.sheet : circuit.cable)];
  drive.heat = setting.of_run(missing_insulation, index) ? &run.bare : &run.heat;
  if (setting.of_run(wet_insulation, index)) drive.factor = fault.value;
  drive.live_frac = 1;
  if (fault.cause == dead_length && fault.level == Fault::Level::run &&
      scope_->runs[at(fault.place)].circuit == run.circuit) {
    const int dead = scope_->runs[at(fault.place)].stretch;
    int above = run.stretch;
    while (above >= 0 && above != dead) above = circuit.stretches[at(above)].parent;
    if (above == dead)
      drive.live_frac =
          run.stretch == dead
              ? std::clamp((fault.value - circuit.start_m[at(dead)]) / circuit.stretches[at(dead)].length_m,
                           0.0, 1.0)
              : 0;
  }
  const double tolerance = 0.5 * drive.cable->sheet().output_tolerance_frac;
  Dual output = Dual::tolerance(run.scale, run.scale * tolerance, batch_slot);
  if (setting.of_circuit(ageing_cable, run.circuit, run.group)) output *= fault.value;
  const Sample factor = drive.cable->factor(volts.v);
  drive.gain = output * mapped(factor.value, factor.slope, volts);
  const bool open = fault.cause == breaker_open && setting.of_circuit(breaker_open, run.circuit, run.group);
  if (open || drive.live_frac <= 0) drive.gain = 0;
  drive.loss_scale = Dual::tolerance(mean_loss_frac, mean_loss_frac * common_loss_frac, loss_slot);
  const ScopeGroup& group = scope_->groups[at(run.group)];
  if (index == group.sensor) drive.own_loss.g[own_loss_slot] = own_loss_frac;
  drive.air_c = run.air_c;
  drive.own_air_k = run.own_air_k;
  if (run.space != -1 && scope_->spaces[at(run.space)].slot != -1)
    drive.air_c.g[at(scope_->spaces[at(run.space)].slot)] = scope_->spaces[at(run.space)].sigma_k;
  const bool colder =
      fault.cause == colder_air &&
      (fault.level == Fault::Level::space ? fault.place == run.space : fault.place == run.group);
  if (colder) drive.air_c.v -= fault.value;
  return drive;
}

/// The balance of one run, and what is its alone. One step of Newton's method in numbers with derivatives
/// carries all tolerances over.
Dual Forward::settled(const ScopeRun&, const RunDrive& drive, const Dual& duty, double& own_k) const {
  const Dual power = duty * drive.gain;
  if (!(power.v > 1e-9)) {
    own_k = drive.own_air_k;
    return drive.air_c;
  }
  double water_c = drive.air_c.v + 30;
  RunHeat::Loss loss;
  Sample output;
  double slope = 1;
  for (int i = 0; i < 20; ++i) {
    output = drive.cable->output(water_c);
    loss = drive.heat->at(water_c - drive.air_c.v, drive.factor);
    slope = drive.loss_scale.v * loss.by_k - power.v * output.slope;
    const double step = (power.v * output.value - drive.loss_scale.v * loss.w_per_m) / slope;
    water_c = std::max(drive.air_c.v, water_c + std::clamp(step, -40.0, 40.0));
    if (std::abs(step) < 1e-6) break;
  }
  const double by_log_factor = drive.loss_scale.v * loss.by_log_factor / slope;
  Dual found = power * (output.value / slope);
  found -= drive.loss_scale * (loss.w_per_m / slope);
  found -= drive.own_loss * by_log_factor;
  found += drive.air_c * (drive.loss_scale.v * loss.by_k / slope);
  found.v = water_c;
  const double own_loss_k = drive.own_loss.g[own_loss_slot] > 0 ? 0 : own_loss_frac * by_log_factor;
  own_k = std::hypot(own_loss_k, drive.own_air_k * drive.loss_scale.v * loss.by_k / slope);
  return found;
}

void Forward::control(int index, const Setting& setting, const RunDrive* drive, Now& now) const {
  const ScopeGroup& group = scope_->groups[at(index)];
  GroupNow& made = now.groups[at(index)];
  const double set = set_c(index);
  const job::ControlGroup& described = scope_->job.groups[at(group.job_group)];
  const auto open_loop = [&]() -> Dual {
    if (!group.entered_c && !setting.of_group(wrong_ambient, index)) return 1;
    const double entered = setting.of_group(wrong_ambient, index) ? setting.fault.value : *group.entered_c;
    const double place = std::clamp((entered - first_ambient_c) / ambient_step_c, 0.0, ambients - 1.001);
    const auto cell = static_cast<std::size_t>(place);
    double duty =
        group.duty_by_ambient[cell] +
        (place - static_cast<double>(cell)) * (group.duty_by_ambient[cell + 1] - group.duty_by_ambient[cell]);
    if (setting.of_group(wrong_cable_entered, index) && group.entered_c && !group.circuits.empty()) {
      const int own = scope_->circuits[at(group.circuits.front())].cable;
      duty *= group.duty_by_entered_cable[at(setting.fault.sheet)] / group.duty_by_entered_cable[at(own)];
    }
    return limited(duty);
  };
  made.reading_own_k = std::hypot(group.swing_k, place_k);
  const double mixed =
      group.sensor == -1 ? 0 : mixed_frac(setting.luck.flow, scope_->runs[at(group.sensor)].depth_frac);
  if (group.open_loop) {
    made.called = open_loop();
  } else if (setting.of_group(sensor_unplugged, index)) {
    made.lost = true;
    made.called = described.when_lost == job::SensorLost::off  ? Dual(0)
                  : described.when_lost == job::SensorLost::on ? Dual(1)
                                                               : open_loop();
  } else if (setting.of_group(sensor_off_pipe, index)) {
    made.called = drive->air_c.v < set ? 1 : 0;
  } else if (setting.of_group(sensor_upstream, index)) {
    made.called = 1 - setting.luck.second;  // over the last hours; what it does just now follows its reading
  } else {
    const bool beside = setting.of_group(sensor_beside_cable, index);
    Dual target = Dual::tolerance(set, sensor_sigma_k, sensor_slot);
    target -= beside ? Dual::tolerance(group.beside_k, coupling_frac * group.beside_k, coupling_slot)
                     : Dual(group.offset_k);
    const Sample output = drive->cable->output(target.v);
    const RunHeat::Loss loss = drive->heat->at(target.v - drive->air_c.v, drive->factor);
    const Dual lost = drive->loss_scale * (mapped(loss.w_per_m, loss.by_k, target - drive->air_c) +
                                           drive->own_loss * loss.by_log_factor);
    const bool alive = drive->gain.v > 1e-9 && drive->live_frac > 0.5;
    made.called = target.v <= drive->air_c.v ? Dual(0)
                  : alive ? limited(lost / (drive->gain * mapped(output.value, output.slope, target)))
                          : Dual(1);
  }
  made.duty = made.called;
  // Hot water that passes the sensor does part of the work.
  if (group.sensor != -1 && !group.open_loop && scope_->runs[at(group.sensor)].supply_c > set) {
    if (made.called.v < 1) made.duty *= 1 - mixed;
  }
  if (setting.of_group(contactor_stuck_on, index)) made.duty = 1;
  if (setting.of_group(contactor_stuck_off, index)) made.duty = 0;
}

/// For the heat of a run: the share of the panel's voltage that it has in the plan. A fault moves that share
/// by less than a hundredth, which its temperature hardly feels.
Dual Forward::volts_at(int index, const Setting& setting) const {
  const ScopeRun& run = scope_->runs[at(index)];
  const ScopeCircuit& circuit = scope_->circuits[at(run.circuit)];
  const bool wrong = setting.of_circuit(wrong_voltage, run.circuit, run.group);
  const double volts = (wrong ? setting.fault.value : circuit.panel_v) * run.voltage_frac;
  return Dual::tolerance(volts, volts * (wrong ? 0.01 : circuit.volts_frac), volts_slot);
}

/// Temperature of a run under its group's duty, with what drawn water does to it.
void Forward::warm(int index, const Setting& setting, std::optional<double> minutes, Now& now) const {
  const ScopeRun& run = scope_->runs[at(index)];
  const RunDrive drive = drive_of(index, setting, volts_at(index, setting));
  RunNow& made = now.runs[at(index)];
  made.live_frac = drive.gain.v > 0 ? drive.live_frac : 0;
  const GroupNow& group = now.groups[at(run.group)];
  double own_k = 0;
  Dual water_c = settled(run, drive, group.duty, own_k);
  if (minutes) {
    double on_own_k = 0;
    const bool heats = group.duty.v > 0;
    const Dual final_c = heats ? settled(run, drive, 1, on_own_k) : drive.air_c;
    const RunHeat::Loss loss = drive.heat->at(final_c.v - drive.air_c.v, drive.factor);
    const double slope = drive.loss_scale.v * loss.by_k - drive.gain.v * drive.cable->output(final_c.v).slope;
    const double left = std::exp(-60 * *minutes * slope / run.j_per_m_k);
    const Dual warming = final_c * (1 - left) + drive.air_c * left;
    if (warming.v < water_c.v || group.duty.v >= 1) water_c = warming;
    own_k = std::hypot(own_k, 0.08 * (final_c.v - water_c.v));
  }
  if (made.live_frac > 0 && made.live_frac < 1) {  // part of it is cold
    own_k = std::hypot(own_k, std::sqrt(made.live_frac * (1 - made.live_frac)) * (water_c.v - drive.air_c.v));
  }
  const double mixed = minutes ? 0 : mixed_frac(setting.luck.flow, run.depth_frac);
  const double swing_k = scope_->groups[at(run.group)].swing_k;
  own_k = std::hypot(own_k, std::hypot(place_k, 0.3 * swing_k));
  if (mixed > 0) {
    const double apart_k = run.supply_c - water_c.v;
    water_c = water_c * (1 - mixed) + Dual(run.supply_c * mixed);
    own_k = std::hypot(own_k * (1 - mixed), 0.7 * mixed * (1 - mixed) * apart_k, supply_k * mixed);
  }
  made.water_c = water_c;
  made.own_k = own_k;
}

Now Forward::now(const Fault& fault, const Luck& luck, std::optional<double> minutes,
                 const std::vector<char>& wanted) const {
  const Setting setting{fault, luck};
  Now made;
  made.runs.resize(scope_->runs.size());
  made.circuits.resize(scope_->circuits.size());
  made.groups.resize(scope_->groups.size());
  for (std::size_t g = 0; g < scope_->groups.size(); ++g) {
    const int index = static_cast<int>(g), sensor = scope_->groups[g].sensor;
    if (sensor == -1) {
      control(index, setting, nullptr, made);
      continue;
    }
    const RunDrive drive = drive_of(sensor, setting, volts_at(sensor, setting));
    control(index, setting, &drive, made);
    warm(sensor, setting, minutes, made);
  }
  for (std::size_t c = 0; c < wanted.size(); ++c) {
    if (!wanted[c]) continue;
    for (const int run : scope_->circuits[c].runs)
      if (run != scope_->groups[at(scope_->circuits[c].group)].sensor) warm(run, setting, minutes, made);
    ladder(static_cast<int>(c), setting, made);
  }
  for (std::size_t g = 0; g < scope_->groups.size(); ++g)
    read_sensor(static_cast<int>(g), setting, minutes, made);
  return made;
}

double Forward::start_factor(int index, double minutes) const {
  const ScopeCircuit& circuit = scope_->circuits[at(index)];
  const auto fit = power::fit_cold_start(scope_->cables[at(circuit.cable)].sheet());
  if (!fit) return 1;
  const double start_c = scope_->runs[at(circuit.runs.front())].air_c, time_s = 60 * minutes;
  const power::StartPipe kept{std::numeric_limits<double>::infinity(), 0, start_c, 1};
  const power::ColdStart course(fit->model, kept, {circuit.panel_v, start_c}, std::max(time_s, 1.0));
  return course.current_a_per_m(time_s) * circuit.panel_v /
         fit->model.cable.power_w_per_m(start_c, circuit.panel_v);
}

/// What the sensor shows once its run's temperature is known.
void Forward::read_sensor(int index, const Setting& setting, std::optional<double> minutes, Now& now) const {
  const ScopeGroup& group = scope_->groups[at(index)];
  if (group.sensor == -1) return;
  GroupNow& made = now.groups[at(index)];
  const RunNow& run = now.runs[at(group.sensor)];
  const double set = set_c(index);
  const Dual error = Dual::tolerance(0, sensor_sigma_k, sensor_slot);
  if (setting.of_group(sensor_off_pipe, index)) {
    const RunDrive drive = drive_of(group.sensor, setting, 0);
    const double warmer = 0.25 * setting.luck.first;  // it may still lie near the pipe
    made.reading_c = drive.air_c * (1 - warmer) + run.water_c * warmer + error;
    made.reading_own_k = 1.5;
    made.called = made.reading_c.v < set ? 1 : 0;
    return;
  }
  if (setting.of_group(sensor_upstream, index)) {
    const ScopeRun& at_sensor = scope_->runs[at(group.sensor)];
    made.reading_c = at_sensor.air_c + setting.luck.first * (at_sensor.supply_c - at_sensor.air_c);
    made.reading_own_k = 2;
    made.called = made.reading_c.v < set ? 1 : 0;
    return;
  }
  // Cable on: the wall where the bulb sits is warmer than the water.
  const bool beside = setting.of_group(sensor_beside_cable, index);
  const bool on = made.duty.v > 0 && (run.water_c.v <= set || made.duty.v >= 1);
  made.reading_c = run.water_c - error;
  if (on)
    made.reading_c += beside ? Dual::tolerance(group.beside_k, coupling_frac * group.beside_k, coupling_slot)
                             : Dual(group.offset_k);
  const bool in_control = !group.open_loop && !made.lost && made.called.v > 0 && made.called.v < 1 &&
                          !setting.of_group(contactor_stuck_on, index) &&
                          !setting.of_group(contactor_stuck_off, index) && !minutes;
  if (in_control && made.reading_c.v <= set + group.swing_k + 0.5) made.reading_c = set;
  made.reading_own_k = in_control ? std::hypot(group.swing_k, 0.3) : std::hypot(run.own_k, 0.5);
  if (group.open_loop || made.lost) return;
  if (setting.of_group(contactor_stuck_on, index) || setting.of_group(contactor_stuck_off, index))
    made.called = made.reading_c.v < set ? 1 : 0;
}

}  // namespace firstdraw::prove
