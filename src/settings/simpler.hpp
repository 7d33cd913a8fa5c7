// Fewer numbers to key in: entries of a timetable that hardly save anything are taken out of it.
#pragma once

#include <span>

#include "settings/group_model.hpp"
#include "settings/needs.hpp"
#include "settings/timetable.hpp"
#include "week/schedule.hpp"

namespace firstdraw::settings {

/// Dearer by at most this share of the week's cost, all groups and entries together (our choice, no source).
inline constexpr double simpler_most_frac = 0.003;

/// Judged by the lumps: no run may miss more than it does under `timetable`. `prices` by step of the week;
/// `other_load_w` as in week::cost_of.
Timetable simpler(std::span<const GroupModel> models, std::span<const GroupNeeds> needs,
                  const week::Prices& prices, const std::vector<double>& other_load_w, double step_s,
                  const Timetable& timetable);

}  // namespace firstdraw::settings
