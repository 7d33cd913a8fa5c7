// From the choices to the hold room and back: what every run and group comes to in each of the cases a
// hand-over states.
#pragma once

#include "hold/hold.hpp"
#include "plan/decide.hpp"
#include "plan/options.hpp"
#include "plan/plan.hpp"

namespace firstdraw::plan {

/// Every heated run with its chosen cable and insulation; `job_run` of each leads back.
hold::Building building_of(Workshop& shop, const RunClasses& classes, const Decision& decision);

/// Fills temperatures, duties, uncertainty, warm-up and energy of plan.runs and plan.groups.
void hold_all(Workshop& shop, const hold::Building& building, Plan& plan);

}  // namespace firstdraw::plan
