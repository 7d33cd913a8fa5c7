// plan::small_job with taps and a guideline, planned and laid out in time, for the tests of models and needs.
#pragma once

#include "forecast/scene.hpp"
#include "forecast/test_building.hpp"
#include "settings/needs.hpp"

namespace firstdraw::settings {

/// Held at 55 degC, delivered at 58, asked for 50 at all times (OSHA). Tolerances are sampled.
inline job::Job washroom() {
  job::Job job = plan::small_job();
  job.supply = {"heater", "mix", "L1", 60, 58, 10};
  job.requirements.guideline = "osha";
  job.groups[0].maintain_c = 55;
  job.groups[0].setback_c = 45;
  job.groups[0].differential_k = 0.5;
  job.groups[0].sensor_lag_s = 60;
  job.groups[0].high_cutout_c = 75;
  job.outlets = {forecast::outlet("O1", "c", "shower", 2), forecast::outlet("O2", "d", "kitchen-sink", 1.5),
                 forecast::outlet("O3", "b", "lavatory", 1)};
  for (job::Outlet& outlet : job.outlets) outlet.safe_outlet_valve = true;
  return job;
}

struct PlannedWashroom {
  job::Job job;
  plan::Plan plan;
  draw::Scene scene;
  forecast::Demand demand;

  explicit PlannedWashroom(job::Job the_job = washroom(), int samples = 500) : job(std::move(the_job)) {
    plan::Options options;
    options.samples = samples;
    plan = plan::make_plan(job, options);
    scene = forecast::make_scene(job, plan, {});
    demand = forecast::demand_of(job, scene);
  }
  GroupNeeds needs(const Asked& asked, double step_s = 1800) const {
    const std::vector<GroupModel> models = group_models(job, plan);
    return needs_of(job, plan, scene, demand, models, asked, step_s).front();
  }
  GroupNeeds needs() const { return needs(asked_of(job)); }
};

}  // namespace firstdraw::settings
