// Cuts the traced piping into connected stretches that one circuit can carry.
// A plain greedy division for tests and benches to compare with: the program divides by power/division.hpp.
#pragma once

#include <span>
#include <vector>

#include "piping/network.hpp"

namespace firstdraw::power {

/// What may share a circuit: runs of the same class (cable, group and panel) that meet. `longest_m` is
/// indexed by class.
struct Cutting {
  std::vector<int> class_of_run;  // like job.runs; none: not laid out
  std::vector<double> length_m;   // cable on each run, like job.runs
  std::vector<double> longest_m;  // of one circuit, by class
};

/// Runs of each stretch, upstream first; the stretches stand in the order of their first run. From the ends
/// of the tree upwards: at each node the lightest branches stay with the run that feeds them, the heaviest
/// are cut off; cut branches that leave the same node share a circuit while they fit. Cutting the heaviest
/// first gives the fewest connected parts (S. Kundu and J. Misra, A linear tree partitioning algorithm, SIAM
/// J. Comput. 6(1), 1977, from memory). A run longer than allowed alone is a stretch of its own.
std::vector<std::vector<int>> cut_into_stretches(const piping::Network& network, const Cutting& cutting);

}  // namespace firstdraw::power
