// Which phase of its panel each circuit loads, and what the panel then carries.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "job/job.hpp"

namespace firstdraw::power {

/// The places a circuit can take in a panel: single phases, or pairs of phases when the cable is fed line to
/// line.
std::vector<std::string> phase_slots(const job::Panel& panel);

/// A slot for each circuit: the heaviest first, each to the slot that carries least so far. Index into
/// phase_slots.
std::vector<int> balance(std::span<const double> settled_a, std::size_t slots);

/// Current in each line from the currents of the slots. Heating cable is resistive: two pairs that share a
/// line of a three-phase panel meet there at 120 degrees, so the line carries sqrt(a^2 + b^2 + a b), which is
/// sqrt(3) a in balance.
std::vector<double> line_currents_a(const job::Panel& panel, std::span<const double> slot_a);

}  // namespace firstdraw::power
