#include "prove/diagnosis_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "units/quantity.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;
using units::Kind;
using enum Cause;

constexpr std::string_view live_caution =
    " Parts are under voltage: a licensed electrician measures, with the instrument and protection that this "
    "takes.";
constexpr std::string_view dead_caution = " Prove it dead before touching it.";

std::string interval_text(const job::Job& job, const Suspect& suspect) {
  if (!suspect.value) return {};
  return fmt::format("{} (9 in 10: {} to {})", value_text(job, suspect.cause, suspect.value->usual),
                     value_text(job, suspect.cause, suspect.value->low),
                     value_text(job, suspect.cause, suspect.value->high));
}

std::string number_text(const job::Job& job, What what, double value) {
  using enum What;
  switch (what) {
    case current:
      return fmt::format("{:.2f} A", std::max(0.0, value));
    case supply_voltage:
    case far_voltage:
      return fmt::format("{:.0f} V", std::max(0.0, value));
    case capacitance:
      return fmt::format("{:.1f} nF", std::max(0.0, value) * 1e9);
    case loop_resistance:
    case open_resistance:
      return fmt::format("{:.3g} Ω", std::max(0.0, value));
    case insulation_resistance:
      return fmt::format("{:.2g} MΩ", std::pow(10, value - 6));
    case duty:
      return fmt::format("{:.0f} %", 100 * std::clamp(value, 0.0, 1.0));
    default:
      return units::show(value, Kind::temperature, job.units);
  }
}

bool is_number(What what) {
  using enum What;
  return what != contactor && what != breaker && what != insulation_seen && what != insulation_walked &&
         what != continuity && what != cable_marking && what != sensor_position;
}

std::string shown_text(const Scope& scope, What what, const Shown& shown) {
  if (shown.lost) return "no reading";
  if (what == What::cable_marking)
    return shown.sheet == -1 ? "another marking" : scope.job.cables[at(shown.sheet)].id;
  if (what == What::sensor_position) return std::string(sensor_positions()[at(std::max(0, shown.sheet))]);
  if (!is_number(what)) return shown.yes_prob > 0.5 ? "yes" : "no";
  if (std::isnan(shown.usual)) return "anything";
  const std::string low = number_text(scope.job, what, shown.low),
                    high = number_text(scope.job, what, shown.high);
  return low == high ? low : fmt::format("{} to {}", low, high);
}

std::string if_cause(const CauseHelp& help) {
  std::string title(help.title);
  if (title.starts_with("The ") || title.starts_with("A") || title.starts_with("P") || title.starts_with("I"))
    title.front() = static_cast<char>(title.front() + ('a' - 'A'));
  return title;
}

const CauseHelp& help_of(Cause cause) { return *std::ranges::find(cause_help(), cause, &CauseHelp::cause); }

std::string asked(const Scope& scope, const Observable& of) {
  const auto circuit = [&] {
    return scope.plan.circuits[at(scope.circuits[at(of.circuit)].plan_circuit)].id;
  };
  const auto run = [&] { return scope.job.runs[at(scope.runs[at(of.run)].job_run)].id; };
  if (of.run != -1) return run();
  if (of.circuit != -1) return circuit();
  return scope.job.groups[at(scope.groups[at(of.group)].job_group)].id;
}

}  // namespace

std::string value_text(const job::Job& job, Cause cause, double value) {
  switch (cause) {
    case dead_length:
      return units::show(value, Kind::length, job.units);
    case wrong_voltage:
      return fmt::format("{:.0f} V", value);
    case wet_insulation:
      return fmt::format("{:.1f}", value);
    case wrong_ambient:
      return units::show(value, Kind::temperature, job.units);
    case ageing_cable:
      return fmt::format("{:.0f} %", 100 * value);
    case colder_air:
      return units::show(value, Kind::temperature_difference, job.units);
    default:
      return {};
  }
}

std::string said_of(const job::Job& job, const Suspect& suspect) {
  const std::string value = interval_text(job, suspect);
  switch (suspect.cause) {
    case nothing:
      return "The readings are what the plan expects.";
    case dead_length:
      return fmt::format("The cable is dead from {} along its way from the feed on, in {} or near it.", value,
                         suspect.place);
    case wrong_voltage:
      return fmt::format("The cable of {} gets {}.", suspect.place, value);
    case wrong_cable:
      return fmt::format("Cable {} is fitted on {} instead of the planned one.", suspect.what, suspect.place);
    case wet_insulation:
      return fmt::format("The insulation of {} is wet: it conducts {} times as much.", suspect.place, value);
    case missing_insulation:
      return fmt::format("{} has no insulation.", suspect.place);
    case sensor_beside_cable:
      return fmt::format(
          "The sensor of {} lies beside the cable and reads too high: pipes are held too cold.",
          suspect.place);
    case sensor_upstream:
      return fmt::format("The sensor of {} sits on pipe without cable and follows the water from the heater.",
                         suspect.place);
    case sensor_unplugged:
      return fmt::format("The controller of {} gets nothing from its sensor.", suspect.place);
    case sensor_off_pipe:
      return fmt::format("The sensor of {} has come off and reads the air: the cable is on all the time.",
                         suspect.place);
    case wrong_ambient:
      return fmt::format("The controller of {} was told air of {}.", suspect.place, value);
    case wrong_cable_entered:
      return fmt::format("The controller of {} was told cable {}.", suspect.place, suspect.what);
    case contactor_stuck_on:
      return fmt::format("The contactor of {} stays closed: the cable is on all the time.", suspect.place);
    case contactor_stuck_off:
      return fmt::format("The contactor of {} does not close.", suspect.place);
    case breaker_open:
      return fmt::format("The breaker of {} is open.", suspect.place);
    case ageing_cable:
      return fmt::format("The cable of {} gives {} of its data sheet's output.", suspect.place, value);
    case colder_air:
      return fmt::format("The air of {} is colder than assumed by {}.", suspect.place, value);
    case none_of_these:
      break;
  }
  return "Something that this list does not hold, or a wrong reading: check the readings and the plan first.";
}

std::string to_do_for(const Suspect& suspect) {
  switch (suspect.cause) {
    case nothing:
      return "Keep the readings as the record of a sound circuit.";
    case dead_length:
      return "Isolate and lock out; measure capacitance from the feed to find the place, look for a cut or a "
             "loose tee there, "
             "and replace that length with the cable maker's kits.";
    case wrong_voltage:
      return "Measure at panel and power connection, check the taps and the phases; isolate before changing "
             "a connection.";
    case wrong_cable:
      return "Read the marking on the jacket; plan again with that sheet, or replace the cable.";
    case wet_insulation:
      return "Find where the water comes from, let the insulation be replaced and its jacket closed.";
    case missing_insulation:
      return "Have the insulation put back; bare hot pipe burns.";
    case sensor_beside_cable:
      return "Move the sensor opposite the cable and close the insulation over it; then measure the pipe "
             "again.";
    case sensor_upstream:
      return "Move the sensor onto the traced pipe that the plan names.";
    case sensor_unplugged:
      return "Isolate; check the sensor's terminals and its resistance.";
    case sensor_off_pipe:
      return "Isolate the cable now: pipes may scald. Fix the sensor to the pipe and close the insulation.";
    case wrong_ambient:
    case wrong_cable_entered:
      return "Enter what the settings sheet says, and read it back.";
    case contactor_stuck_on:
      return "Isolate the circuit now: pipes may scald. Replace the contactor.";
    case contactor_stuck_off:
      return "Check the coil's supply and the controller's output; replace the contactor if it gets voltage "
             "and stays open.";
    case breaker_open:
      return "Find out why it opened (insulation resistance first) before it is closed again.";
    case ageing_cable:
      return "Compare with the currents of earlier visits at like temperature; plan for replacement.";
    case colder_air:
      return "Measure the air over some days; plan again with it, or keep the draught out.";
    case none_of_these:
      break;
  }
  return "Repeat the readings with another instrument, and compare what was built with the plan.";
}

Proposal proposal_of(const Scope& scope, const Posterior& known, const Measure& measure) {
  const Work& work = *work_of(measure.of.what);
  Proposal made;
  made.what = measure.of.what;
  made.place = asked(scope, measure.of);
  made.how = work.how;
  if (measure.of.what == What::contactor && measure.of.called)
    made.how = *measure.of.called
                   ? "Look whether the contactor is in while the controller calls for heat."
                   : "Set the controller so that it does not call, and look whether the contactor drops out.";
  made.how += work.live ? live_caution : work.how.starts_with("Isolate") ? dead_caution : std::string_view{};
  made.minutes = measure.minutes;
  made.information_bit = measure.information_bit;
  made.bit_per_minute = measure.information_bit / measure.minutes;
  for (const Shown& shown : measure.shown)
    made.tells.push_back(fmt::format("{} if {}", shown_text(scope, measure.of.what, shown),
                                     if_cause(help_of(known.hypotheses[shown.cause].cause))));
  return made;
}

}  // namespace firstdraw::prove
