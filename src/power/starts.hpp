// Starts of laid-out circuits from the coldest pipe: the course of the current, what the breaker makes of it,
// and one circuit after another where the panel asks for it. docs/circuits-start.md.
#pragma once

#include <span>
#include <vector>

#include "power/circuits.hpp"
#include "power/cold_start.hpp"
#include "power/starts_course.hpp"

namespace firstdraw::power {

/// For every circuit of `layout` fills `start`, for every panel the start sequence. `parts`: like circuits,
/// one part for each of its runs. `courses`: of the layout's cables. The sequence keeps the fullest phase
/// within panel.start_limit_a, or within its main where that is given and all at once would pass it; else all
/// start at once. Where the sheet has no start currents to fit a model to, the course is the sheet's peak for
/// 300 s and its settled current after, which is never below the truth.
void judge_starts(const job::Job& job, StartCourses& courses, std::span<const std::vector<CircuitPart>> parts,
                  Layout& layout);

}  // namespace firstdraw::power
