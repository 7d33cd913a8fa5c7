// What a week of settings shows to be wrong.
#pragma once

#include <vector>

#include "settings/settings.hpp"

namespace firstdraw::settings {

/// With the job's acceptances, sorted. `week.findings` itself is not read.
std::vector<plan::Finding> week_findings(const job::Job& job, const plan::Plan& plan,
                                         const std::vector<GroupModel>& models, const WeekAnswer& week);

}  // namespace firstdraw::settings
