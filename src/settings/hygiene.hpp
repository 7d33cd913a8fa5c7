// What hygiene and skin ask of a group: temperatures held, longest stays below them, the weekly hot hold, and
// how hot the pipes may be.
#pragma once

#include "settings/comfort.hpp"

namespace firstdraw::settings {

/// Sets always_c, below_c and most_below_s.
void ask_hygiene(const NeedsTask& task, GroupNeeds& needs);

/// Sets most_c: materials, and outlets without a safe-outlet valve.
void limit_heat(const NeedsTask& task, const GroupModel& model, GroupNeeds& needs);

/// Sets hot_hold, or hot_hold_refused, when one was asked for.
void ask_hot_hold(const NeedsTask& task, const GroupModel& model, GroupNeeds& needs);

/// Seconds at a temperature that bring so many tenfold reductions in free suspension (not in biofilm), by the
/// slowest of the published D-values that reach to it (data/legionella_inactivation.csv): the default set,
/// Sanden's below about 53 degC, Stout's above 70 degC. Nothing is continued beyond what was published; above
/// the hottest point its time holds. Infinity below the coldest.
double hot_hold_s(double log_reductions, double water_c);

}  // namespace firstdraw::settings
