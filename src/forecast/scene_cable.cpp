#include <algorithm>
#include <cmath>
#include <limits>

#include "forecast/scene_parts.hpp"
#include "plan/held.hpp"
#include "plan/run_classes.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;

hold::Building::Group held_group(const job::Job& job, const job::ControlGroup& group,
                                 const SceneOptions& options) {
  hold::Building::Group held;
  held.maintain_c = group.maintain_c;
  held.entered_ambient_c = group.entered_ambient_c;
  if (const Fault* wrong = fault_at(options, FaultKind::wrong_ambient, group.id))
    held.entered_ambient_c = wrong->value;
  const int panel = plan::index_of(job.panels, group.panel);
  if (panel != draw::none) held.voltage_v = job.panels[at(panel)].voltage_v;
  return held;
}

/// What the run's cable gets: of the panel's voltage the share that the plan gives it at maintain; a wrong
/// voltage is one at the cable.
double volts_at(const Blueprint& blueprint, const hold::HeldRun& held) {
  const auto& group = blueprint.job.groups[at(held.group)];
  const double varied_frac = varied(blueprint.options.variation.voltage_factor, held.group, 1);
  if (const Fault* wrong = fault_at(blueprint.options, FaultKind::wrong_voltage, group.id))
    return wrong->value * varied_frac;
  return blueprint.held.groups[at(held.group)].voltage_v * varied_frac * held.voltage_frac;
}

/// Power over voltage beyond a sheet's table: the power law of its last two points; without them 1, as the
/// power room takes it.
double exponent_beyond(const std::vector<physics::VoltagePoint>& table, double volts) {
  if (table.size() < 2) return 1;
  const bool below = volts < table.front().voltage_v;
  const auto& a = below ? table[0] : table[table.size() - 2];
  const auto& b = below ? table[1] : table.back();
  return std::log(b.output_factor / a.output_factor) / std::log(b.voltage_v / a.voltage_v);
}

/// Until when the run's circuit has power.
double powered_until_s(const Blueprint& blueprint, int job_run) {
  const int circuit = blueprint.plan.runs[at(job_run)].circuit;
  const Fault* open = circuit == draw::none ? nullptr
                                            : fault_at(blueprint.options, FaultKind::breaker_open,
                                                       blueprint.plan.circuits[at(circuit)].id);
  return open ? open->begin_s : std::numeric_limits<double>::infinity();
}

/// The cable that is on the run, which may not be the planned one. Voltage and derating stay as planned.
int cable_on(const Blueprint& blueprint, const hold::HeldRun& held) {
  const Fault* wrong =
      fault_at(blueprint.options, FaultKind::wrong_cable, blueprint.job.groups[at(held.group)].id);
  return wrong ? plan::index_of(blueprint.job.cables, wrong->cable) : held.cable;
}

}  // namespace

Blueprint::Blueprint(const job::Job& the_job, const plan::Plan& the_plan, const SceneOptions& the_options)
    : job(the_job),
      plan(the_plan),
      options(the_options),
      held_of_run(the_job.runs.size(), draw::none),
      scene_of_run(the_job.runs.size(), draw::none) {
  for (const physics::CableSheet& sheet : job.cables) held.cables.emplace_back(sheet);
  for (const job::ControlGroup& group : job.groups) held.groups.push_back(held_group(job, group, options));
  for (std::size_t r = 0; r < job.runs.size(); ++r) {
    const plan::RunPlan& planned = plan.runs.at(r);
    if (planned.cable == draw::none || plan::heating_group(job, job.runs[r]) == draw::none) continue;
    held_of_run[r] = static_cast<int>(held.runs.size());
    held.runs.push_back(plan::held_run(job, planned, static_cast<int>(r), sections));
  }
}

double Blueprint::voltage_factor(int cable, double volts) const {
  const physics::HeatingCable& sheet = held.cables[at(cable)];
  const double rated_v = sheet.sheet().rated_voltage_v, rated = sheet.voltage_factor(rated_v);
  if (sheet.allows_voltage(volts)) return sheet.voltage_factor(volts) / rated;
  const auto& table = sheet.sheet().voltage;
  const double end_v =
      table.empty() ? rated_v : std::clamp(volts, table.front().voltage_v, table.back().voltage_v);
  const double beyond = std::pow(volts / end_v, exponent_beyond(table, volts));
  return sheet.voltage_factor(end_v) / rated * beyond;
}

void set_cable(draw::SceneRun& made, int job_run, const Blueprint& blueprint) {
  const int index = blueprint.held_of_run[at(job_run)];
  if (index == draw::none || !blueprint.options.traced) return;
  const hold::HeldRun& held = blueprint.held.runs[at(index)];
  made.group = held.group;
  made.cable = cable_on(blueprint, held);
  made.cable_share = 0;
  made.cable_until_s = powered_until_s(blueprint, job_run);
  if (made.cable_until_s == -std::numeric_limits<double>::infinity()) return;
  // Cable on valves and supports counts as spread over the run's own length.
  made.cable_share = held.passes * held.derating_frac * held.pipe_length_m / made.length_m *
                     varied(blueprint.options.variation.cable_factor, made.cable, 1) *
                     blueprint.voltage_factor(made.cable, volts_at(blueprint, held));
}

std::vector<draw::CableCurve> cable_curves(const std::vector<physics::HeatingCable>& cables) {
  std::vector<draw::CableCurve> curves(cables.size());
  for (std::size_t c = 0; c < cables.size(); ++c)
    for (int i = 0; i < draw::CableCurve::points; ++i)
      curves[c].power_w_per_m[i] = cables[c].power_w_per_m(
          draw::CableCurve::first_c + i * draw::CableCurve::step_k, cables[c].sheet().rated_voltage_v);
  return curves;
}

}  // namespace firstdraw::forecast
