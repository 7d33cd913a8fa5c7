// A job's runs divided into circuits at least cost: from the job to power/partition.hpp and back.
// docs/circuits.md, docs/circuits-layout.md.
#pragma once

#include <vector>

#include "power/circuit_kinds.hpp"
#include "power/circuits.hpp"

namespace firstdraw::power {

struct DividedCircuit {
  int kind = piping::none;       // index into kinds
  std::vector<int> runs;         // upstream first, indices into job.runs
  int feed_node = piping::none;  // of the network
  double breaker_a = 0;
  double cable_length_m = 0;
};

struct DividedJob {
  std::vector<CircuitKind> kinds;
  std::vector<DividedCircuit> circuits;  // by panel, then along the pipes
  Division division;
};

/// Prices are job.economics'. Where it has none at all the circuits are as few as can be, and cost nothing.
/// Pins and fixed circuits that cannot be kept are left out, each with a sentence in division.conflicts.
/// Circuits of the job that are not fixed are stayed close to as far as economics.change_cost asks for.
DividedJob divide_job(const job::Job& job, const piping::Network& network,
                      const std::vector<physics::HeatingCable>& cables, const std::vector<RunCable>& runs);

}  // namespace firstdraw::power
