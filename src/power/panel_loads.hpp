// What each panel carries of a layout, and where its circuits sit in it.
#pragma once

#include "power/circuits.hpp"

namespace firstdraw::power {

/// Gives every circuit its phase and places, and every panel of the job its load and supply. Phases: the
/// heaviest settled current first, each to the phase or pair that carries least (power/phases.hpp).
void place_in_panels(const job::Job& job, Layout& layout);

}  // namespace firstdraw::power
