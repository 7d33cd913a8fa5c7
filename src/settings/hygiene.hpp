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

/// Seconds at a temperature that bring so many tenfold reductions by the default, slower set of published
/// D-values (data/legionella_inactivation.csv): free suspension, not biofilm. Infinity where the set counts
/// none.
double hot_hold_s(double log_reductions, double water_c);

}  // namespace firstdraw::settings
