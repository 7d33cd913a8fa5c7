#include "plan/held.hpp"

#include <algorithm>
#include <cmath>
#include <future>
#include <mutex>
#include <set>
#include <span>
#include <tuple>

#include "plan/coupled.hpp"
#include "plan/decide.hpp"
#include "plan/sensor.hpp"

namespace firstdraw::plan {
namespace {

constexpr double joule_per_kwh = 3.6e6, seconds_per_day = 86400, days_per_year = 365, hours_per_day = 24;

using piping::at;

double kwh_per_day(double power_w) { return power_w * seconds_per_day / joule_per_kwh; }

hold::Building::Group held_group(const job::Job& job, const job::ControlGroup& group) {
  hold::Building::Group held;
  held.maintain_c = group.maintain_c;
  held.setback_c = group.setback_c;
  held.hold_tolerance_k = group.hold_tolerance_k;
  held.entered_ambient_c = group.entered_ambient_c;
  const int panel = index_of(job.panels, group.panel);
  if (panel == piping::none) return held;
  held.voltage_v = job.panels[at(panel)].voltage_v;
  held.low_frac = job.panels[at(panel)].low_frac;
  held.high_frac = job.panels[at(panel)].high_frac;
  return held;
}

void mount_sensors(Workshop& shop, hold::Building& building) {
  const job::Job& job = shop.job;
  for (std::size_t g = 0; g < job.groups.size(); ++g) {
    const int sensor = sensor_run_of(job, static_cast<int>(g));
    if (sensor == piping::none) continue;
    const auto found = std::find_if(building.runs.begin(), building.runs.end(),
                                    [sensor](const hold::HeldRun& run) { return run.job_run == sensor; });
    if (found == building.runs.end()) continue;
    hold::Building::Group& group = building.groups[g];
    group.sensor = static_cast<int>(found - building.runs.begin());
    group.sensor_offset_k =
        sensor_offset_k(job.runs[at(sensor)].pipe, found->loss, group.maintain_c, found->air.usual_c,
                        job.groups[g].sensor_angle_rad, building.cables[at(found->cable)],
                        shop.known->model(found->cable), found->passes);
  }
}

/// What differs between panels and cables in the worst cases; one solve serves all runs that agree.
struct Extreme {
  double low_frac, high_frac, tolerance_frac;
  auto operator<=>(const Extreme&) const = default;
};

Extreme extreme_of(const hold::Building& building, const hold::HeldRun& run) {
  const auto& group = building.groups[at(run.group)];
  return {group.low_frac, group.high_frac, building.cables[at(run.cable)].sheet().output_tolerance_frac};
}

/// Heat and current of the laid-out circuits in every case asked for. The building's local voltages are
/// where each search starts.
struct Circuitry {
  const job::Job& job;
  const piping::Network& network;
  std::span<const power::Circuit> circuits;
  power::Known& known;
  std::mutex& turn;  // to ask what is known

  Coupled solve(const hold::Building& building, hold::Mode mode, const hold::Conditions& conditions) const {
    return solve_coupled(job, network, building, circuits, mode, conditions, known, turn);
  }
};

struct Extremes {
  Coupled worst_cold;
  hold::State worst_hot, stuck_on;
};

Extremes solve_extreme(const Circuitry& circuitry, const hold::Building& building, const Extreme& extreme) {
  hold::Conditions cold, hot;
  cold.air = hold::Conditions::Air::low;
  cold.voltage_frac = extreme.low_frac;
  cold.cable_output_frac = 1 - extreme.tolerance_frac;
  cold.loss_frac = 1 + circuitry.job.requirements.margin_frac;
  hot.air = hold::Conditions::Air::high;
  hot.voltage_frac = extreme.high_frac;
  hot.cable_output_frac = 1 + extreme.tolerance_frac;
  hot.loss_frac = least_loss_frac;
  return {circuitry.solve(building, hold::Mode::sensor_at_maintain, cold),
          circuitry.solve(building, hold::Mode::sensor_at_maintain, hot).state,
          circuitry.solve(building, hold::Mode::stuck_on, hot).state};
}

/// The run that stands for its group: the sensor's, else the first.
std::vector<int> leaders(const hold::Building& building) {
  std::vector<int> result(building.groups.size(), piping::none);
  for (std::size_t i = building.runs.size(); i-- > 0;)
    result[at(building.runs[i].group)] = static_cast<int>(i);
  for (std::size_t g = 0; g < building.groups.size(); ++g)
    if (building.groups[g].sensor != piping::none) result[g] = building.groups[g].sensor;
  return result;
}

void fill_extreme(const hold::Building& building, const Extremes& found, std::size_t i, RunPlan& run) {
  run.worst_cold_c = found.worst_cold.state.runs[i].water_c;
  run.worst_hot_c = found.worst_hot.runs[i].water_c;
  run.stuck_on_c = found.stuck_on.runs[i].water_c;
  run.worst_voltage_frac = found.worst_cold.voltage_frac[i];
  const hold::HeldRun& held = building.runs[i];
  const auto& group = building.groups[at(held.group)];
  run.spare_frac =
      (1 + run.spare_frac) * output_left_frac(building.cables[at(held.cable)],
                                              group.low_frac * group.voltage_v, run.worst_voltage_frac) -
      1;
}

void fill_extremes(const Circuitry& circuitry, const hold::Building& building, Plan& plan) {
  std::set<Extreme> all;
  for (const auto& run : building.runs) all.insert(extreme_of(building, run));
  const std::vector<int> leader = leaders(building);
  for (const Extreme& extreme : all) {
    const Extremes found = solve_extreme(circuitry, building, extreme);
    for (std::size_t i = 0; i < building.runs.size(); ++i) {
      const hold::HeldRun& held = building.runs[i];
      if (extreme_of(building, held) != extreme) continue;
      fill_extreme(building, found, i, plan.runs[at(held.job_run)]);
      if (leader[at(held.group)] == static_cast<int>(i))
        plan.groups[at(held.group)].worst_duty = found.worst_cold.state.groups[at(held.group)].duty;
    }
  }
}

void set_voltages(const Coupled& coupled, hold::Building& building) {
  for (std::size_t i = 0; i < building.runs.size(); ++i)
    building.runs[i].voltage_frac = coupled.voltage_frac[i];
}

void fill_circuits(const job::Job& job, std::span<const power::CircuitVoltage> voltages,
                   std::vector<power::Circuit>& circuits) {
  for (std::size_t c = 0; c < circuits.size(); ++c) {
    power::Circuit& circuit = circuits[c];
    const power::CircuitVoltage& found = voltages[c];
    circuit.steady = found.steady;
    circuit.end_v = found.end_v;
    circuit.voltage_frac = found.voltage_frac;
    if (!found.steady) continue;
    const double panel_v = job.panels[at(circuit.panel)].voltage_v;
    circuit.working_a = found.current_a;
    circuit.working_w = found.power_w;
    circuit.feed_v = found.feed_v;
    circuit.far_v = found.far_v;
    circuit.far_node = found.far_node;
    circuit.far_drop_frac = (found.feed_v - found.far_v) / panel_v;
    circuit.feeder_drop_frac = (panel_v - found.feed_v) / panel_v;
  }
}

void fill_at_maintain(const hold::Building& building, const hold::State& state, Plan& plan) {
  for (std::size_t i = 0; i < building.runs.size(); ++i) {
    RunPlan& run = plan.runs[at(building.runs[i].job_run)];
    run.at_maintain_c = state.runs[i].water_c;
    run.voltage_frac = building.runs[i].voltage_frac;
    run.energy_kwh_per_day = kwh_per_day(state.runs[i].power_w);
  }
  const auto job_run = [&building](int i) { return i == piping::none ? i : building.runs[at(i)].job_run; };
  for (std::size_t g = 0; g < building.groups.size(); ++g) {
    plan.groups[g].duty = state.groups[g].duty;
    plan.groups[g].power_w = state.groups[g].power_w;
    plan.groups[g].coldest_run = job_run(state.groups[g].coldest);
    plan.groups[g].hottest_run = job_run(state.groups[g].hottest);
    plan.groups[g].sensor_offset_k = building.groups[g].sensor_offset_k;
  }
}

/// Yearly energy: the job's hours at maintain, the rest of the year at setback.
void fill_energy(const job::Job& job, const hold::State& setback, Plan& plan) {
  const double hours = job.economics.hours_per_year,
               rest = std::max(0.0, days_per_year * hours_per_day - hours);
  for (std::size_t g = 0; g < job.groups.size(); ++g) {
    GroupPlan& group = plan.groups[g];
    const double setback_w = setback.groups[g].power_w;
    group.energy_kwh_per_day = kwh_per_day(group.power_w);
    group.energy_kwh_per_year = (group.power_w * hours + setback_w * rest) / 1000;
    group.cost_per_year = group.energy_kwh_per_year * job.economics.energy_price_per_kwh;
  }
}

void fill_setback(const hold::Building& building, const hold::State& state, Plan& plan) {
  for (std::size_t i = 0; i < building.runs.size(); ++i)
    plan.runs[at(building.runs[i].job_run)].at_setback_c = state.runs[i].water_c;
  for (std::size_t g = 0; g < building.groups.size(); ++g) plan.groups[g].setback_duty = state.groups[g].duty;
}

void fill_open_loop(const Circuitry& circuitry, hold::Building building, Plan& plan) {
  const auto entered = [](const hold::Building::Group& group) { return group.entered_ambient_c.has_value(); };
  if (std::ranges::none_of(building.groups, entered)) return;
  const Coupled open = circuitry.solve(building, hold::Mode::entered_ambient, {});
  set_voltages(open, building);
  const std::vector<double> error = hold::ambient_error_k_per_k(building);
  for (std::size_t i = 0; i < building.runs.size(); ++i) {
    if (!building.groups[at(building.runs[i].group)].entered_ambient_c) continue;
    RunPlan& run = plan.runs[at(building.runs[i].job_run)];
    run.open_loop_c = open.state.runs[i].water_c;
    run.open_loop_error_k_per_k = error[i];
  }
}

void fill_uncertainty(const hold::Building& building, Plan& plan) {
  const Options& options = plan.options;
  if (options.samples <= 0 || building.runs.empty()) return;
  const hold::Uncertainty result =
      hold::uncertainty(building, {}, options.samples, options.seed, options.threads);
  for (std::size_t i = 0; i < building.runs.size(); ++i) {
    RunPlan& run = plan.runs[at(building.runs[i].job_run)];
    run.water_c = result.water_c[i];
    run.holds_prob = result.holds_prob[i];
    run.first_to_fail_prob = result.first_to_fail_prob[i];
  }
  for (std::size_t g = 0; g < building.groups.size(); ++g)
    plan.groups[g].holds_prob = result.group_holds_prob[g];
  plan.totals.all_hold_prob = result.all_hold_prob;
}

/// How much of the time a run on its own would need the cable on: the largest governs its group.
double own_duty(const hold::Building& building, const hold::HeldRun& run) {
  const auto& group = building.groups[at(run.group)];
  const double lost_w = run.loss.loss_w_per_m(group.maintain_c, run.air.usual_c) * run.loss_length_m;
  const double given_w =
      run.passes * run.derating_frac * run.pipe_length_m *
      building.cables[at(run.cable)].power_w_per_m(group.maintain_c, group.voltage_v * run.voltage_frac);
  return lost_w / given_w;
}

void find_best_sensors(const job::Job& job, const hold::Building& building, Plan& plan) {
  std::vector<double> largest(building.groups.size(), 0);
  for (const auto& run : building.runs) {
    const double duty = own_duty(building, run);
    double& so_far = largest[at(run.group)];
    if (!(duty > so_far * (1 + 1e-9))) continue;
    so_far = duty;
    plan.groups[at(run.group)].best_sensor_run = job.runs[at(run.job_run)].id;
  }
}

void fill_warm_up(Workshop& shop, const hold::Building& building, Plan& plan) {
  for (const auto& held : building.runs) {
    const job::Run& run = shop.job.runs[at(held.job_run)];
    RunPlan& result = plan.runs[at(held.job_run)];
    const auto& group = building.groups[at(held.group)];
    const double per_heated_m = run.length_m / held.pipe_length_m;
    const double capacity =
        per_heated_m * hold::heat_capacity_j_per_m_k(run.pipe, result.insulation,
                                                     shop.sections.insulation(run), group.maintain_c);
    result.warm_up_s =
        hold::warm_up(held, building.cables[at(held.cable)], capacity, shop.job.requirements.start_c,
                      group.maintain_c, held.air.usual_c, group.voltage_v * held.voltage_frac)
            .to_maintain_s;
    double& slowest_s = plan.groups[at(held.group)].heat_up_s;
    slowest_s = std::max(slowest_s, result.warm_up_s);
  }
}

}  // namespace

hold::HeldRun held_run(const job::Job& job, const RunPlan& planned, int job_run, Sections& sections) {
  const job::Run& run = job.runs[at(job_run)];
  hold::HeldRun held;
  held.job_run = job_run;
  held.group = heating_group(job, run);
  held.cable = planned.cable;
  held.passes = planned.passes;
  held.pipe_length_m = heated_length_m(run);
  held.loss_length_m = piping::loss_length_m(run);
  held.derating_frac = planned.derating_frac;
  held.voltage_frac = planned.voltage_frac;
  held.loss = sections.loss(run, planned.insulation);
  held.air = job::air_around(job, run);
  held.space = run.air ? piping::none : index_of(job.spaces, run.space);
  held.key = hold::run_key(run.id);
  return held;
}

double output_left_frac(const physics::HeatingCable& cable, double panel_v, double voltage_frac) {
  return std::min(voltage_frac, cable.voltage_factor(voltage_frac * panel_v) / cable.voltage_factor(panel_v));
}

hold::Building building_of(Workshop& shop, const Plan& plan) {
  const job::Job& job = shop.job;
  hold::Building building;
  building.cables = shop.cables;
  for (const auto& group : job.groups) building.groups.push_back(held_group(job, group));
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    if (plan.runs[i].cable == piping::none) continue;
    building.runs.push_back(held_run(job, plan.runs[i], static_cast<int>(i), shop.sections));
  }
  mount_sensors(shop, building);
  return building;
}

void hold_all(Workshop& shop, hold::Building building, std::vector<power::Circuit>& circuits, Plan& plan) {
  const job::Job& job = shop.job;
  if (building.runs.empty()) return;
  std::mutex turn;
  const Circuitry circuitry{job, plan.network, circuits, *shop.known, turn};
  const Coupled maintain = circuitry.solve(building, hold::Mode::sensor_at_maintain, {});
  set_voltages(maintain, building);
  fill_circuits(job, maintain.circuits, circuits);
  fill_at_maintain(building, maintain.state, plan);
  // Each case starts from what maintain left and fills figures of its own.
  auto extremes = std::async(plan.options.threads > 1 ? std::launch::async : std::launch::deferred,
                             [&] { fill_extremes(circuitry, building, plan); });
  const hold::State setback = circuitry.solve(building, hold::Mode::sensor_at_setback, {}).state;
  fill_setback(building, setback, plan);
  fill_energy(job, setback, plan);
  fill_open_loop(circuitry, building, plan);
  fill_warm_up(shop, building, plan);
  extremes.get();
  fill_uncertainty(building, plan);
  find_best_sensors(job, building, plan);
}

}  // namespace firstdraw::plan
