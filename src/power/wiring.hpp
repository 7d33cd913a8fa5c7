// Conductors, earth conductor and raceway from the panel to a power connection, and to the panel itself.
// Rules: rules/conductor_sizing.hpp, rules/conduit.hpp. docs/circuits-rules.md.
#pragma once

#include <string>
#include <vector>

#include "job/job.hpp"
#include "rules/override.hpp"

namespace firstdraw::power {

/// From the panel to the power connection of one circuit.
struct BranchWiring {
  double one_way_m = 0;
  std::string conductor, earth;       // "12 AWG"; empty when nothing will do: `trouble` says why
  double ampacity_a = 0;              // after factors and terminals
  double loop_ohm_per_m = 0;          // both conductors, at the temperature the rules count
  std::string conductor_before_drop;  // what the currents alone ask for
  std::string conduit_kind, conduit, conduit_metric;  // "EMT", "1/2", "16"; empty: none sized
  double fill_frac = 0;
  int circuits_in_conduit = 1;
  std::vector<rules::Reason> reasons;
  std::string trouble;
};

/// What carries the panel's heating load to it. Only where its length is given.
struct PanelSupply {
  std::string conductor, earth;
  double drop_frac = 0;        // at the settled load
  double total_drop_frac = 0;  // with the worst branch circuit's wiring
  bool within_advice = true;
  std::vector<rules::Reason> reasons;
  std::string trouble;
};

struct BranchCase {
  double load_a = 0, device_a = 0;
  double one_way_m = 0;
  bool two_live = false;  // line to line
};
BranchWiring wire_branch(const job::Job& job, const job::Panel& panel, const BranchCase& branch);

struct SupplyCase {
  double load_a = 0;            // fullest phase, heating and other loads
  double branch_drop_frac = 0;  // of the worst branch circuit
};
/// Empty where the panel gives no supply length.
PanelSupply wire_supply(const job::Job& job, const job::Panel& panel, const SupplyCase& supply);

}  // namespace firstdraw::power
