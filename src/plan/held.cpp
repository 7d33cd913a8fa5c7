#include "plan/held.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

#include "plan/sensor.hpp"

namespace firstdraw::plan {
namespace {

constexpr double joule_per_kwh = 3.6e6, seconds_per_day = 86400, days_per_year = 365, hours_per_day = 24;

using piping::at;

double kwh_per_day(double power_w) { return power_w * seconds_per_day / joule_per_kwh; }

hold::HeldRun held_run(Workshop& shop, const RunClass& run_class, const Option& option, int job_run) {
  const job::Run& run = shop.job.runs[at(job_run)];
  hold::HeldRun held;
  held.job_run = job_run;
  held.group = run_class.group;
  held.cable = option.cable;
  held.passes = option.passes;
  held.pipe_length_m = heated_length_m(run);
  held.loss_length_m = piping::loss_length_m(run);
  held.derating_frac = option.derating_frac;
  held.loss = shop.sections.loss(run, option.insulation);
  held.air = job::air_around(shop.job, run);
  held.space = run.air ? piping::none : index_of(shop.job.spaces, run.space);
  held.key = hold::run_key(run.id);
  return held;
}

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

void mount_sensors(const job::Job& job, hold::Building& building) {
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
                        job.groups[g].sensor_angle_rad, building.cables[at(found->cable)], found->passes);
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

struct Extremes {
  hold::State worst_cold, worst_hot, stuck_on;
};

Extremes solve_extreme(const hold::Building& building, const Extreme& extreme, double margin_frac) {
  hold::Conditions cold, hot;
  cold.air = hold::Conditions::Air::low;
  cold.voltage_frac = extreme.low_frac;
  cold.cable_output_frac = 1 - extreme.tolerance_frac;
  cold.loss_frac = 1 + margin_frac;
  hot.air = hold::Conditions::Air::high;
  hot.voltage_frac = extreme.high_frac;
  hot.cable_output_frac = 1 + extreme.tolerance_frac;
  hot.loss_frac = least_loss_frac;
  return {hold::solve(building, hold::Mode::sensor_at_maintain, cold),
          hold::solve(building, hold::Mode::sensor_at_maintain, hot),
          hold::solve(building, hold::Mode::stuck_on, hot)};
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

void fill_extremes(const hold::Building& building, double margin_frac, Plan& plan) {
  std::set<Extreme> all;
  for (const auto& run : building.runs) all.insert(extreme_of(building, run));
  const std::vector<int> leader = leaders(building);
  for (const Extreme& extreme : all) {
    const Extremes states = solve_extreme(building, extreme, margin_frac);
    for (std::size_t i = 0; i < building.runs.size(); ++i) {
      const hold::HeldRun& held = building.runs[i];
      if (extreme_of(building, held) != extreme) continue;
      RunPlan& run = plan.runs[at(held.job_run)];
      run.worst_cold_c = states.worst_cold.runs[i].water_c;
      run.worst_hot_c = states.worst_hot.runs[i].water_c;
      run.stuck_on_c = states.stuck_on.runs[i].water_c;
      if (leader[at(held.group)] == static_cast<int>(i))
        plan.groups[at(held.group)].worst_duty = states.worst_cold.groups[at(held.group)].duty;
    }
  }
}

void fill_at_maintain(const hold::Building& building, const hold::State& state, Plan& plan) {
  for (std::size_t i = 0; i < building.runs.size(); ++i) {
    RunPlan& run = plan.runs[at(building.runs[i].job_run)];
    run.at_maintain_c = state.runs[i].water_c;
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

void fill_open_loop(const hold::Building& building, Plan& plan) {
  const hold::State state = hold::solve(building, hold::Mode::entered_ambient, {});
  const std::vector<double> error = hold::ambient_error_k_per_k(building);
  for (std::size_t i = 0; i < building.runs.size(); ++i) {
    if (!building.groups[at(building.runs[i].group)].entered_ambient_c) continue;
    RunPlan& run = plan.runs[at(building.runs[i].job_run)];
    run.open_loop_c = state.runs[i].water_c;
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
  const double given_w = run.passes * run.derating_frac * run.pipe_length_m *
                         building.cables[at(run.cable)].power_w_per_m(group.maintain_c, group.voltage_v);
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
                      group.maintain_c, held.air.usual_c, group.voltage_v)
            .to_maintain_s;
    double& slowest_s = plan.groups[at(held.group)].heat_up_s;
    slowest_s = std::max(slowest_s, result.warm_up_s);
  }
}

}  // namespace

hold::Building building_of(Workshop& shop, const RunClasses& classes, const Decision& decision) {
  const job::Job& job = shop.job;
  hold::Building building;
  building.cables = shop.cables;
  for (const auto& group : job.groups) building.groups.push_back(held_group(job, group));
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    const auto c = at(classes.of_run[i]);
    if (classes.classes[c].group == piping::none) continue;
    building.runs.push_back(held_run(shop, classes.classes[c], decision.chosen[c], static_cast<int>(i)));
  }
  mount_sensors(job, building);
  return building;
}

void hold_all(Workshop& shop, const hold::Building& building, Plan& plan) {
  const job::Job& job = shop.job;
  if (building.runs.empty()) return;
  fill_at_maintain(building, hold::solve(building, hold::Mode::sensor_at_maintain, {}), plan);
  const hold::State setback = hold::solve(building, hold::Mode::sensor_at_setback, {});
  fill_setback(building, setback, plan);
  fill_energy(job, setback, plan);
  fill_extremes(building, job.requirements.margin_frac, plan);
  fill_open_loop(building, plan);
  fill_warm_up(shop, building, plan);
  fill_uncertainty(building, plan);
  find_best_sensors(job, building, plan);
}

}  // namespace firstdraw::plan
