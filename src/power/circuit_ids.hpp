// Names of circuits: those of the building or of an earlier plan stay on the circuits that are recognised.
#pragma once

#include <vector>

#include "power/circuits.hpp"

namespace firstdraw::power {

/// Gives every circuit of `circuits` (in the order of their numbers) its id. A fixed circuit has its own. Of
/// the others the one that shares most metres of cable with a circuit of job.known_circuits takes its id;
/// each is taken once, of equals first the smaller id, then the earlier circuit. What is left gets "C01",
/// "C02" …, never a number that a known circuit holds.
void name_circuits(const job::Job& job, const std::vector<RunCable>& runs, std::vector<Circuit>& circuits);

}  // namespace firstdraw::power
