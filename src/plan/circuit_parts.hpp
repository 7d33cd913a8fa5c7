// What each run of a circuit gives the model of a start: heat, loss and air of its pipe.
#pragma once

#include <vector>

#include "plan/plan.hpp"
#include "power/cold_start.hpp"

namespace firstdraw::plan {

/// Like circuit.runs. Heat and loss as in the plan's warm-up, at the maintain temperature, per metre of
/// heated pipe.
std::vector<power::CircuitPart> circuit_parts(const job::Job& job, const Plan& plan,
                                              const power::Circuit& circuit);

}  // namespace firstdraw::plan
