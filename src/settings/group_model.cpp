// From a planned job to the numbers of its groups.
#include "settings/group_model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hold/balance.hpp"
#include "plan/held.hpp"
#include "settings/group_limits.hpp"
#include "settings/luck.hpp"
#include "settings/lump.hpp"

namespace firstdraw::settings {
namespace {

using piping::at;

constexpr double grid_c(int i) { return GroupModel::first_c + GroupModel::step_k * i; }

std::vector<double> loss_on_grid(const hold::HeldRun& held, double air_c) {
  std::vector<double> loss_w;
  for (int i = 0; i < GroupModel::points; ++i)
    loss_w.push_back(held.loss.loss_w_per_m(grid_c(i), air_c) * held.loss_length_m);
  return loss_w;
}

std::vector<double> output_on_grid(const hold::Building& building, const hold::HeldRun& held) {
  const physics::HeatingCable& cable = building.cables[at(held.cable)];
  const double volts = hold::voltage_of(building, held);
  std::vector<double> output_w;
  for (int i = 0; i < GroupModel::points; ++i)
    output_w.push_back(cable.power_w_per_m(grid_c(i), volts) * held.passes * held.derating_frac *
                       held.pipe_length_m);
  return output_w;
}

double capacity_of(Steady& steady, const hold::HeldRun& held) {
  const job::Run& run = steady.shop.job.runs[at(held.job_run)];
  const double about_c = steady.building.groups[at(held.group)].maintain_c;
  return run.length_m * hold::heat_capacity_j_per_m_k(run.pipe, steady.plan.runs[at(held.job_run)].insulation,
                                                      steady.shop.sections.insulation(run), about_c);
}

ModelRun model_run(Steady& steady, const hold::HeldRun& held) {
  ModelRun run;
  run.id = steady.shop.job.runs[at(held.job_run)].id;
  run.job_run = held.job_run;
  run.capacity_j_per_k = capacity_of(steady, held);
  run.loss_w = loss_on_grid(held, held.air.usual_c);
  run.output_w = output_on_grid(steady.building, held);
  return run;
}

/// Adds `share` of `from` to `into`.
void add(const std::vector<double>& from, double share, std::vector<double>& into) {
  into.resize(from.size(), 0);
  for (std::size_t i = 0; i < from.size(); ++i) into[i] += share * from[i];
}

/// No run of the job: what each run loses, gets and stores, shared evenly, so that duties are those of the
/// whole group.
ModelRun average_run(const std::vector<ModelRun>& runs) {
  ModelRun average;
  average.id = "average run";
  const double share = 1.0 / static_cast<double>(runs.size());
  for (const ModelRun& run : runs) {
    add(run.loss_w, share, average.loss_w);
    add(run.output_w, share, average.output_w);
    average.capacity_j_per_k += share * run.capacity_j_per_k;
  }
  return average;
}

void open_the_loop(const Steady& steady, const std::vector<int>& held_runs, GroupModel& model) {
  model.open_loop = true;
  model.sensor = static_cast<int>(model.runs.size());
  const auto ambient_c = steady.building.groups[at(model.group)].entered_ambient_c;
  if (ambient_c)
    for (const int h : held_runs)
      add(loss_on_grid(steady.building.runs[at(h)], *ambient_c), 1.0 / static_cast<double>(held_runs.size()),
          model.ambient_loss_w);
  model.runs.push_back(average_run(model.runs));
  model.notes.push_back("Group " + model.id +
                        (ambient_c
                             ? " has no sensor: it follows the ambient that was entered, and set-points are "
                               "what its average run would be held at in that air."
                             : " has no sensor and no ambient was entered: nothing throttles its cable."));
}

/// Where the run lies, at the set-point of the plan, in the share of sampled buildings that are colder still.
double weak_maintain_c(const plan::RunPlan& planned, double confidence_frac) {
  const double below_k = planned.at_maintain_c - planned.water_c.p5;
  return planned.at_maintain_c - below_k * normal_quantile(confidence_frac) / normal_quantile(0.95);
}

/// Water no warmer than its air loses nothing: such bad luck is taken at the least temperature that does.
double weak_factor(const ModelRun& run, double duty, double weak_c) {
  double lost_w = loss_w(run, weak_c);
  while (!(lost_w > 0) && weak_c < grid_c(GroupModel::points - 1))
    lost_w = loss_w(run, weak_c += GroupModel::step_k);
  return std::max(1.0, duty * output_w(run, weak_c) / lost_w);
}

void set_bad_luck(const Steady& steady, GroupModel& model) {
  const job::Job& job = steady.shop.job;
  const double confidence_frac = std::max(0.5, job.week.confidence_frac);
  const double duty = duty_at(model, job.groups[at(model.group)].maintain_c - model.sensor_offset_k);
  bool sampled = true;
  for (ModelRun& run : model.runs) {
    if (run.job_run < 0) continue;
    const plan::RunPlan& planned = steady.plan.runs[at(run.job_run)];
    const double weak_c = weak_maintain_c(planned, confidence_frac);
    sampled = sampled && std::isfinite(weak_c) && steady.plan.options.samples > 0;
    if (sampled) run.weak_loss_factor = weak_factor(run, duty, weak_c);
  }
  if (!sampled)
    model.notes.push_back(fmt::format(
        "The plan of group {} was made without sampling tolerances: every run counts as usual.", model.id));
}

GroupModel model_of(Steady& steady, int group, const std::vector<int>& held_runs) {
  const hold::Building::Group& held = steady.building.groups[at(group)];
  GroupModel model;
  model.group = group;
  model.id = steady.shop.job.groups[at(group)].id;
  for (const int h : held_runs) {
    if (h == held.sensor) model.sensor = static_cast<int>(model.runs.size());
    model.runs.push_back(model_run(steady, steady.building.runs[at(h)]));
  }
  if (held.sensor == piping::none)
    open_the_loop(steady, held_runs, model);
  else
    model.sensor_offset_k = held.sensor_offset_k;
  set_bad_luck(steady, model);
  set_limits(steady, model);
  return model;
}

}  // namespace

std::vector<GroupModel> group_models(const job::Job& job, const plan::Plan& plan) {
  plan::Workshop shop(job);
  Steady steady{shop, plan, plan::building_of(shop, plan)};
  const std::vector<std::vector<int>> runs = hold::runs_by_group(steady.building);
  std::vector<GroupModel> models;
  for (std::size_t g = 0; g < runs.size(); ++g)
    if (!runs[g].empty()) models.push_back(model_of(steady, static_cast<int>(g), runs[g]));
  return models;
}

}  // namespace firstdraw::settings
