// The directed tree of runs below the water heater, in dense indices; ids only at the door.
// Survey slips do not stop it: what hangs on the supply becomes the tree, the rest is listed in `problems`.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "job/job.hpp"

namespace firstdraw::piping {

inline constexpr int none = -1;

struct Problem {
  enum class Kind { loop, disconnected, two_feeds, unknown_supply } kind{};
  int run = none;        // index into job.runs
  std::string node;
};

struct Network {
  // Runs, indexed like job.runs.
  std::vector<int> from_node, to_node;
  std::vector<int> upstream_run;               // none at the supply and for runs not reached
  std::vector<bool> reached;                   // hangs on the supply
  std::vector<double> path_length_m;           // from the supply to the run's far end
  std::vector<double> water_volume_m3;
  std::vector<int> order;                      // reached runs, every run after its upstream run
  // Nodes.
  std::vector<std::string> node_ids;
  std::vector<int> first_downstream, downstream;  // runs leaving node n: downstream[first_downstream[n]..first_downstream[n+1])
  std::vector<int> outlets_first, outlets;        // outlets at node n, same layout, indices into job.outlets
  int supply_node = none, mixing_valve_node = none;
  std::vector<bool> below_mixing_valve;        // per run
  std::vector<Problem> problems;

  std::span<const int> downstream_of(int node) const;
  int node(std::string_view id) const;         // none when unknown
};

Network build_network(const job::Job& job);

/// Cable laid on a run: length times passes plus allowances for its fittings.
struct CableAllowance {
  double per_valve_m = 0, per_support_m = 0, per_elbow_m = 0, per_tee_m = 0, per_end_m = 0;
  std::string basis;
};
CableAllowance cable_allowance(double pipe_outer_diameter_m);
double cable_length_m(const job::Run& run, int passes);
/// Metres of pipe the loss is taken over: length plus the equivalent lengths of valves, elbows, tees, supports.
double loss_length_m(const job::Run& run);

}  // namespace firstdraw::piping
