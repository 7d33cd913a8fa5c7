// The answer of `firstdraw diagnose`: what may be wrong, and what to measure next.
#pragma once

#include "cli/page.hpp"
#include "job/job.hpp"
#include "prove/diagnosis.hpp"

namespace firstdraw::cli {

/// In the job's units. `all`: every cause, not only those that count.
void add_answer(Page& page, const prove::Diagnosis& diagnosis, bool all);

}  // namespace firstdraw::cli
