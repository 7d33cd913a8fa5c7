// First layout of circuits: connected stretches of the same cable, group and panel, each within what its
// breaker and data sheet allow. Greedy from the leaves; claims no optimum. Local voltage is bounded on the
// safe side: current per metre is taken as independent of voltage (exact for exponent 1, an upper bound on
// drop above it).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "job/job.hpp"
#include "physics/heating_cable.hpp"
#include "piping/network.hpp"

namespace firstdraw::power {

/// What the layout needs to know of each run: dense, like job.runs.
struct RunCable {
  int cable = piping::none;  // index into cables; none: untraced
  int passes = 1;
  double cable_length_m = 0;   // with allowances
  double working_w_per_m = 0;  // cable output while on at the maintain temperature, nominal voltage
};

struct Circuit {
  std::string id;  // "C01"
  int group = piping::none, panel = piping::none, cable = piping::none;
  std::vector<int> runs;         // upstream first, indices into job.runs
  int feed_node = piping::none;  // power connection
  std::vector<int> tee_nodes;  // one entry for each tee kit: a node where three cables leave is listed twice
  std::vector<int> end_nodes;  // one for each end seal; always one more than the tees
  double cable_length_m = 0;
  double max_length_m = 0;    // for this breaker: the data sheet's, or less by current or standing leakage
  bool length_listed = true;  // the data sheet has lengths for this voltage and start temperature
  double breaker_a = 0;
  int poles = 1;
  std::string phase;  // where it sits in the panel: "L1", "L1-L2"
  bool ground_fault = true;
  double ground_fault_trip_a = 0;
  double working_a = 0;      // on, at maintain, nominal voltage
  double settled_a = 0;      // 300 s after a start at the coldest pipe
  double peak_a = 0;         // at that start
  double leakage_a = 0;      // standing, capacitive: see standing_leakage_a in power/electrical.hpp
  double far_drop_frac = 0;  // largest drop along the cable, bound, at working current
  double feeder_drop_frac = 0;
  std::string conductor, earth;
  bool over_length = false;  // one run alone is longer than any breaker allows
  bool over_load = false;    // no listed rating carries it
};

struct PanelLoad {
  int panel = piping::none;
  std::vector<int> circuits;
  int poles = 0;
  double working_a = 0, settled_a = 0;  // per phase, largest
  std::vector<double> phase_a;          // settled, by phase
  double working_w = 0, settled_w = 0;
};

struct Layout {
  std::vector<Circuit> circuits;
  std::vector<PanelLoad> panels;    // like job.panels
  std::vector<int> circuit_of_run;  // like job.runs; none when untraced
};

/// Circuits are numbered by panel and by position in the piping. Runs that do not hang on the supply, have no
/// cable, no group or no panel get no circuit: findings say so. Time grows as n log n.
Layout lay_out(const job::Job& job, const piping::Network& network,
               const std::vector<physics::HeatingCable>& cables, const std::vector<RunCable>& runs);

}  // namespace firstdraw::power
