// From the choices to the hold room and back: what every run and group comes to in each of the cases a
// hand-over states.
#pragma once

#include "hold/hold.hpp"
#include "plan/options.hpp"
#include "plan/plan.hpp"

namespace firstdraw::plan {

/// A heated run with its chosen cable and insulation, at the voltage the plan gives it.
hold::HeldRun held_run(const job::Job& job, const RunPlan& planned, int job_run, Sections& sections);

/// What is left of the output at `panel_v` with `voltage_frac` of it. Below its table the sheet is silent;
/// output falls at least as voltage.
double output_left_frac(const physics::HeatingCable& cable, double panel_v, double voltage_frac);

/// Every run with cable; `job_run` of each leads back.
hold::Building building_of(Workshop& shop, const Plan& plan);

/// Fills temperatures, local voltages, duties, uncertainty, warm-up and energy of plan.runs and plan.groups,
/// and what `circuits`, which are laid out and wired, carry at maintain.
void hold_all(Workshop& shop, hold::Building building, std::vector<power::Circuit>& circuits, Plan& plan);

}  // namespace firstdraw::plan
