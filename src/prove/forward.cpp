// Heat: what drives each run, where it settles, and what drawn water does to it.
#include <algorithm>
#include <cmath>
#include <limits>

#include "power/cold_start.hpp"
#include "prove/forward_parts.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using enum Cause;

constexpr double start_guess_k = 30, longest_step_k = 40, settled_k = 1e-6;
constexpr int most_steps = 20;
constexpr double warming_frac = 0.08;  // a single time constant against the course of a warm-up; our choice

/// A balance found: the temperature and what Newton's last step stood on.
struct Balance {
  double water_c = 0, slope = 1;
  RunHeat::Loss loss;
  Sample output;
};

}  // namespace

double mixed_frac(double flow, double depth_frac) {
  if (flow < still_frac) return 0;
  return std::pow((flow - still_frac) / (1 - still_frac), 1 + 2 * depth_frac);
}

double live_share(const Scope& scope, const Fault& fault, int circuit, int stretch) {
  if (fault.cause != dead_length || scope.runs[at(fault.place)].circuit != circuit) return 1;
  const ScopeCircuit& fixed = scope.circuits[at(circuit)];
  const int dead = scope.runs[at(fault.place)].stretch;
  int above = stretch;
  while (above >= 0 && above != dead) above = fixed.stretches[at(above)].parent;
  if (above != dead) return 1;
  if (stretch != dead) return 0;
  return std::clamp((fault.value - fixed.start_m[at(dead)]) / fixed.stretches[at(dead)].length_m, 0.0, 1.0);
}

Dual air_of(const Scope& scope, const Fault& fault, int index) {
  const ScopeRun& run = scope.runs[at(index)];
  Dual air_c = run.air_c;
  if (run.space != -1 && scope.spaces[at(run.space)].slot != -1)
    air_c.g[at(scope.spaces[at(run.space)].slot)] = scope.spaces[at(run.space)].sigma_k;
  const bool by_space = fault.level == Fault::Level::space;
  if (fault.cause == colder_air && fault.place == (by_space ? run.space : run.group)) air_c.v -= fault.value;
  return air_c;
}

Forward::Forward(const Scope& scope, Known known) : scope_(&scope), known_(std::move(known)) {
  known_.set_c.resize(scope.groups.size());
}

double Forward::set_c(int group) const {
  return known_.set_c[at(group)].value_or(scope_->groups[at(group)].set_c);
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

Forward::RunDrive Forward::drive_of(int index, const Setting& setting, const Dual& volts) const {
  const ScopeRun& run = scope_->runs[at(index)];
  const Fault& fault = setting.fault;
  RunDrive drive;
  const bool other = setting.of_circuit(wrong_cable, run.circuit, run.group);
  drive.cable = &scope_->cables[at(other ? fault.sheet : scope_->circuits[at(run.circuit)].cable)];
  drive.heat = setting.of_run(missing_insulation, index) ? &run.bare : &run.heat;
  if (setting.of_run(wet_insulation, index)) drive.factor = fault.value;
  drive.live_frac = live_share(*scope_, fault, run.circuit, run.stretch);
  const double tolerance = 0.5 * drive.cable->sheet().output_tolerance_frac;
  Dual output = Dual::tolerance(run.scale, run.scale * tolerance, batch_slot);
  if (setting.of_circuit(ageing_cable, run.circuit, run.group)) output *= fault.value;
  const Sample factor = drive.cable->factor(volts.v);
  drive.gain = output * mapped(factor.value, factor.slope, volts);
  if (setting.of_circuit(breaker_open, run.circuit, run.group) || drive.live_frac <= 0) drive.gain = 0;
  drive.loss_scale = Dual::tolerance(mean_loss_frac, mean_loss_frac * common_loss_frac, loss_slot);
  if (index == scope_->groups[at(run.group)].sensor) drive.own_loss.g[own_loss_slot] = own_loss_frac;
  drive.air_c = air_of(*scope_, fault, index);
  drive.own_air_k = run.own_air_k;
  return drive;
}

/// The balance of one run, and what is its alone. One step of Newton's method in numbers with derivatives
/// carries all tolerances over.
Dual Forward::settled(const RunDrive& drive, const Dual& duty, double& own_k) const {
  const Dual power = duty * drive.gain;
  own_k = drive.own_air_k;
  if (!(power.v > 1e-9)) return drive.air_c;
  Balance at_rest{drive.air_c.v + start_guess_k, 1, {}, {}};
  for (int i = 0; i < most_steps; ++i) {
    at_rest.output = drive.cable->output(at_rest.water_c);
    at_rest.loss = drive.heat->at(at_rest.water_c - drive.air_c.v, drive.factor);
    at_rest.slope = drive.loss_scale.v * at_rest.loss.by_k - power.v * at_rest.output.slope;
    const double step =
        (power.v * at_rest.output.value - drive.loss_scale.v * at_rest.loss.w_per_m) / at_rest.slope;
    at_rest.water_c =
        std::max(drive.air_c.v, at_rest.water_c + std::clamp(step, -longest_step_k, longest_step_k));
    if (std::abs(step) < settled_k) break;
  }
  const double by_air = drive.loss_scale.v * at_rest.loss.by_k / at_rest.slope;
  const double by_log_factor = drive.loss_scale.v * at_rest.loss.by_log_factor / at_rest.slope;
  Dual found = power * (at_rest.output.value / at_rest.slope) + drive.air_c * by_air;
  found -= drive.loss_scale * (at_rest.loss.w_per_m / at_rest.slope);
  found -= drive.own_loss * by_log_factor;
  found.v = at_rest.water_c;
  const double own_loss_k = drive.own_loss.g[own_loss_slot] > 0 ? 0 : own_loss_frac * by_log_factor;
  own_k = std::hypot(own_loss_k, drive.own_air_k * by_air);
  return found;
}

/// So long after switching on from the air's temperature; never beyond where control holds it.
Dual Forward::warming(const ScopeRun& run, const RunDrive& drive, const Dual& duty, double minutes,
                      double& own_k) const {
  const Dual held_c = settled(drive, duty, own_k);
  if (!(duty.v > 0)) return held_c;
  double on_own_k = 0;
  const Dual final_c = settled(drive, 1, on_own_k);
  const RunHeat::Loss loss = drive.heat->at(final_c.v - drive.air_c.v, drive.factor);
  const double slope = drive.loss_scale.v * loss.by_k - drive.gain.v * drive.cable->output(final_c.v).slope;
  const double left = std::exp(-60 * minutes * slope / run.j_per_m_k);
  const Dual now_c = final_c * (1 - left) + drive.air_c * left;
  own_k = std::hypot(own_k, warming_frac * (final_c.v - now_c.v));
  return now_c.v < held_c.v || duty.v >= 1 ? now_c : held_c;
}

/// Temperature of a run under its group's duty, with what drawn water does to it.
void Forward::warm(int index, const Setting& setting, std::optional<double> minutes, Now& now) const {
  const ScopeRun& run = scope_->runs[at(index)];
  const RunDrive drive = drive_of(index, setting, volts_at(index, setting));
  const Dual& duty = now.groups[at(run.group)].duty;
  RunNow& made = now.runs[at(index)];
  made.live_frac = drive.gain.v > 0 ? drive.live_frac : 0;
  made.water_c = minutes ? warming(run, drive, duty, *minutes, made.own_k) : settled(drive, duty, made.own_k);
  const bool partly = made.live_frac > 0 && made.live_frac < 1;
  const double apart_k = made.water_c.v - drive.air_c.v;
  made.own_k = std::hypot(made.own_k, place_k, 0.3 * scope_->groups[at(run.group)].swing_k);
  made.pipe_c = partly ? made.water_c * made.live_frac + drive.air_c * (1 - made.live_frac) : made.water_c;
  made.pipe_own_k = partly
                        ? std::hypot(made.own_k, std::sqrt(made.live_frac * (1 - made.live_frac)) * apart_k)
                        : made.own_k;
  if (minutes) return;
  const double mixed = mixed_frac(setting.luck.flow, run.depth_frac);
  if (!(mixed > 0)) return;
  const auto draw = [&](Dual& at_c, double& own_k) {
    const double supply_apart_k = run.supply_c - at_c.v;
    at_c = at_c * (1 - mixed) + Dual(run.supply_c * mixed);
    own_k = std::hypot(own_k * (1 - mixed), 0.5 * std::sqrt(mixed * (1 - mixed)) * supply_apart_k,
                       supply_k * mixed);
  };
  draw(made.water_c, made.own_k);
  draw(made.pipe_c, made.pipe_own_k);
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

}  // namespace firstdraw::prove
