#include "settings/guideline.hpp"

#include <cmath>
#include <stdexcept>

namespace firstdraw::settings {

Guideline guideline_of(const job::Job& job) {
  const auto found = rules::find_guideline(job.requirements.guideline);
  if (!found) throw std::logic_error(found.error());
  Guideline guideline{*found, rules::holding(job.requirements.guideline)};
  if (!std::isnan(found->distributed_c)) guideline.distributed_c = found->distributed_c;
  return guideline;
}

}  // namespace firstdraw::settings
