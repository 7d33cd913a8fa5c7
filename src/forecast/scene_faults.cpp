#include <algorithm>

#include "forecast/scene_parts.hpp"
#include "plan/run_classes.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;

/// Share of each cell that lies before `live_frac` of the run.
std::vector<double> alive_until(double live_frac, int cells) {
  std::vector<double> live;
  for (int c = 0; c < cells; ++c) live.push_back(std::clamp(live_frac * cells - c, 0.0, 1.0));
  return live;
}

bool is_below(const piping::Network& network, int run, int above) {
  while (run != draw::none && run != above) run = network.upstream_run[at(run)];
  return run == above;
}

}  // namespace

const Fault* fault_at(const SceneOptions& options, FaultKind kind, std::string_view place) {
  const auto found = std::find_if(options.faults.rbegin(), options.faults.rend(), [&](const Fault& fault) {
    return fault.kind == kind && fault.place == place;
  });
  return found == options.faults.rend() ? nullptr : &*found;
}

int untraced_above(const job::Job& job, const plan::Plan& plan, int group) {
  const auto is_traced = [&plan](int run) { return plan.runs[at(run)].cable != draw::none; };
  for (int run : plan.network.order) {
    if (!is_traced(run) || plan::heating_group(job, job.runs[at(run)]) != group) continue;
    while (run != draw::none && is_traced(run)) run = plan.network.upstream_run[at(run)];
    return run;
  }
  return draw::none;
}

void kill_cable(draw::Scene& scene, const Blueprint& blueprint) {
  const plan::Plan& plan = blueprint.plan;
  for (const Fault& fault : blueprint.options.faults) {
    if (fault.kind != FaultKind::dead_cable) continue;
    const int from = plan::index_of(blueprint.job.runs, fault.place);
    if (from == draw::none) continue;
    for (draw::SceneRun& run : scene.runs) {
      if (run.group == draw::none || run.job_run == draw::none) continue;
      if (plan.runs[at(run.job_run)].circuit != plan.runs[at(from)].circuit) continue;
      if (!is_below(plan.network, run.job_run, from)) continue;
      auto live = alive_until(run.job_run == from ? fault.value : 0, run.cells);
      if (run.live_frac.empty()) run.live_frac.assign(at(run.cells), 1);
      for (std::size_t c = 0; c < live.size(); ++c) run.live_frac[c] = std::min(run.live_frac[c], live[c]);
    }
  }
}

}  // namespace firstdraw::forecast
