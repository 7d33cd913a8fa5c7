#include "settings/group_limits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "settings/guideline.hpp"
#include "settings/luck.hpp"
#include "settings/lump.hpp"
#include "units/quantity.hpp"

namespace firstdraw::settings {
namespace {

using piping::at;

constexpr double endless = std::numeric_limits<double>::infinity();
constexpr double grid_end_c = GroupModel::first_c + GroupModel::step_k * (GroupModel::points - 1);

std::string shown(const job::Job& job, double water_c) {
  return units::show(water_c, units::Kind::temperature, job.units);
}

void lower(GroupModel& model, double set_c, std::string because) {
  if (!(set_c < model.most_settable_c)) return;
  model.most_settable_c = set_c;
  model.most_because = std::move(because);
}

void limit_by_cutout(const job::Job& job, GroupModel& model) {
  const job::ControlGroup& group = job.groups[at(model.group)];
  if (model.open_loop || !(group.high_cutout_c > 0)) return;
  lower(model, group.high_cutout_c - swing_k(group) - cutout_margin_k - model.sensor_offset_k,
        fmt::format("the cut-out at {}, less half the differential and {} of margin (our choice, no source)",
                    shown(job, group.high_cutout_c),
                    units::show(cutout_margin_k, units::Kind::temperature_difference, job.units)));
}

/// Share of its usual loss with which the run settles where the luckiest of the sampled buildings lie.
double lucky_loss_factor(const Steady& steady, const GroupModel& model, const ModelRun& run) {
  const plan::RunPlan& planned = steady.plan.runs[at(run.job_run)];
  const double confidence = steady.shop.job.week.confidence_frac;
  const double spread_k = planned.water_c.p95 - planned.at_maintain_c;
  if (!std::isfinite(spread_k) || !(confidence > 0.5)) return 1;
  const double lucky_c =
      planned.at_maintain_c + spread_k * normal_quantile(confidence) / normal_quantile(0.95);
  const double maintain_c = steady.shop.job.groups[at(model.group)].maintain_c - model.sensor_offset_k;
  const double lost_w = loss_w(run, lucky_c);
  if (!(lost_w > 0)) return 1;
  return std::min(1.0, duty_at(model, maintain_c) * output_w(run, lucky_c) / lost_w);
}

/// Highest set-point at which the run, in its good luck, stays below a temperature.
double set_for_limit_c(const GroupModel& model, const ModelRun& run, double loss_factor, double limit_c) {
  const double output = output_w(run, limit_c), lost = loss_factor * loss_w(run, limit_c);
  if (!(lost > 0)) return -endless;
  if (lost >= output) return endless;
  const ModelRun& sensor = model.runs[at(model.sensor)];
  const auto& governing_w = model.open_loop ? model.ambient_loss_w : sensor.loss_w;
  return governing_w.empty() ? endless : balance_c(governing_w, sensor.output_w, 1, lost / output);
}

void limit_by_materials(Steady& steady, GroupModel& model) {
  const job::Job& job = steady.shop.job;
  const double above_k = swing_k(job.groups[at(model.group)]);
  for (const ModelRun& run : model.runs) {
    if (run.job_run < 0) continue;
    const MaterialLimit limit = material_limit(job, steady.plan, run.job_run);
    const double lucky = lucky_loss_factor(steady, model, run);
    lower(model, set_for_limit_c(model, run, lucky, std::min(limit.water_c - above_k, grid_end_c)),
          fmt::format("{} of run {} may reach {}", limit.of, run.id, shown(job, limit.water_c)));
  }
}

void find_hopeless(const job::Job& job, GroupModel& model) {
  const double asked_c = guideline_of(job).distributed_c;
  const std::vector<double> weak_c = held_c(model, model.most_settable_c, true);
  for (std::size_t r = 0; r < model.runs.size(); ++r)
    if (model.runs[r].job_run >= 0 && weak_c[r] < asked_c) model.hopeless.push_back(model.runs[r].id);
}

}  // namespace

double swing_k(const job::ControlGroup& group) {
  return group.method == job::ControlMethod::thermostat ? group.differential_k / 2 : 0;
}

MaterialLimit material_limit(const job::Job& job, const plan::Plan& plan, int job_run) {
  const job::Run& run = job.runs[at(job_run)];
  const plan::RunPlan& planned = plan.runs[at(job_run)];
  MaterialLimit limit{run.pipe.max_c > 0 ? run.pipe.max_c : endless, run.pipe.material + " pipe"};
  const auto consider = [&limit](double water_c, const std::string& of) {
    if (water_c > 0 && water_c < limit.water_c) limit = {water_c, of};
  };
  if (planned.insulation.outer_diameter_m > planned.insulation.bore_m)
    if (const auto insulation = physics::find_insulation(run.insulation))
      consider(insulation->max_c, insulation->name);
  const physics::CableSheet& sheet = job.cables[at(planned.cable)];
  consider(sheet.max_powered_c, "powered cable " + sheet.name);
  return limit;
}

void set_limits(Steady& steady, GroupModel& model) {
  const job::Job& job = steady.shop.job;
  model.least_settable_c = job.controller.lowest_c - model.sensor_offset_k;
  model.most_settable_c = grid_end_c;
  model.most_because = "the model's range";
  lower(model, job.controller.highest_c - model.sensor_offset_k,
        fmt::format("the controller takes {} at most", shown(job, job.controller.highest_c)));
  limit_by_cutout(job, model);
  limit_by_materials(steady, model);
  find_hopeless(job, model);
}

}  // namespace firstdraw::settings
