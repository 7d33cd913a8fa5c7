// The control settings sheet: per group, in the order a technician keys them in, then what to read on the
// first day.
#pragma once

#include <vector>

#include "plan/plan.hpp"

namespace firstdraw::plan {

std::vector<Setting> settings_sheet(const job::Job& job, const Plan& plan);

}  // namespace firstdraw::plan
