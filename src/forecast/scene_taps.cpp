#include <fmt/format.h>
#include <algorithm>
#include <stdexcept>

#include "forecast/scene_parts.hpp"
#include "plan/run_classes.hpp"
#include "tables/table.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;

constexpr int least_runout_cells = 4;
constexpr double cells_per_run_cell = 4;
/// What a tap may lose on the way before water that is delivered no hotter than needed counts as cold (our
/// choice, no source).
constexpr double below_delivered_k = 2;

struct Hot {
  double temp_c;
  std::string basis;
};

Hot hot_at(const std::string& fixture, double arriving_c) {
  for (const tables::Row& row : tables::table("hot_at_tap").rows()) {
    if (row.text("fixture") != fixture) continue;
    const double wanted_c = row.number("hot_c"), most_c = arriving_c - below_delivered_k;
    if (wanted_c <= most_c) return {wanted_c, row.text("source")};
    return {most_c, fmt::format("{}; lowered to 2 K below the water delivered", row.text("source"))};
  }
  throw std::logic_error("hot_at_tap: no fixture " + fixture);
}

/// The runout as a run of its own: straight, level, without fittings.
job::Run runout_of(const job::Outlet& outlet) {
  job::Run run;
  run.pipe = outlet.runout_pipe;
  run.length_m = std::max(outlet.runout_length_m, least_runout_m);
  run.insulation = outlet.runout_insulation;
  return run;
}

physics::InsulationSize wrapping_of(const job::Job& job, const job::Outlet& outlet) {
  if (outlet.runout_insulation.empty() || !outlet.runout_thickness_m) return {};
  return physics::fit_insulation(outlet.runout_pipe.outer_diameter_m, {}, 0, *outlet.runout_thickness_m,
                                 job.design.size_series);
}

/// Air of the outlet's space, else of the run that feeds it; the variation is that of the feeding run.
double air_round(const Blueprint& blueprint, const job::Outlet& outlet, int feeding) {
  const job::Job& job = blueprint.job;
  const int space = plan::index_of(job.spaces, outlet.space);
  const double shift_k =
      feeding == draw::none ? 0 : varied(blueprint.options.variation.air_shift_k, feeding, 0);
  if (space != draw::none) return job.spaces[at(space)].air.usual_c + shift_k;
  if (feeding == draw::none) return draw::SceneRun{}.air_c.at(0);
  return job::air_around(job, job.runs[at(feeding)]).usual_c + shift_k;
}

struct Runouts {
  draw::Tap tap;
  draw::SceneRun run;
};

Runouts runout_at(Blueprint& blueprint, int outlet_index, int feeding) {
  const job::Outlet& outlet = blueprint.job.outlets[at(outlet_index)];
  const double water_c = arriving_c(blueprint, feeding);
  const job::Run run = runout_of(outlet);
  Runouts made;
  made.run.upstream = feeding == draw::none ? draw::none : blueprint.scene_of_run[at(feeding)];
  made.run.length_m = run.length_m;
  Wrapped wrapped{run, wrapping_of(blueprint.job, outlet)};
  wrapped.air_c = air_round(blueprint, outlet, feeding);
  wrapped.about_c = 0.5 * (water_c + wrapped.air_c);
  wrapped.longest_cell_m = blueprint.options.cell_m / cells_per_run_cell;
  wrapped.least_cells = least_runout_cells;
  set_thermal(made.run, wrapped, blueprint.sections);
  Hot hot = hot_at(outlet.fixture, water_c);
  made.tap = {"", outlet_index, draw::none, hot.temp_c, std::move(hot.basis)};
  return made;
}

void add_outlet(draw::Scene& scene, Blueprint& blueprint, int outlet_index, int feeding) {
  const job::Outlet& outlet = blueprint.job.outlets[at(outlet_index)];
  const Runouts one = runout_at(blueprint, outlet_index, feeding);
  for (int copy = 1; copy <= outlet.count; ++copy) {
    Runouts made = one;
    made.tap.id = made.run.id = copy == 1 ? outlet.id : fmt::format("{}#{}", outlet.id, copy);
    made.tap.run = static_cast<int>(scene.runs.size());
    scene.runs.push_back(std::move(made.run));
    scene.taps.push_back(std::move(made.tap));
  }
}

}  // namespace

void add_taps(draw::Scene& scene, Blueprint& blueprint) {
  const piping::Network& network = blueprint.plan.network;
  std::vector<int> feeding(network.node_ids.size(), draw::none);
  for (const int run : network.order) feeding[at(network.to_node[at(run)])] = run;
  for (std::size_t o = 0; o < blueprint.job.outlets.size(); ++o) {
    const int node = network.node(blueprint.job.outlets[o].node);
    if (node == draw::none) continue;
    const bool is_fed = feeding[at(node)] != draw::none || node == network.supply_node;
    if (is_fed) add_outlet(scene, blueprint, static_cast<int>(o), feeding[at(node)]);
  }
}

}  // namespace firstdraw::forecast
