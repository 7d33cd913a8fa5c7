// What a state says a reading should be.
#include <algorithm>
#include <cmath>

#include "power/electrical.hpp"
#include "prove/forward_parts.hpp"
#include "prove/observe.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using enum What;

// How far the model may be off, one standard deviation; our choice.
constexpr double contact_k = 0.7;          // a thermometer pressed onto a pipe under insulation
constexpr double feed_frac = 0.004;        // other loads come and go
constexpr double duty_share = 0.07;        // a duty is a mean over some time
constexpr double start_frac = 0.06;        // the course of a start
constexpr double capacitance_frac = 0.05;  // farads per metre
constexpr double core_frac = 0.2;          // of a core at the voltage of a meter
constexpr double loop_frac = 0.03;
constexpr double sure = 0.97;        // of what is only looked at
constexpr double wet_seen = 0.85;    // of wet insulation, by who takes hold of it; our choice
constexpr double wet_walked = 0.75;  // and by who walks past with a thermometer in hand
constexpr double film_frac = 0.2,
                 jacket_k = 0.7;  // of a jacket's rise: draught and shine; a thermometer on it
// Insulation to the braid, in powers of ten of ohms.
constexpr double sound_ohm_m_log10 = 11.5, sound_log10 = 0.7, damaged_log10 = 6.5, damaged_spread_log10 = 1;

bool of_run(const Fault& fault, Cause cause, int run) {
  return fault.cause == cause && fault.level == Fault::Level::run && fault.place == run;
}
int scope_circuit(const Forward& forward, const Fault& fault) {
  return fault.level == Fault::Level::run ? forward.scope().runs[at(fault.place)].circuit : -1;
}

Outcome number(const Dual& mean, double own_var) {
  Outcome made;
  made.kind = Outcome::Kind::number;
  made.mean = mean;
  made.own_var = own_var;
  return made;
}
Outcome yes_no(double yes_prob) {
  Outcome made;
  made.kind = Outcome::Kind::yes_no;
  made.yes_prob = std::clamp(yes_prob, 1 - sure, sure);
  return made;
}

double square(double value) { return value * value; }

/// A controller that has lost its sensor and stays off cannot be made to heat.
bool locked_out(const GroupNow& group) { return group.lost && group.called.v <= 0; }

Outcome current_of(const Forward& forward, const Now& now, const Observable& of) {
  const CircuitNow& circuit = now.circuits[at(of.circuit)];
  const ScopeCircuit& fixed = forward.scope().circuits[at(of.circuit)];
  if (!circuit.known) return {};
  if (locked_out(now.groups[at(fixed.group)])) return number(0, 0);
  Outcome made = number(circuit.amps * of.start_factor,
                        of.minutes && *of.minutes < 15 ? square(start_frac * circuit.amps.v) : 0);
  for (const int run : fixed.runs)
    made.own.emplace_back(run, of.start_factor * now.runs[at(run)].amp_per_k * now.runs[at(run)].own_k);
  return made;
}

Outcome voltage_of(const Forward& forward, const Now& now, const Observable& of) {
  const CircuitNow& circuit = now.circuits[at(of.circuit)];
  const ScopeCircuit& fixed = forward.scope().circuits[at(of.circuit)];
  if (!circuit.known) return {};
  if (locked_out(now.groups[at(fixed.group)])) return number(0, 1);
  Dual volts = circuit.feed_v;
  if (of.what == far_voltage) {
    const int stretch = of.run == -1 ? fixed.far_stretch : forward.scope().runs[at(of.run)].stretch;
    volts = circuit.far_v[at(stretch)];
  }
  return number(volts, square(feed_frac * volts.v) + 0.25);
}

/// On one run; or somewhere along the circuit, where its cable is warm.
Outcome pipe_of(const Forward& forward, const Now& now, const Observable& of) {
  if (of.run != -1) {
    const RunNow& run = now.runs[at(of.run)];
    Outcome made = number(run.pipe_c, square(contact_k));
    made.own.emplace_back(of.run, run.pipe_own_k);
    return made;
  }
  const ScopeCircuit& circuit = forward.scope().circuits[at(of.circuit)];
  double metres = 0, spread = 0;
  for (std::size_t s = 0; s < circuit.runs.size(); ++s)
    metres += circuit.stretches[s].length_m * now.runs[at(circuit.runs[s])].live_frac;
  const bool all = metres <= 0;  // nothing is alive: anywhere
  Outcome made = number(0, 0);
  double whole = metres;
  if (all)
    for (const auto& stretch : circuit.stretches) whole += stretch.length_m;
  const auto share = [&](std::size_t s) {
    return circuit.stretches[s].length_m * (all ? 1 : now.runs[at(circuit.runs[s])].live_frac) / whole;
  };
  for (std::size_t s = 0; s < circuit.runs.size(); ++s) {
    const RunNow& run = now.runs[at(circuit.runs[s])];
    made.mean += run.water_c * share(s);
    made.own.emplace_back(circuit.runs[s], share(s) * run.own_k);
  }
  for (std::size_t s = 0; s < circuit.runs.size(); ++s)
    spread += share(s) * (square(now.runs[at(circuit.runs[s])].water_c.v - made.mean.v) +
                          square(now.runs[at(circuit.runs[s])].own_k));
  made.own_var = spread + square(contact_k);
  return made;
}

Outcome air_around(const Forward& forward, const Fault& fault, const Observable& of) {
  return number(air_of(forward.scope(), fault, of.run),
                square(forward.scope().runs[at(of.run)].own_air_k) + 1);
}

Outcome sensor_of(const Now& now, const Observable& of) {
  const GroupNow& group = now.groups[at(of.group)];
  Outcome made = number(group.reading_c, square(group.reading_own_k));
  made.lost = group.lost;
  return made;
}

Outcome duty_of(const Fault& fault, const Now& now, const Observable& of) {
  const GroupNow& group = now.groups[at(of.group)];
  const bool contacts = fault.cause == Cause::contactor_stuck_on || fault.cause == Cause::contactor_stuck_off;
  if (fault.cause == Cause::sensor_upstream && fault.place == of.group)
    return number(group.duty, square(0.25));  // it follows every tap
  const bool held = group.called.v > 0 && group.called.v < 1;
  return number(contacts ? group.called : group.duty, square(held ? duty_share : 0.02));
}

Outcome entered_of(const Forward& forward, const Fault& fault, const Observable& of) {
  const ScopeGroup& group = forward.scope().groups[at(of.group)];
  if (!group.entered_c) return {};
  const bool wrong = fault.cause == Cause::wrong_ambient && fault.place == of.group;
  return number(wrong ? fault.value : *group.entered_c, 0.05);
}

/// Of a broken cable both bus wires are broken, or one: then half of the rest still counts.
Outcome capacitance_of(const Forward& forward, const Fault& fault, const Luck& luck, const Now& now,
                       const Observable& of) {
  const CircuitNow& circuit = now.circuits[at(of.circuit)];
  const ScopeCircuit& fixed = forward.scope().circuits[at(of.circuit)];
  if (!circuit.known) return {};
  const double rest = luck.first < 0.5 ? 0 : 0.5;
  double metres = 0;
  for (std::size_t s = 0; s < fixed.runs.size(); ++s) {
    const double live = live_share(forward.scope(), fault, of.circuit, static_cast<int>(s));
    metres += fixed.stretches[s].length_m * (live + rest * (1 - live));
  }
  const double farad_per_m = forward.scope().cables[at(circuit.cable)].sheet().capacitance_f_per_m;
  if (!(farad_per_m > 0)) return {};
  const double farad = metres * farad_per_m;
  return number(Dual::tolerance(farad, 0.02 * farad, length_slot), square(capacitance_frac * farad));
}

/// Resistance between the bus wires at the feed, the core at rest and as warm as the pipe: a line of loop
/// resistance r and conductance g per metre, V' = -r I, I' = -g V, transformed from its ends to the feed.
Outcome resistance_of(const Forward& forward, const Fault& fault, const Now& now, const Observable& of) {
  const CircuitNow& circuit = now.circuits[at(of.circuit)];
  const ScopeCircuit& fixed = forward.scope().circuits[at(of.circuit)];
  if (!circuit.known) return {};
  const CableTable& cable = forward.scope().cables[at(circuit.cable)];
  std::vector<double> below(fixed.stretches.size(), 0);  // conductance at the far end of each stretch
  const bool joined = of.what == loop_resistance;
  std::vector<char> leads_on(fixed.stretches.size(), 0);
  for (const auto& stretch : fixed.stretches)
    if (stretch.parent >= 0) leads_on[at(stretch.parent)] = 1;
  for (std::size_t s = 0; s < below.size(); ++s)
    if (joined && !leads_on[s]) below[s] = 1e9;
  double feed = 0;
  for (std::size_t s = fixed.stretches.size(); s-- > 0;) {
    const double pipe_c = now.runs[at(fixed.runs[s])].water_c.v;
    const double r = power::copper_resistance_at(cable.sheet().bus_loop_ohm_per_m, pipe_c);
    const double g = 1 / cable.core_ohm_m(pipe_c);
    const double live = live_share(forward.scope(), fault, of.circuit, static_cast<int>(s));
    const double line = std::sqrt(g / r),
                 turn = std::tanh(std::sqrt(r * g) * fixed.stretches[s].length_m * live);
    const double end = live < 1 ? 0 : below[s];
    const double near = line * (end + line * turn) / (line + end * turn);
    const int parent = fixed.stretches[s].parent;
    (parent < 0 ? feed : below[at(parent)]) += near;
  }
  if (!(feed > 0)) return number(1e6, 1e10);
  const double ohm = 1 / feed;
  const bool shorted = joined && ohm < 20;
  return number(ohm, square((shorted ? loop_frac : core_frac) * ohm));
}

Outcome insulation_of(const Forward& forward, const Fault& fault, const Luck& luck, const Observable& of) {
  const ScopeCircuit& fixed = forward.scope().circuits[at(of.circuit)];
  double metres = 0;
  for (const auto& stretch : fixed.stretches) metres += stretch.length_m;
  const bool broken = fault.cause == Cause::dead_length && scope_circuit(forward, fault) == of.circuit;
  if (broken && luck.second < damaged_share) return number(damaged_log10, square(damaged_spread_log10));
  return number(sound_ohm_m_log10 - std::log10(std::max(1.0, metres)), square(sound_log10));
}

Outcome contactor_of(const Fault& fault, const Now& now, const Observable& of) {
  const bool here = fault.place == of.group;
  if (here && fault.cause == Cause::contactor_stuck_on) return yes_no(1);
  if (here && fault.cause == Cause::contactor_stuck_off) return yes_no(0);
  const GroupNow& group = now.groups[at(of.group)];
  if (of.called) return yes_no(*of.called && !locked_out(group) ? 1 : 0);
  return yes_no(group.called.v);
}

Outcome breaker_of(const Forward& forward, const Fault& fault, const Observable& of) {
  const int group = forward.scope().circuits[at(of.circuit)].group;
  const bool here = fault.level == Fault::Level::group ? fault.place == group : fault.place == of.circuit;
  return yes_no(fault.cause == Cause::breaker_open && here ? 0 : 1);
}

Outcome marking_of(const Forward& forward, const Now& now, const Observable& of) {
  Outcome made;
  if (!now.circuits[at(of.circuit)].known) return made;
  made.kind = Outcome::Kind::which;
  made.choices = static_cast<int>(forward.scope().cables.size());
  made.sheet = now.circuits[at(of.circuit)].cable;
  return made;
}

/// Found on a walk: the walk may be wrong once, about any of its runs.
Outcome seen_of(const Forward& forward, const Fault& fault, const Observable& of) {
  if (of_run(fault, Cause::missing_insulation, of.run)) return yes_no(0);
  if (of_run(fault, Cause::wet_insulation, of.run)) return yes_no(1 - (of.walked ? wet_walked : wet_seen));
  Outcome sound = yes_no(1);
  if (of.walked)
    sound.yes_prob =
        1 - (1 - sure) / static_cast<double>(forward.scope().circuits[at(of.circuit)].runs.size());
  return sound;
}

Outcome walked_of(const Forward& forward, const Fault& fault, const Observable& of) {
  const bool wet = fault.cause == Cause::wet_insulation;
  if ((!wet && fault.cause != Cause::missing_insulation) || scope_circuit(forward, fault) != of.circuit)
    return yes_no(1);
  return yes_no(wet ? 1 - wet_walked : 0);
}

/// Jacket of the insulation where it is warmest: the air and what the run's loss drives through the film.
Outcome surface_of(const Forward& forward, const Fault& fault, const Now& now, const Observable& of) {
  const ScopeRun& run = forward.scope().runs[at(of.run)];
  const bool bare = of_run(fault, Cause::missing_insulation, of.run);
  const double factor = of_run(fault, Cause::wet_insulation, of.run) ? fault.value : 1;
  const Dual air_c = air_of(forward.scope(), fault, of.run);
  const Dual& pipe_c = now.runs[at(of.run)].pipe_c;
  const RunHeat::Loss loss = (bare ? run.bare : run.heat).at(pipe_c.v - air_c.v, factor);
  const Dual lost = Dual::tolerance(mean_loss_frac, mean_loss_frac * common_loss_frac, loss_slot) *
                    mapped(loss.w_per_m, loss.by_k, pipe_c - air_c);
  const auto rise = (bare ? run.bare_surface : run.surface).at(lost.v);
  const double own_k = rise.by_loss * std::hypot(loss.by_log_factor * own_loss_frac,
                                                 loss.by_k * now.runs[at(of.run)].pipe_own_k);
  return number(air_c + mapped(rise.rise_k, rise.by_loss, lost),
                square(film_frac * rise.rise_k) + square(own_k) + square(run.own_air_k) + square(jacket_k));
}

Outcome position_of(const Forward& forward, const Fault& fault, const Observable& of) {
  const ScopeGroup& group = forward.scope().groups[at(of.group)];
  Outcome made;
  if (group.sensor == -1 || group.open_loop) return made;
  made.kind = Outcome::Kind::which;
  made.choices = static_cast<int>(sensor_positions().size());
  auto found = SensorPosition::as_planned;
  if (fault.level == Fault::Level::group && fault.place == of.group) {
    if (fault.cause == Cause::sensor_beside_cable) found = SensorPosition::beside_cable;
    if (fault.cause == Cause::sensor_upstream) found = SensorPosition::untraced_pipe;
    if (fault.cause == Cause::sensor_off_pipe) found = SensorPosition::off_pipe;
  }
  made.sheet = static_cast<int>(found);
  return made;
}

Outcome continuity_of(const Forward& forward, const Fault& fault, const Observable& of) {
  const int far = forward.scope().circuits[at(of.circuit)].far_stretch;
  return yes_no(live_share(forward.scope(), fault, of.circuit, far) < 1 ? 0 : 1);
}

}  // namespace

Outcome outcome(const Forward& forward, const Fault& fault, const Luck& luck, const Now& now,
                const Observable& of) {
  switch (of.what) {
    case current:
      return current_of(forward, now, of);
    case supply_voltage:
    case far_voltage:
      return voltage_of(forward, now, of);
    case pipe_temperature:
      return pipe_of(forward, now, of);
    case air_temperature:
      return air_around(forward, fault, of);
    case sensor_reading:
    case sensor_resistance:
      return sensor_of(now, of);
    case duty:
      return duty_of(fault, now, of);
    case entered_ambient:
      return entered_of(forward, fault, of);
    case capacitance:
      return capacitance_of(forward, fault, luck, now, of);
    case loop_resistance:
    case open_resistance:
      return resistance_of(forward, fault, now, of);
    case insulation_resistance:
      return insulation_of(forward, fault, luck, of);
    case contactor:
      return contactor_of(fault, now, of);
    case breaker:
      return breaker_of(forward, fault, of);
    case cable_marking:
      return marking_of(forward, now, of);
    case insulation_seen:
      return seen_of(forward, fault, of);
    case insulation_walked:
      return walked_of(forward, fault, of);
    case surface_temperature:
      return surface_of(forward, fault, now, of);
    case sensor_position:
      return position_of(forward, fault, of);
    case continuity:
      return continuity_of(forward, fault, of);
    default:
      return {};
  }
}

}  // namespace firstdraw::prove
