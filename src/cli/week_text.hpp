// The week of a job on the terminal, for the technician who keys it in: one function per section.
#pragma once

#include <string>
#include <vector>

#include "cli/page.hpp"
#include "plan/plan.hpp"
#include "settings/settings.hpp"

namespace firstdraw::cli {

struct WeekView {
  std::vector<std::string> sections;  // of week_sections(), in the order to show
  int worst = 10;                     // runs and taps to list
  bool all = false;                   // every one of them
  int width = 80;                     // of the terminal
};

/// Names a user can give to --show, in the usual order.
const std::vector<std::string>& week_sections();
/// Those that are shown when nothing was asked for.
std::vector<std::string> usual_week_sections();

/// The sections, then what to mind: hygiene, scalding. Without a week: why there is none, and the findings.
void add_week_answer(Page& page, const job::Job& job, const settings::WeekAnswer& week, const WeekView& view);

}  // namespace firstdraw::cli
