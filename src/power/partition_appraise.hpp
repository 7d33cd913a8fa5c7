// From a division back to circuits and what they cost.
#pragma once

#include "power/partition_site.hpp"

namespace firstdraw::power::partition {

double in_units(Grain cost);

/// The same division, circuits numbered in the order of the pipes.
std::vector<int> in_order(const Site& site, const std::vector<int>& circuit_of_edge);

/// The best feed and breaker for each circuit; changes of feed weigh as in the search.
std::vector<Circuit> appraise(const Site& site, const std::vector<int>& circuit_of_edge);

/// What the difference to the previous layout costs.
double change_cost(const Site& site, const Partition& partition);

}  // namespace firstdraw::power::partition
