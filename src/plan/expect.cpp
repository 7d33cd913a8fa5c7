#include "plan/expect.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "plan/circuit_parts.hpp"
#include "power/circuit_cable.hpp"
#include "power/cold_start.hpp"

namespace firstdraw::plan {
namespace {

using piping::at;
using units::Kind;

/// A circuit of a plan with what the questions about it need.
struct Fed {
  const job::Job& job;
  const Plan& plan;
  const power::Circuit& circuit;
  const job::Panel& panel;
  const job::ControlGroup& group;
  physics::HeatingCable cable;
  std::vector<power::CableStretch> stretches;
};

std::vector<power::CableStretch> stretches_of(const Plan& plan, const power::Circuit& circuit) {
  std::vector<double> length_m;
  for (const int run : circuit.runs) length_m.push_back(plan.runs[at(run)].cable_length_m);
  auto cable = power::circuit_cable(plan.network, circuit.runs, length_m, circuit.feed_node);
  for (std::size_t s = 0; s < cable.stretches.size(); ++s)
    cable.stretches[s].derating_frac = plan.runs[at(circuit.runs[at(cable.run_position[s])])].derating_frac;
  return std::move(cable.stretches);
}

Fed fed(const job::Job& job, const Plan& plan, int index) {
  const power::Circuit& circuit = plan.circuits.at(at(index));
  return {job,
          plan,
          circuit,
          job.panels[at(circuit.panel)],
          job.groups[at(circuit.group)],
          physics::HeatingCable(job.cables[at(circuit.cable)]),
          stretches_of(plan, circuit)};
}

std::string shown(const Fed& on, double temperature_c) {
  return units::show(temperature_c, Kind::temperature, on.job.units);
}

/// Current in the course of a start over that on a pipe kept at the start's temperature.
power::StartFactor start_factor(const Fed& on, const power::ColdStartModel& model,
                                const power::StartConditions& start) {
  return [parts = circuit_parts(on.job, on.plan, on.circuit), model, start,
          length_m = on.circuit.cable_length_m](double minutes) {
    const double time_s = 60 * minutes;
    const power::CircuitStart course(model, parts, start, std::max(time_s, 1.0));
    return course.current_a(time_s) * start.voltage_v /
           (length_m * model.cable.power_w_per_m(start.start_c, start.voltage_v));
  };
}

/// Nominal voltage at the panel, at the power connection.
double feed_v(const Fed& on) {
  return on.circuit.steady && on.circuit.feed_v > 0 ? on.circuit.feed_v : on.panel.voltage_v;
}

void assume(const Fed& on, const SiteReading& reading, Expectation& expectation) {
  auto& assumed = expectation.assumed;
  if (!reading.pipe_c)
    assumed.push_back(fmt::format("the pipe is at {}, the maintain temperature of {}",
                                  shown(on, on.group.maintain_c), on.group.id));
  if (!reading.volts)
    assumed.push_back(fmt::format(
        "{:.1f} V at the power connection: the nominal voltage of {}, {:g} V, less {:.1f} V in the "
        "wiring at the maintain temperature, as planned",
        feed_v(on), on.panel.id, on.panel.voltage_v, on.panel.voltage_v - feed_v(on)));
  assumed.push_back(fmt::format("{} of cable as planned, allowances included",
                                units::show(on.circuit.cable_length_m, Kind::length, on.job.units)));
}

double least_derating_frac(const Fed& on) {
  double least = 1;
  for (const int run : on.circuit.runs) least = std::min(least, on.plan.runs[at(run)].derating_frac);
  return least;
}

void reason(const Fed& on, Expectation& expectation) {
  const power::ExpectedCurrent& now = expectation.now;
  const physics::CableSheet& sheet = on.cable.sheet();
  auto& reasons = expectation.reasons;
  reasons.push_back(fmt::format("the data sheet of {} leaves its output open by ±{:.0f} %", sheet.id,
                                100 * sheet.output_tolerance_frac));
  reasons.push_back(
      fmt::format("voltage as measured is good to ±{:.0f} %, pipe temperature to ±{}",
                  100 * usual_site_tolerance.voltage_frac,
                  units::show(usual_site_tolerance.pipe_k, Kind::temperature_difference, on.job.units)));
  reasons.push_back(fmt::format("the bus wires are anywhere from {} to {}", shown(on, now.pipe_c),
                                shown(on, std::max(now.pipe_c, sheet.max_powered_c))));
  if (least_derating_frac(on) < 1)
    reasons.push_back(
        fmt::format("on plastic pipe the cable draws anywhere from its derated output, {:.0f} % "
                    "where it is least, to that on metal",
                    100 * least_derating_frac(on)));
  reasons.push_back(fmt::format("settled, the far end gets {:.1f} V of {:.1f} V", now.far_v, now.volts));
}

void warn(const Fed& on, Expectation& expectation) {
  const physics::CableSheet& sheet = on.cable.sheet();
  auto& warnings = expectation.warnings;
  const double pipe_c = expectation.now.pipe_c;
  if (on.cable.output(pipe_c, sheet.rated_voltage_v).extrapolated)
    warnings.push_back(fmt::format("the data sheet of {} runs from {} to {}: the value at its end is used",
                                   sheet.id, shown(on, sheet.output.front().pipe_c),
                                   shown(on, sheet.output.back().pipe_c)));
  if (pipe_c > sheet.max_powered_c)
    warnings.push_back(fmt::format("the pipe is hotter than the cable may be while on ({})",
                                   shown(on, sheet.max_powered_c)));
  if (expectation.now.far_v < expectation.now.volts &&
      !power::gives_output_at(on.cable, expectation.now.far_v))
    warnings.push_back(
        fmt::format("the far end is below the voltages of the data sheet of {}: the factor at "
                    "its end is used",
                    sheet.id));
  if (!expectation.now.usable)
    warnings.emplace_back("no steady state was found: the cable is too long for this voltage");
}

std::string listed_voltages(const physics::CableSheet& sheet) {
  if (sheet.voltage.empty()) return fmt::format("{:g} V only", sheet.rated_voltage_v);
  return fmt::format("{:g} V to {:g} V", sheet.voltage.front().voltage_v, sheet.voltage.back().voltage_v);
}

/// The factor of the start; none, with a warning, when the sheet does not give what it needs.
power::StartFactor start_of(const Fed& on, double pipe_c, double volts, Expectation& expectation) {
  const auto fit = power::fit_cold_start(on.cable.sheet());
  if (!fit) {
    expectation.warnings.emplace_back("the data sheet has no start currents: the settled current is shown");
    return {};
  }
  expectation.assumed.push_back(fmt::format(
      "switched on with cable and pipe at {} and on without a break since; water stands; usual air",
      shown(on, pipe_c)));
  expectation.assumed.push_back(
      fmt::format("the settled current is that on a pipe kept at {}", shown(on, pipe_c)));
  if (fit->contradicted(on.cable.sheet()))
    expectation.warnings.push_back(
        fmt::format("the model of the start is up to {:.0f} % off the data sheet", 100 * fit->worst_frac()));
  return start_factor(on, fit->model, {volts, pipe_c});
}

}  // namespace

Expectation expect_current(const job::Job& job, const Plan& plan, int circuit, const SiteReading& reading) {
  const Fed on = fed(job, plan, circuit);
  const double pipe_c = reading.pipe_c.value_or(on.group.maintain_c);
  const double volts = reading.volts.value_or(feed_v(on));
  Expectation expectation;
  expectation.circuit = circuit;
  assume(on, reading, expectation);
  power::StartFactor start;
  if (reading.minutes) start = start_of(on, pipe_c, volts, expectation);
  expectation.now = power::expected_current(on.stretches, on.cable, pipe_c, volts, usual_site_tolerance,
                                            reading.minutes.value_or(0), start);
  if (!expectation.now.covered) {
    expectation.why_none =
        fmt::format("the data sheet of {} gives no output at {:g} V (it lists {}): do not connect it",
                    on.cable.sheet().id, volts, listed_voltages(on.cable.sheet()));
    return expectation;
  }
  reason(on, expectation);
  if (start) {
    expectation.minutes = reading.minutes;
    expectation.reasons.push_back(
        fmt::format("{:g} min after switching on the current is {:.2f} times the settled one",
                    *reading.minutes, start(*reading.minutes)));
  }
  warn(on, expectation);
  return expectation;
}

std::vector<power::ExpectedCurrent> expected_currents(const job::Job& job, const Plan& plan, int circuit,
                                                      const CurrentConditions& under) {
  const Fed on = fed(job, plan, circuit);
  return power::commissioning_table(on.stretches, on.cable, under.pipe_c, under.volts, usual_site_tolerance);
}

std::vector<power::ExpectedCurrent> expected_table(const job::Job& job, const Plan& plan, int circuit) {
  const Fed on = fed(job, plan, circuit);
  const double cold_c = job.requirements.start_c, maintain_c = on.group.maintain_c;
  const double pipe_c[] = {cold_c, (cold_c + maintain_c) / 2, maintain_c};
  const double nominal_v = feed_v(on);
  const double volts[] = {on.panel.low_frac * nominal_v, nominal_v, on.panel.high_frac * nominal_v};
  return expected_currents(job, plan, circuit, {pipe_c, volts});
}

}  // namespace firstdraw::plan
