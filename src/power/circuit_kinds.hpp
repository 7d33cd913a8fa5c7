// What may share a circuit: runs of one control group (hence panel) and cable, of one level or space where
// the group wants it, and the circuits that must stay as they are, each of a kind of its own.
#pragma once

#include <string>
#include <vector>

#include "power/circuits.hpp"
#include "power/protection.hpp"

namespace firstdraw::power {

struct CircuitKind {
  int group = piping::none, panel = piping::none, cable = piping::none;
  std::string part;          // level or space id; empty where the group's circuits may go anywhere
  int fixed = piping::none;  // index into job.known_circuits
  CircuitLimits limits;
};

struct CircuitKinds {
  std::vector<CircuitKind> all;
  std::vector<int> of_run;             // like job.runs; none: no circuit
  std::vector<std::string> conflicts;  // fixed circuits that cannot stay, one sentence each
};

/// A run has a kind when it hangs on the supply and has a cable, a known group and a known panel. A fixed
/// circuit is kept when all its runs have a kind, the same group and cable, meet, and its feed is on it.
CircuitKinds circuit_kinds(const job::Job& job, const piping::Network& network,
                           const std::vector<physics::HeatingCable>& cables,
                           const std::vector<RunCable>& runs);

/// Why the run has no kind: "R7 is not traced".
std::string why_no_circuit(const job::Job& job, const piping::Network& network,
                           const std::vector<RunCable>& runs, int run);
/// Why the second run is of another kind than the first: "R7 has another cable".
std::string why_unlike(const job::Job& job, const CircuitKinds& kinds, int first, int second);

}  // namespace firstdraw::power
