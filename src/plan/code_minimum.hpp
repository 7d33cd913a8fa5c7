// The energy code's least insulation thickness for a run, asked with the conductivity at the mean temperature
// at which the code rates it.
#pragma once

#include <optional>
#include <string_view>

#include "job/job.hpp"
#include "physics/insulation.hpp"
#include "rules/rules.hpp"

namespace firstdraw::plan {

/// None when the code is silent for this pipe, insulation and water.
std::optional<rules::MinimumThickness> code_minimum(std::string_view code, const job::Run& run,
                                                    const physics::Insulation& insulation, double water_c);

}  // namespace firstdraw::plan
