// What comes before an outlet: the untraced pipe, and the hottest water that can stand or flow there.
#pragma once

#include <string>
#include <vector>

#include "plan/check_context.hpp"

namespace firstdraw::plan {

struct OutletWater {
  int node = piping::none;  // none: the outlet's node is on no run
  bool reached = false;
  int traced_run = piping::none;  // the nearest upstream
  double untraced_m = 0;          // runout and untraced runs up to it
  double untraced_m3 = 0;
  double hottest_c = 0;  // supplied or maintained, whichever is hotter
};

/// For every outlet of the job.
std::vector<OutletWater> water_at_outlets(const Survey& survey);

/// "second-degree burns in 17 s" for water of this temperature, from the nearest published temperature below;
/// empty when it is cooler than all of them.
std::string burn_caution(double water_c);

}  // namespace firstdraw::plan
