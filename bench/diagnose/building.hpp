// The planned buildings that are visited, and their cables as the plan lays them.
#pragma once

#include <cstdint>

#include "job/job.hpp"
#include "plan/plan.hpp"
#include "power/circuit_cable.hpp"

namespace firstdraw::bench {

struct Building {
  job::Job job;
  plan::Plan plan;
};
/// One of the kinds of building, by number: two examples and generated ones; some controlled without sensor.
Building building_of(int number, std::uint64_t seed);

power::CircuitCable cable_of(const Building& building, const power::Circuit& circuit);
/// Metres from the feed to the near end of the run along the circuit's way.
double way_to(const power::Circuit& circuit, const power::CircuitCable& cable, int run);

}  // namespace firstdraw::bench
