// Makes the design choice for every run class of a job and puts into words what was chosen, what lost and
// why.
#pragma once

#include <vector>

#include "plan/options.hpp"
#include "plan/plan.hpp"
#include "plan/run_classes.hpp"

namespace firstdraw::plan {

struct Decision {
  std::vector<Option> chosen;   // per class
  std::vector<Choice> choices;  // per class
  std::vector<job::Assumption> assumptions;
};

Decision decide(Workshop& shop, const RunClasses& classes);

/// Index into job.runs of the run that carries the group's sensor; none when there is no such run or it is
/// not heated by this group.
int sensor_run_of(const job::Job& job, int group);

/// "heater-8, 2 passes, 1 in".
std::string option_text(const job::Job& job, const Option& option);

}  // namespace firstdraw::plan
