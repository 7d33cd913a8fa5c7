// A plan on the terminal: one function per section, so that a user can ask for the sections they need.
#pragma once

#include <string>
#include <vector>

#include "cli/page.hpp"
#include "job/job.hpp"
#include "plan/plan.hpp"

namespace firstdraw::cli {

struct PlanView {
  std::vector<std::string> sections;  // of plan_sections(), in the order to show
  int coldest = 10;                   // runs to list
  bool all = false;                   // every run in the order of the job, and every rejected option
};

/// Names a user can give to --show, in the usual order.
const std::vector<std::string>& plan_sections();
/// Those that are shown when nothing was asked for.
std::vector<std::string> usual_plan_sections();

void add_plan(Page& page, const job::Job& job, const plan::Plan& plan, const PlanView& view);

}  // namespace firstdraw::cli
