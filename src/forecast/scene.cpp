#include "forecast/scene.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "forecast/scene_parts.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;

/// Drawn without length (a place where pipes meet): water still passes through something.
constexpr double least_length_m = 0.1;

/// What is round the pipe, faults and variation included.
Wrapped wrapped_run(const Blueprint& blueprint, int job_run) {
  const job::Run& run = blueprint.job.runs[at(job_run)];
  const SceneOptions& options = blueprint.options;
  Wrapped wrapped{run, blueprint.plan.runs[at(job_run)].insulation};
  wrapped.conductivity_factor = varied(options.variation.insulation_factor, job_run, 1);
  if (const Fault* wet = fault_at(options, FaultKind::wet_insulation, run.id))
    wrapped.conductivity_factor *= wet->value;
  if (fault_at(options, FaultKind::missing_insulation, run.id)) wrapped.size = {};
  wrapped.air_c =
      job::air_around(blueprint.job, run).usual_c + varied(options.variation.air_shift_k, job_run, 0);
  const int held = blueprint.held_of_run[at(job_run)];
  wrapped.about_c = held == draw::none
                        ? 0.5 * (arriving_c(blueprint, job_run) + wrapped.air_c)
                        : blueprint.held.groups[at(blueprint.held.runs[at(held)].group)].maintain_c;
  if (run.length_m > 0) wrapped.loss_ratio = piping::loss_length_m(run) / run.length_m;
  wrapped.longest_cell_m = options.cell_m;
  return wrapped;
}

void add_run(draw::Scene& scene, Blueprint& blueprint, int job_run) {
  const job::Run& run = blueprint.job.runs[at(job_run)];
  draw::SceneRun made;
  made.id = run.id;
  made.job_run = job_run;
  const int upstream = blueprint.plan.network.upstream_run[at(job_run)];
  if (upstream != draw::none) made.upstream = blueprint.scene_of_run[at(upstream)];
  made.length_m = std::max(run.length_m, least_length_m);
  set_thermal(made, wrapped_run(blueprint, job_run), blueprint.sections);
  set_cable(made, job_run, blueprint);
  blueprint.scene_of_run[at(job_run)] = static_cast<int>(scene.runs.size());
  scene.runs.push_back(std::move(made));
}

}  // namespace

double arriving_c(const Blueprint& blueprint, int job_run) {
  const job::Supply& supply = blueprint.job.supply;
  const bool tempered = job_run != draw::none && blueprint.plan.network.below_mixing_valve[at(job_run)];
  return tempered ? supply.delivered_c : supply.stored_c;
}

draw::Supply scene_supply(const Blueprint& blueprint) {
  const job::Supply& supply = blueprint.job.supply;
  draw::Supply made;
  made.stored_c = supply.stored_c;
  made.tank_m3 = supply.tank_m3;
  made.heater_w = supply.heater_w;
  made.tank_differential_k = supply.tank_differential_k;
  made.cold_c = supply.cold_c;
  const int valve = blueprint.plan.network.mixing_valve_node;
  if (valve == draw::none) return made;
  made.delivered_c = supply.delivered_c;
  for (const int run : blueprint.plan.network.order)
    if (blueprint.plan.network.to_node[at(run)] == valve) made.valve_run = blueprint.scene_of_run[at(run)];
  return made;
}

draw::Scene make_scene(const job::Job& job, const plan::Plan& plan, const SceneOptions& options) {
  for (const Fault& fault : options.faults)
    if (std::isfinite(fault.begin_s) && !may_begin_later(fault.kind))
      throw std::logic_error("a fault of this kind cannot begin later");
  Blueprint blueprint(job, plan, options);
  draw::Scene scene;
  scene.axial_mixing = options.axial_mixing;
  scene.cables = cable_curves(blueprint.held.cables);
  for (const int run : plan.network.order) add_run(scene, blueprint, run);
  add_taps(scene, blueprint);
  scene.groups = scene_groups(blueprint);
  scene.supply = scene_supply(blueprint);
  kill_cable(scene, blueprint);
  return scene;
}

}  // namespace firstdraw::forecast
