// What somebody who looks or reads finds of the truth.
#include "truth.hpp"

namespace firstdraw::bench {

using piping::at;
using prove::Cause;
using enum prove::Cause;

const Planted* Truth::of_circuit(Cause cause, int circuit) const {
  for (const Planted& one : planted_)
    if (one.cause == cause && one.circuit == circuit) return &one;
  return nullptr;
}

const Planted* Truth::of_group(Cause cause, int group) const {
  for (const Planted& one : planted_)
    if (one.cause == cause && one.group == group) return &one;
  return nullptr;
}

const Planted* Truth::of_run(Cause cause, int run) const {
  for (const Planted& one : planted_)
    if (one.cause == cause && one.run == run) return &one;
  return nullptr;
}

bool Truth::breaker(int circuit) const { return of_circuit(breaker_open, circuit) == nullptr; }

std::optional<double> Truth::reading_c(int group) const {
  if (of_group(sensor_unplugged, group)) return std::nullopt;
  return reading_c_.at(at(group));
}

double Truth::duty(int group) const {
  const double set_c = building_.job.groups[at(group)].maintain_c;
  if (of_group(contactor_stuck_on, group) || of_group(contactor_stuck_off, group))
    return reading_c_.at(at(group)) < set_c ? 1 : 0;
  return duty_.at(at(group));
}

bool Truth::contactor(int group, bool called) const {
  if (of_group(contactor_stuck_on, group)) return true;
  if (of_group(contactor_stuck_off, group)) return false;
  if (of_group(sensor_unplugged, group) && duty_.at(at(group)) <= 0) return false;
  return called;
}

std::optional<double> Truth::entered_c(int group) const {
  if (const Planted* wrong = of_group(wrong_ambient, group)) return wrong->value;
  return building_.job.groups[at(group)].entered_ambient_c;
}

Truth::Coat Truth::coat(int run) const {
  if (of_run(missing_insulation, run)) return Coat::missing;
  return of_run(wet_insulation, run) ? Coat::wet : Coat::sound;
}

double Truth::wetness(int run) const {
  const Planted* wet = of_run(wet_insulation, run);
  return wet ? wet->value : 1;
}

prove::SensorPosition Truth::sensor_position(int group) const {
  using enum prove::SensorPosition;
  if (of_group(sensor_beside_cable, group)) return beside_cable;
  if (of_group(sensor_upstream, group)) return untraced_pipe;
  return of_group(sensor_off_pipe, group) ? off_pipe : as_planned;
}

}  // namespace firstdraw::bench
