// Programs shared by some days only: from a schedule that keeps the rules to a cheaper one, by trying every
// change of one stretch of one program on the settled cycle. Part of optimise.cpp.
#pragma once

#include "week/schedule.hpp"

namespace firstdraw::week {

/// `other_load_w` by step. Never dearer than what was given.
Trajectory improved(const GroupTask& task, const Days& days, const Prices& prices,
                    const std::vector<double>& other_load_w, Trajectory run);

}  // namespace firstdraw::week
