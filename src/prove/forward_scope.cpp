#include "prove/forward_scope.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "hold/balance.hpp"
#include "plan/decide.hpp"
#include "plan/held.hpp"
#include "plan/options.hpp"
#include "plan/run_classes.hpp"
#include "plan/sensor.hpp"
#include "prove/dual.hpp"

namespace firstdraw::prove {
namespace {

using piping::at;

/// Everything of plan and hold that is looked up while the scope is compiled.
struct Workbench {
  const job::Job& job;
  const plan::Plan& plan;
  plan::Workshop shop;
  hold::Building held;
  std::vector<int> held_of_run;

  Workbench(const job::Job& the_job, const plan::Plan& the_plan)
      : job(the_job),
        plan(the_plan),
        shop(the_job),
        held(plan::building_of(shop, the_plan)),
        held_of_run(the_job.runs.size(), -1) {
    for (std::size_t i = 0; i < held.runs.size(); ++i)
      held_of_run[at(held.runs[i].job_run)] = static_cast<int>(i);
  }
};

struct Wanted {
  std::set<int> named, circuits, groups;  // of the plan and the job
};

void add_sensor_circuit(const job::Job& job, const plan::Plan& plan, int group, Wanted& wanted) {
  const int sensor = plan::sensor_run_of(job, group);
  if (sensor != -1 && plan.runs[at(sensor)].circuit != -1)
    wanted.circuits.insert(plan.runs[at(sensor)].circuit);
}

Wanted wanted_of(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings) {
  Wanted wanted;
  for (const Reading& reading : readings) {
    const ReadingPlace place = place_of(job, plan, reading);
    if (place.circuit != -1) wanted.named.insert(place.circuit);
    if (place.group != -1) wanted.groups.insert(place.group);
  }
  for (const int circuit : wanted.named) wanted.groups.insert(plan.circuits[at(circuit)].group);
  wanted.circuits = wanted.named;
  for (const int group : wanted.groups) {
    const auto of_group = [&](int circuit) { return plan.circuits[at(circuit)].group == group; };
    if (std::ranges::none_of(wanted.named, of_group))  // only the group itself is spoken of
      for (std::size_t c = 0; c < plan.circuits.size(); ++c)
        if (of_group(static_cast<int>(c))) wanted.circuits.insert(static_cast<int>(c));
    add_sensor_circuit(job, plan, group, wanted);
  }
  return wanted;
}

/// Of a group of which no circuit is named, all are.
bool is_named(const plan::Plan& plan, const Wanted& wanted, int circuit) {
  const auto same_group = [&](int named) {
    return plan.circuits[at(named)].group == plan.circuits[at(circuit)].group;
  };
  return wanted.named.contains(circuit) || std::ranges::none_of(wanted.named, same_group);
}

double half_width_sigma(double low, double usual, double high) {
  return 0.25 * (std::max(0.0, usual - low) + std::max(0.0, high - usual));  // half-widths are two sigma
}

ScopeRun scope_run(Workbench& bench, int job_run) {
  const job::Run& run = bench.job.runs[at(job_run)];
  const plan::RunPlan& planned = bench.plan.runs[at(job_run)];
  const hold::HeldRun& held = bench.held.runs[at(bench.held_of_run[at(job_run)])];
  ScopeRun made;
  made.job_run = job_run;
  made.air_c = held.air.usual_c;
  made.heat = RunHeat(held.loss, made.air_c);
  const hold::LossCurve& bare = bench.shop.sections.loss(run, {});
  made.bare = RunHeat(bare, made.air_c);
  made.surface = SurfaceRise(held.loss, made.air_c);
  made.bare_surface = SurfaceRise(bare, made.air_c);
  made.scale = hold::cable_scale(held);
  made.voltage_frac = held.voltage_frac;
  made.derating_frac = held.derating_frac;
  made.cable_length_m = planned.cable_length_m;
  made.pipe_length_m = run.length_m;
  made.supply_c = bench.plan.network.below_mixing_valve[at(job_run)] ? bench.job.supply.delivered_c
                                                                     : bench.job.supply.stored_c;
  made.own_air_k = half_width_sigma(held.air.low_c, held.air.usual_c, held.air.high_c);
  const double capacity =
      hold::heat_capacity_j_per_m_k(run.pipe, planned.insulation, bench.shop.sections.insulation(run), 50);
  made.j_per_m_k = capacity * run.length_m / held.pipe_length_m / hold::loss_ratio(held);
  return made;
}

void walk_circuit(const Workbench& bench, Scope& scope, ScopeCircuit& made) {
  const power::Circuit& circuit = bench.plan.circuits[at(made.plan_circuit)];
  std::vector<double> length_m;
  for (const int run : circuit.runs) length_m.push_back(bench.plan.runs[at(run)].cable_length_m);
  auto cable = power::circuit_cable(bench.plan.network, circuit.runs, length_m, circuit.feed_node);
  double farthest_m = -1;
  for (std::size_t s = 0; s < cable.stretches.size(); ++s) {
    auto& stretch = cable.stretches[s];
    const int run = scope.run_of(circuit.runs[at(cable.run_position[s])]);
    stretch.derating_frac = scope.runs[at(run)].derating_frac;
    scope.runs[at(run)].stretch = static_cast<int>(s);
    made.runs.push_back(run);
    made.start_m.push_back(stretch.parent < 0 ? 0
                                              : made.start_m[at(stretch.parent)] +
                                                    cable.stretches[at(stretch.parent)].length_m);
    const bool is_far = cable.far_node[s] == circuit.far_node;
    if (is_far || (circuit.far_node == piping::none && made.start_m.back() + stretch.length_m > farthest_m)) {
      farthest_m = made.start_m.back() + stretch.length_m;
      made.far_stretch = static_cast<int>(s);
    }
  }
  made.stretches = std::move(cable.stretches);
}

void add_circuit(Workbench& bench, Scope& scope, int plan_circuit, bool named) {
  const power::Circuit& circuit = bench.plan.circuits[at(plan_circuit)];
  ScopeCircuit made;
  made.plan_circuit = plan_circuit;
  made.cable = circuit.cable;
  made.named = named;
  made.group = scope.group_of(circuit.group);
  const job::Panel& panel = bench.job.panels[at(circuit.panel)];
  made.panel_v = panel.voltage_v;
  made.volts_frac = half_width_sigma(panel.low_frac, 1, panel.high_frac);
  made.wiring_ohm = circuit.wiring.one_way_m * circuit.wiring.loop_ohm_per_m;
  const int index = static_cast<int>(scope.circuits.size());
  for (const int run : circuit.runs) {
    scope.runs.push_back(scope_run(bench, run));
    scope.runs.back().circuit = index;
    scope.runs.back().group = made.group;
  }
  walk_circuit(bench, scope, made);
  scope.groups[at(made.group)].circuits.push_back(index);
  scope.circuits.push_back(std::move(made));
}

void set_open_loop(const Workbench& bench, const ScopeGroup& group, std::vector<double>& by_ambient,
                   std::vector<double>& by_cable) {
  hold::Building::Group held = bench.held.groups[at(group.job_group)];
  const std::vector<int> runs = hold::runs_by_group(bench.held)[at(group.job_group)];
  const double set_c = bench.job.groups[at(group.job_group)].maintain_c;
  for (std::size_t i = 0; i < ambients; ++i) {
    held.entered_ambient_c = first_ambient_c + ambient_step_c * static_cast<double>(i);
    by_ambient.push_back(hold::open_loop_duty(bench.held, held, runs, set_c));
  }
  held.entered_ambient_c = group.entered_c;
  hold::Building told = bench.held;
  for (std::size_t cable = 0; cable < bench.job.cables.size(); ++cable) {
    for (const int run : runs) told.runs[at(run)].cable = static_cast<int>(cable);
    by_cable.push_back(hold::open_loop_duty(told, held, runs, set_c));
  }
}

int untraced_above(const job::Job& job, const plan::Plan& plan, int group) {
  const auto is_traced = [&plan](int run) { return plan.runs[at(run)].cable != piping::none; };
  for (int run : plan.network.order) {
    if (!is_traced(run) || plan::heating_group(job, job.runs[at(run)]) != group) continue;
    while (run != piping::none && is_traced(run)) run = plan.network.upstream_run[at(run)];
    return run;
  }
  return -1;
}

ScopeGroup scope_group(const Workbench& bench, int job_group) {
  const job::ControlGroup& group = bench.job.groups[at(job_group)];
  ScopeGroup made;
  made.job_group = job_group;
  made.set_c = group.maintain_c;
  made.swing_k = group.method == job::ControlMethod::thermostat ? 0.5 * group.differential_k : 1;
  made.entered_c = group.entered_ambient_c;
  made.upstream_run = untraced_above(bench.job, bench.plan, job_group);
  set_open_loop(bench, made, made.duty_by_ambient, made.duty_by_entered_cable);
  return made;
}

void mount_sensor(Workbench& bench, Scope& scope, ScopeGroup& made) {
  const job::ControlGroup& group = bench.job.groups[at(made.job_group)];
  const int run = plan::sensor_run_of(bench.job, made.job_group);
  if (run != -1) made.sensor = scope.run_of(run);
  made.open_loop = group.kind == job::ControlKind::entered_ambient || made.sensor == -1;
  made.uses_ambient = made.open_loop || group.when_lost == job::SensorLost::entered_ambient;
  if (made.sensor == -1) return;
  const hold::HeldRun& held = bench.held.runs[at(bench.held_of_run[at(run)])];
  const auto offset = [&](double angle_rad) {
    return plan::sensor_offset_k(bench.job.runs[at(run)].pipe, held.loss, group.maintain_c, held.air.usual_c,
                                 angle_rad, bench.held.cables[at(held.cable)], held.passes);
  };
  made.offset_k = offset(group.sensor_angle_rad);
  made.beside_k = offset(0);
}

void measure_depths(const plan::Plan& plan, Scope& scope) {
  std::vector<double> least(scope.groups.size(), 1e300), most(scope.groups.size(), -1e300);
  for (const ScopeRun& run : scope.runs) {
    const double way_m = plan.network.path_length_m[at(run.job_run)];
    least[at(run.group)] = std::min(least[at(run.group)], way_m);
    most[at(run.group)] = std::max(most[at(run.group)], way_m);
  }
  for (ScopeRun& run : scope.runs) {
    const double span_m = most[at(run.group)] - least[at(run.group)];
    if (span_m > 0)
      run.depth_frac = (plan.network.path_length_m[at(run.job_run)] - least[at(run.group)]) / span_m;
  }
}

/// The spaces that most metres of the scope's runs are in get a slot.
void air_of_spaces(const Workbench& bench, Scope& scope) {
  std::map<int, double> metres;
  for (const ScopeRun& run : scope.runs) {
    const int space = bench.held.runs[at(bench.held_of_run[at(run.job_run)])].space;
    if (space != -1) metres[space] += run.pipe_length_m;
  }
  std::vector<std::pair<double, int>> order;
  for (const auto& [space, length_m] : metres) order.emplace_back(-length_m, space);
  std::ranges::sort(order);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const job::Space& space = bench.job.spaces[at(order[i].second)];
    scope.spaces.push_back({order[i].second,
                            half_width_sigma(space.air.low_c, space.air.usual_c, space.air.high_c),
                            i < air_slots ? static_cast<int>(air_slot + i) : -1});
  }
  for (ScopeRun& run : scope.runs) {
    const int space = bench.held.runs[at(bench.held_of_run[at(run.job_run)])].space;
    const auto found = std::ranges::find(scope.spaces, space, &ScopeSpace::job_space);
    if (space == -1 || found == scope.spaces.end()) continue;
    run.space = static_cast<int>(found - scope.spaces.begin());
    if (found->slot != -1) run.own_air_k = 0;
  }
}

}  // namespace

Scope::Scope(const job::Job& the_job, const plan::Plan& the_plan, std::span<const Reading> readings)
    : job(the_job), plan(the_plan) {
  for (const physics::CableSheet& sheet : job.cables) cables.emplace_back(sheet);
  Workbench bench(job, plan);
  const Wanted wanted = wanted_of(job, plan, readings);
  for (const int group : wanted.groups) groups.push_back(scope_group(bench, group));
  for (const int circuit : wanted.circuits)
    add_circuit(bench, *this, circuit, is_named(plan, wanted, circuit));
  for (ScopeGroup& group : groups) mount_sensor(bench, *this, group);
  measure_depths(plan, *this);
  air_of_spaces(bench, *this);
}

int Scope::run_of(int job_run) const {
  const auto found = std::ranges::find(runs, job_run, &ScopeRun::job_run);
  return found == runs.end() ? -1 : static_cast<int>(found - runs.begin());
}
int Scope::circuit_of(int plan_circuit) const {
  const auto found = std::ranges::find(circuits, plan_circuit, &ScopeCircuit::plan_circuit);
  return found == circuits.end() ? -1 : static_cast<int>(found - circuits.begin());
}
int Scope::group_of(int job_group) const {
  const auto found = std::ranges::find(groups, job_group, &ScopeGroup::job_group);
  return found == groups.end() ? -1 : static_cast<int>(found - groups.begin());
}

ReadingPlace place_of(const job::Job& job, const plan::Plan& plan, const Reading& reading) {
  ReadingPlace place;
  if (!reading.circuit.empty()) place.circuit = plan::index_of(plan.circuits, reading.circuit);
  if (!reading.group.empty()) place.group = plan::index_of(job.groups, reading.group);
  if (!reading.run.empty()) place.run = plan::index_of(job.runs, reading.run);
  if (place.run != -1 && place.circuit == -1) place.circuit = plan.runs[at(place.run)].circuit;
  if (place.circuit != -1 && place.group == -1) place.group = plan.circuits[at(place.circuit)].group;
  return place;
}

}  // namespace firstdraw::prove
