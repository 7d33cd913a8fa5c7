#include "plan/expect.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "hold/hold.hpp"
#include "plan/run_classes.hpp"
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
  return power::circuit_cable(plan.network, circuit.runs, length_m, circuit.feed_node).stretches;
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

/// Heat and loss as in the plan's warm-up, at the maintain temperature, per metre of heated pipe.
power::CircuitPart part_of(const Fed& on, int run_index) {
  const job::Run& run = on.job.runs[at(run_index)];
  const RunPlan& planned = on.plan.runs[at(run_index)];
  const double heated_m = heated_length_m(run), maintain_c = on.group.maintain_c;
  const auto insulation = physics::find_insulation(run.insulation);
  power::StartPipe pipe;
  pipe.air_c = job::air_around(on.job, run).usual_c;
  pipe.passes = planned.passes;
  pipe.heat_j_per_m_k = run.length_m / heated_m *
                        hold::heat_capacity_j_per_m_k(run.pipe, planned.insulation,
                                                      insulation ? &*insulation : nullptr, maintain_c);
  if (maintain_c > pipe.air_c)
    pipe.loss_w_per_m_k = planned.loss_w_per_m * planned.loss_length_m / heated_m / (maintain_c - pipe.air_c);
  return {pipe, planned.cable_length_m};
}

/// Current in the course of a start over that on a pipe kept at the start's temperature.
power::StartFactor start_factor(const Fed& on, const power::ColdStartModel& model,
                                const power::StartConditions& start) {
  std::vector<power::CircuitPart> parts;
  for (const int run : on.circuit.runs) parts.push_back(part_of(on, run));
  return [parts, model, start, length_m = on.circuit.cable_length_m](double minutes) {
    const double time_s = 60 * minutes;
    const power::CircuitStart course(model, parts, start, std::max(time_s, 1.0));
    return course.current_a(time_s) * start.voltage_v /
           (length_m * model.cable.power_w_per_m(start.start_c, start.voltage_v));
  };
}

void assume(const Fed& on, const SiteReading& reading, Expectation& expectation) {
  auto& assumed = expectation.assumed;
  if (!reading.pipe_c)
    assumed.push_back(fmt::format("the pipe is at {}, the maintain temperature of {}",
                                  shown(on, on.group.maintain_c), on.group.id));
  if (!reading.volts)
    assumed.push_back(
        fmt::format("{:g} V at the power connection, the nominal voltage of {}; what falls along the feeder "
                    "is not taken off",
                    on.panel.voltage_v, on.panel.id));
  assumed.push_back(fmt::format("{} of cable as planned, allowances included",
                                units::show(on.circuit.cable_length_m, Kind::length, on.job.units)));
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
  reasons.push_back(fmt::format("settled, the far end gets {:.1f} V of {:.1f} V", now.far_v, now.volts));
}

void warn(const Fed& on, Expectation& expectation) {
  const physics::CableSheet& sheet = on.cable.sheet();
  auto& warnings = expectation.warnings;
  const double pipe_c = expectation.now.pipe_c, volts = expectation.now.volts;
  expectation.voltage_allowed = on.cable.allows_voltage(volts);
  if (!expectation.voltage_allowed)
    warnings.push_back(
        fmt::format("the data sheet of {} gives no output at {:g} V: do not connect it", sheet.id, volts));
  if (on.cable.output(pipe_c, sheet.rated_voltage_v).extrapolated)
    warnings.push_back(fmt::format("the data sheet of {} runs from {} to {}: the value at its end is used",
                                   sheet.id, shown(on, sheet.output.front().pipe_c),
                                   shown(on, sheet.output.back().pipe_c)));
  if (pipe_c > sheet.max_powered_c)
    warnings.push_back(fmt::format("the pipe is hotter than the cable may be while on ({})",
                                   shown(on, sheet.max_powered_c)));
  double least_frac = 1;
  for (const int run : on.circuit.runs)
    least_frac = std::min(least_frac, on.plan.runs[at(run)].derating_frac);
  if (least_frac < 1)
    warnings.push_back(
        fmt::format("plastic pipe: there the cable draws as little as {:.0f} % of what is expected, which "
                    "counts metal pipe",
                    100 * least_frac));
  if (!expectation.now.usable)
    warnings.emplace_back("no steady state was found: the cable is too long for this voltage");
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
  const double volts = reading.volts.value_or(on.panel.voltage_v);
  Expectation expectation;
  expectation.circuit = circuit;
  assume(on, reading, expectation);
  power::StartFactor start;
  if (reading.minutes) start = start_of(on, pipe_c, volts, expectation);
  expectation.now = power::expected_current(on.stretches, on.cable, pipe_c, volts, usual_site_tolerance,
                                            reading.minutes.value_or(0), start);
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

std::vector<power::ExpectedCurrent> expected_table(const job::Job& job, const Plan& plan, int circuit) {
  const Fed on = fed(job, plan, circuit);
  const double cold_c = job.requirements.start_c, maintain_c = on.group.maintain_c;
  const double pipe_c[] = {cold_c, (cold_c + maintain_c) / 2, maintain_c};
  const double nominal_v = on.panel.voltage_v;
  const double volts[] = {on.panel.low_frac * nominal_v, nominal_v, on.panel.high_frac * nominal_v};
  return power::commissioning_table(on.stretches, on.cable, pipe_c, volts, usual_site_tolerance);
}

}  // namespace firstdraw::plan
