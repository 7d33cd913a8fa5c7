// The bill of materials: what to have on site, with the rule or allowance behind every quantity.
#pragma once

#include <vector>

#include "plan/plan.hpp"

namespace firstdraw::plan {

/// Needs runs, groups and circuits of the plan. Lengths in the job's units, rounded up.
std::vector<MaterialLine> bill_of_materials(const job::Job& job, const Plan& plan);

}  // namespace firstdraw::plan
