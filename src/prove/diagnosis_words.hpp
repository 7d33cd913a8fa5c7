// What a diagnosis says: sentences with figures in the job's units.
#pragma once

#include <string>

#include "prove/proposals.hpp"

namespace firstdraw::prove {

std::string value_text(const job::Job& job, Cause cause, double value);
std::string said_of(const job::Job& job, const Suspect& suspect);
std::string to_do_for(const Suspect& suspect);
/// "feel for both sides of …": where and how, with its caution.
Proposal proposal_of(const Scope& scope, const Posterior& known, const Measure& measure);

}  // namespace firstdraw::prove
