// A small invented building with its plan, for the tests of scenes, faults and demand.
#pragma once

#include <gmock/gmock.h>

#include <stdexcept>
#include <string>

#include "forecast/scene.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::forecast {

inline plan::Options quick() {
  plan::Options options;
  options.samples = 0;
  return options;
}

inline job::Outlet outlet(const std::string& id, const std::string& node, const std::string& fixture,
                          double runout_m) {
  job::Outlet made;
  made.id = id;
  made.node = node;
  made.fixture = fixture;
  made.space = "ceiling";
  made.runout_pipe = plan::pipe_named("copper L 1/2");
  made.runout_length_m = runout_m;
  return made;
}

/// plan::small_job with two showers, a sink and a lavatory.
struct Planned {
  job::Job job = plan::small_job();
  plan::Plan plan;

  Planned() {
    job.supply = {"heater", "mix", "L1", 60, 49, 10};
    job.outlets = {outlet("O1", "c", "shower", 2), outlet("O2", "d", "kitchen-sink", 1.5),
                   outlet("O3", "d", "lavatory", 0)};
    job.outlets[0].count = 2;
    job.groups[0].differential_k = 2;
    job.groups[0].cycle_s = 600;
    job.groups[0].sensor_lag_s = 60;
    plan = plan::make_plan(job, quick());
  }

  /// As if cables and feeders had no resistance.
  void without_drop() {
    for (plan::RunPlan& run : plan.runs) run.voltage_frac = 1;
  }
};

inline int find_run(const draw::Scene& scene, const std::string& id) {
  for (std::size_t r = 0; r < scene.runs.size(); ++r)
    if (scene.runs[r].id == id) return static_cast<int>(r);
  return draw::none;
}

inline const draw::SceneRun& run_named(const draw::Scene& scene, const std::string& id) {
  const int index = find_run(scene, id);
  if (index == draw::none) throw std::logic_error("no run " + id);
  return scene.runs[draw::at(index)];
}

}  // namespace firstdraw::forecast
