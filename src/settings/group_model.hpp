// A control group for the search of its cheapest week: every heated run as one lump of heat under the group's
// common duty, and the group reduced to the temperature of its sensor's run. Draws are left out: they bring
// water from the supply, and leaving them out is the safe side. Equations in docs/week.md.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "hold/hold.hpp"
#include "plan/plan.hpp"
#include "week/reduced.hpp"

namespace firstdraw::settings {

struct ModelRun {
  std::string id;
  int job_run = -1;             // -1: the average run that stands for a missing sensor, no pipe of the job
  double capacity_j_per_k = 0;  // of the run: water, wall, the insulation's share
  /// Loss of the run in the bad luck of 1 - confidence: the factor on the usual loss with which it settles,
  /// at the group's duty, where that share of the sampled buildings lies. At least 1.
  double weak_loss_factor = 1;
  // On a grid of temperatures, so that nothing of the job is needed any more.
  std::vector<double> loss_w, output_w;  // at first_c + i step_k, in usual air
};

struct GroupModel {
  static constexpr double first_c = 0, step_k = 0.5;
  static constexpr int points = 221;
  int group = -1;  // index into job.groups
  std::string id;
  std::vector<ModelRun> runs;  // heated ones; where there is no sensor the average run as last one
  int sensor = 0;              // index into runs: the sensor's run; without a sensor the average run
  bool open_loop = false;      // driven by the entered ambient: no thermostat
  /// Open loop: loss of the average run with its air at the entered ambient, on the grid. Duty of a set-point
  /// is this over the average run's output there; empty: no ambient was entered, nothing throttles.
  std::vector<double> ambient_loss_w;
  double sensor_offset_k = 0;  // reading above water at maintain
  double least_settable_c = 0,
         most_settable_c = 0;         // set-points: controller, cut-out, pipe, insulation, cable
  std::string most_because;           // what sets the upper end, in words
  std::vector<std::string> hopeless;  // runs that stay below what is asked of them at any settable set-point
  std::vector<std::string> notes;     // what was taken for granted, one sentence each
};

/// Straight lines between the points of the grid, continued beyond its ends.
double loss_w(const ModelRun& run, double water_c);
double output_w(const ModelRun& run, double water_c);

/// One for each group that has heated runs.
std::vector<GroupModel> group_models(const job::Job& job, const plan::Plan& plan);

/// Duty that holds the sensor's run at `set_c` (its water), 0 to 1; open loop: what the controller derives
/// from the entered ambient.
double duty_at(const GroupModel& model, double set_c);
/// Where the group's runs lie while the sensor's run is held at `set_c` (its water): usual, or each run in
/// its bad luck.
std::vector<double> held_c(const GroupModel& model, double set_c, bool weak);
/// Least water temperature of the sensor's run at which every run that is not hopeless is at least
/// `least_c[run]` in its bad luck; infinity when most_settable_c is not enough, -infinity when nothing is
/// asked.
double set_point_for(const GroupModel& model, std::span<const double> least_c);

/// The group as one temperature, its sensor's run, held by a thermostat. Open loop has none: there the law
/// heats faster than the group does, and `live_lumped` is what counts.
week::ThermalLaw law_of(const GroupModel& model);

/// Every run under set-points by step (of the sensor run's water), repeated until a week ends as it began.
struct Lived {
  std::size_t steps = 0;
  std::vector<double> weak_lowest_c;  // [run * steps + step]: lowest in the step, run in its bad luck
  std::vector<double> usual_c;        // [run * steps + step]: at the step's beginning, usual loss
  std::vector<double> power_w;        // mean of the step
  double weak_c(std::size_t run, std::size_t step) const { return weak_lowest_c[run * steps + step]; }
};
/// Exact for the straight pieces of the grid. The sensor's run, with its usual loss, is what the thermostat
/// follows: as week::follow has it. week::cable_off_c never heats. Weeks end as they began to 1e-4 K.
Lived live_lumped(const GroupModel& model, std::span<const double> set_points_c, double step_s);

}  // namespace firstdraw::settings
