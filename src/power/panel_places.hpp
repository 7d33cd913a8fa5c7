// Which pole positions of its panel each circuit takes.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "job/job.hpp"

namespace firstdraw::power {

/// Positions count from 1, odd ones on the left and even ones on the right, phases in turn down each side
/// (common practice, no source): position p sits on phase ((p - 1)/2) mod phases. A circuit on "L2" or
/// "L2-L3" takes the first free positions, one below the other, that sit on its phases. `phases`: like the
/// circuits, as `Circuit::phase`.
std::vector<std::vector<int>> panel_places(const job::Panel& panel, std::span<const std::string> phases);

/// Phase index of a position.
int phase_of_place(const job::Panel& panel, int place);

}  // namespace firstdraw::power
