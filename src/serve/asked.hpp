// In which units, and with how many samples, a plan is asked for.
#pragma once

#include "serve/jobs.hpp"
#include "serve/route.hpp"

namespace firstdraw::serve {

/// From `units` and `samples` of the address; what is left out is as the job has it, without samples.
Maybe<Asked> asked_of(const Call& call);

}  // namespace firstdraw::serve
