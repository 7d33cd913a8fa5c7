// How the circuits of each control group are switched.
#pragma once

#include <vector>

#include "power/circuits.hpp"

namespace firstdraw::power {

/// Like job.groups. The controller's own contacts switch a group of one circuit when they may carry its
/// settled current as a continuous load (rule "continuous-load": 1.25 times by NEC 427.4 and 210.20(A) in the
/// us rules); else a contactor does, with a pole for each breaker pole. Each pole must carry what the largest
/// breaker of the group lets through (common practice, no source), as AC-1: IEC 60947-4-1, slightly inductive
/// or resistive loads (from memory).
std::vector<Switching> switch_groups(const job::Job& job, const std::vector<Circuit>& circuits);

}  // namespace firstdraw::power
