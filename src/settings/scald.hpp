// The hottest water that came out of each tap, and how soon it burns. No medical advice.
#pragma once

#include <span>
#include <vector>

#include "forecast/forecast.hpp"
#include "settings/proof.hpp"

namespace firstdraw::settings {

/// Seconds to a second-degree burn of adult skin, the shorter of the integral of physics/skin_burn.hpp and
/// of published times; infinity where neither knows of one. Children and old people burn sooner.
double second_degree_s(double water_c);

/// rules::burn_times between its temperatures, on the safe side: logarithms of the times fall ever more
/// slowly, so that the straight line from either neighbouring pair lies below them; never below the hotter
/// one's time nor above the straight line between the two. Infinity below the first; the last one's time
/// above the last.
double published_second_degree_s(double water_c);

/// Hottest first, at most twenty; taps at which nothing was drawn are left out. `hottest_c` is like
/// scene.taps.
std::vector<TapScald> scald_list(const job::Job& job, const draw::Scene& scene,
                                 std::span<const double> hottest_c);

}  // namespace firstdraw::settings
