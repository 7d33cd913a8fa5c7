// What a breaker makes of one circuit's start.
#pragma once

#include "power/circuits.hpp"
#include "power/starts_course.hpp"

namespace firstdraw::power {

/// Fills circuit.start but for the delay. Straight lines of `start.course` are nowhere below the pieces, so
/// that what is said to be held is held; a breaker is said to trip only where the current is surely as large.
void judge_start(const job::Job& job, const StartPieces& pieces, std::span<const double> edges_s,
                 const SheetModel& model, Circuit& circuit);

}  // namespace firstdraw::power
