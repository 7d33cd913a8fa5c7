// What the parts of make_scene share: the planned building as the steady room sees it, and what a fault or a
// variation changes about one place.
#pragma once

#include <string_view>
#include <vector>

#include "forecast/scene.hpp"
#include "hold/hold.hpp"
#include "physics/heating_cable.hpp"
#include "plan/sections.hpp"

namespace firstdraw::forecast {

/// Job and plan with what is worked out once for all runs.
struct Blueprint {
  Blueprint(const job::Job& job, const plan::Plan& plan, const SceneOptions& options);

  const job::Job& job;
  const plan::Plan& plan;
  const SceneOptions& options;
  plan::Sections sections;
  hold::Building held;           // heated runs only, everything nominal
  std::vector<int> held_of_run;  // per job run: index into held.runs, none when not heated

  std::vector<int> scene_of_run;  // per job run: index into Scene.runs, filled as the scene grows
  /// Power at `volts` as a multiple of that at rated voltage, from the sheet's table, and beyond the table as
  /// it runs at its end.
  double voltage_factor(int cable, double volts) const;
};

/// The last fault of this kind at this place; null when there is none.
const Fault* fault_at(const SceneOptions& options, FaultKind kind, std::string_view place);

/// Entry of a variation's list; `usual` when the list is empty.
inline double varied(const std::vector<double>& list, int index, double usual) {
  return list.empty() ? usual : list.at(draw::at(index));
}

/// A pipe in its wrapping, as far as heat goes.
struct Wrapped {
  const job::Run& run;           // pipe, length, insulation, emissivity, orientation
  physics::InsulationSize size;  // zero: bare
  double conductivity_factor = 1;
  double air_c = 20, about_c = 50;
  double loss_ratio = 1;  // metres of loss per metre of pipe: fittings
  double longest_cell_m = 1;
  int least_cells = 1;
};
/// Sets everything of a scene run that follows from its pipe: volume, cells, heat stored, loss, films. Water
/// and metal of fittings are not counted, only their loss.
void set_thermal(draw::SceneRun& made, const Wrapped& wrapped, plan::Sections& sections);

/// Cable of one job run: group, cable, share. Nothing for a run that is not heated.
void set_cable(draw::SceneRun& made, int job_run, const Blueprint& blueprint);
std::vector<draw::CableCurve> cable_curves(const std::vector<physics::HeatingCable>& cables);

std::vector<draw::SceneGroup> scene_groups(const Blueprint& blueprint);
draw::Supply scene_supply(const Blueprint& blueprint);
/// Temperature of hot water that reaches a job run.
double arriving_c(const Blueprint& blueprint, int job_run);
/// A runout of no length is still the tap's own pipe (demand_of lists the assumption).
inline constexpr double least_runout_m = 0.1;
/// Taps with their runouts, which are added to scene.runs.
void add_taps(draw::Scene& scene, Blueprint& blueprint);

/// The untraced run next above the runs of a group, whose water comes from the supply; none when cable
/// reaches up to the supply.
int untraced_above(const job::Job& job, const plan::Plan& plan, int group);
/// Cable that is dead from some place on, with all that is fed through it.
void kill_cable(draw::Scene& scene, const Blueprint& blueprint);

}  // namespace firstdraw::forecast
