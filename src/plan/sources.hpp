// Every document the plan leans on, once, in order: codes, physics, and the sources of pipes, insulation and
// cable used.
#pragma once

#include <vector>

#include "plan/plan.hpp"

namespace firstdraw::plan {

/// Needs runs and findings of the plan.
std::vector<rules::Citation> sources_of(const job::Job& job, const Plan& plan);

}  // namespace firstdraw::plan
