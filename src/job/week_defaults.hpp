// What a week of settings takes for granted where job.toml has no section about it.
#pragma once

#include <vector>

#include "job/job.hpp"

namespace firstdraw::job {

/// The defaults of [controller] and [week] where these say nothing but what is usual, left out by the lists
/// of a job that asks for no week. Those that the job lists already are not given again.
std::vector<Assumption> week_defaults(const Job& job);

}  // namespace firstdraw::job
