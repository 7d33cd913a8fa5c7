// Whether the proof keeps what was asked: the one judgement that terminal, JSON and pack share.
#pragma once

#include <optional>

#include "job/job.hpp"
#include "settings/proof.hpp"

namespace firstdraw::settings {

/// Over all members the share was reached, as finding week-comfort-missed has it; empty: no draw lasted so
/// long.
std::optional<bool> kept(const ComfortAnswer& answer);
/// As many members as the job's confidence asks for held what is asked of the run.
bool kept(const job::Job& job, const RunProof& run);
/// No hotter than the rules allow, or a safe-outlet valve stands before it; empty: the rules name no limit.
std::optional<bool> kept(const TapScald& tap);

}  // namespace firstdraw::settings
