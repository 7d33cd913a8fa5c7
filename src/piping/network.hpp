// The directed tree of runs below the water heater, in dense indices; ids only at the door.
// Survey slips do not stop it: what hangs on the supply becomes the tree, the rest is listed in `problems`.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "job/job.hpp"

namespace firstdraw::piping {

inline constexpr int none = -1;
/// A dense index as a position in a vector; it must not be `none`.
constexpr std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// A slip of the survey.
///   loop: `run` leads back to `node`, which lies upstream of it.
///   two_feeds: `node` already has a feed nearer the supply; `run` is the other one.
///   disconnected: `run`, starting at `node`, and all that hangs together with it have no way to the supply;
///   one problem for each such stretch, naming its first run in the order of the file. unknown_supply: no run
///   leaves the supply's `node`.
struct Problem {
  enum class Kind { loop, disconnected, two_feeds, unknown_supply } kind{};
  int run = none;  // index into job.runs
  std::string node;
};

struct Network {
  // Runs, indexed like job.runs.
  std::vector<int> from_node, to_node;
  std::vector<int> upstream_run;      // none at the supply and for runs not reached
  std::vector<bool> reached;          // part of the tree; a run named by loop or two_feeds is not
  std::vector<double> path_length_m;  // from the supply to the run's far end; NaN when not reached
  std::vector<double> water_volume_m3;
  std::vector<int> order;  // reached runs, every run after its upstream run
  // Nodes.
  std::vector<std::string> node_ids;
  // Reached runs leaving node n, in file order: downstream[first_downstream[n]..first_downstream[n+1]).
  // Following them from any node ends: loops are cut.
  std::vector<int> first_downstream, downstream;
  std::vector<int> outlets_first, outlets;  // outlets at node n, same layout, indices into job.outlets
  int supply_node = none, mixing_valve_node = none;
  std::vector<bool>
      below_mixing_valve;         // per run: water has passed the mixing valve; false when there is none
  std::vector<Problem> problems;  // by kind of search: the supply's tree first, then stray stretches

  std::span<const int> downstream_of(int node) const;
  std::span<const int> outlets_at(int node) const;
  int node(std::string_view id) const;  // none when unknown

  struct IdHash {
    using is_transparent = void;
    std::size_t operator()(std::string_view id) const { return std::hash<std::string_view>{}(id); }
  };
  std::unordered_map<std::string, int, IdHash, std::equal_to<>> node_of_id;
};

/// Breadth first from the supply, runs in file order: of two runs that feed one node, the one fewer runs away
/// from the supply is kept, then the one that stands first in the file. Time and memory grow in proportion to
/// the job.
Network build_network(const job::Job& job);

/// Cable laid on a run: length times passes plus allowances for its fittings.
struct CableAllowance {
  double per_valve_m = 0, per_support_m = 0, per_elbow_m = 0, per_tee_m = 0, per_end_m = 0;
  std::string basis;
};
/// Common practice, no source: a cable maker's own allowances take precedence.
CableAllowance cable_allowance(double pipe_outer_diameter_m);
/// Every pass takes the allowances of the run's fittings; ends and power connections are the circuit's to
/// add.
double cable_length_m(const job::Run& run, int passes);
/// Metres of pipe the loss is taken over: length plus the equivalent lengths of valves (insulated), elbows,
/// tees, supports.
double loss_length_m(const job::Run& run);

}  // namespace firstdraw::piping
