// The load calculation an inspector reads: every figure of panels and circuits with how it came about and the
// clause it rests on.
#pragma once

#include "plan/plan.hpp"

namespace firstdraw::plan {

/// Reads circuits, panels and switching of a plan. By panel, its own lines first, then circuit by circuit.
std::vector<LoadLine> load_sheet(const job::Job& job, const Plan& plan);

}  // namespace firstdraw::plan
