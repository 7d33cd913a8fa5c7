// What the job's hygiene guideline asks of the water in the pipes.
#pragma once

#include <limits>

#include "job/job.hpp"
#include "rules/holding.hpp"
#include "rules/rules.hpp"

namespace firstdraw::settings {

struct Guideline {
  rules::HygieneGuideline document;
  rules::Holding holding;
  double distributed_c = -std::numeric_limits<double>::infinity();  // -infinity: it gives none
};
Guideline guideline_of(const job::Job& job);

}  // namespace firstdraw::settings
