// Data sheets of the invented maker, computed from the two-parameter cable model.
#pragma once

#include <vector>

#include "physics/heating_cable.hpp"

namespace firstdraw::bench {

/// Low, medium and high output for 208 V, by rising id.
std::vector<physics::CableSheet> generate_cables();

}  // namespace firstdraw::bench
