// How far a group's set-points may go, and which runs no set-point helps.
#pragma once

#include "plan/options.hpp"
#include "settings/group_model.hpp"

namespace firstdraw::settings {

/// The plan as the steady room sees it.
struct Steady {
  plan::Workshop& shop;
  const plan::Plan& plan;
  hold::Building building;
};

/// Reading below the high cut-out that a set-point leaves free besides half the differential (our choice, no
/// source): the least that keeps a sensor's 1 K from tripping it.
inline constexpr double cutout_margin_k = 2;

/// Sets least_settable_c, most_settable_c, most_because and hopeless; runs and sensor must be there.
void set_limits(Steady& steady, GroupModel& model);

/// Lowest limit of pipe, insulation and powered cable of a job run, with what it belongs to.
struct MaterialLimit {
  double water_c = 0;
  std::string of;
};
MaterialLimit material_limit(const job::Job& job, const plan::Plan& plan, int job_run);
/// How far the water swings above a set-point: half a thermostat's differential, K.
double swing_k(const job::ControlGroup& group);

}  // namespace firstdraw::settings
