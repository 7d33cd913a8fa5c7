// The circuits of a building: which runs share one, where it is connected, on which breaker, how it is wired
// and what its panel then carries. Division is power/partition.hpp's; docs/circuits.md.
//
// Three steps, because the wiring decides what voltage arrives, the voltage what the runs hold, and that what
// the circuit draws: lay_out, then local voltages coupled with room hold (power/local_voltage.hpp), then
// starts (power/starts.hpp).
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "job/job.hpp"
#include "physics/heating_cable.hpp"
#include "piping/network.hpp"
#include "power/wiring.hpp"
#include "rules/breaker_trip.hpp"

namespace firstdraw::power {

/// What the layout needs to know of each run: dense, like job.runs.
struct RunCable {
  int cable = piping::none;  // index into cables; none: untraced
  int passes = 1;
  double cable_length_m = 0;   // with allowances
  double working_w_per_m = 0;  // cable output while on at the maintain temperature, nominal voltage
};

/// What the data sheet and the standard say of a start from the coldest pipe.
struct StartVerdict {
  rules::TripCheck check;
  bool modelled = false;      // the course comes from the fitted model; false: from the sheet's two points
  double model_off_frac = 0;  // worst misfit of that model against the sheet
  double inrush_over_s = 0;   // NaN when not within the course
  std::vector<rules::LoadPoint> course;  // at the panel's nominal voltage
  double delay_s = 0;                    // in the panel's start sequence
  std::string decides;                   // one sentence: the promise that decides, and the sheet's own length
};

struct Circuit {
  std::string id;  // "C01"; kept from circuits.csv for a circuit that is recognised there
  int group = piping::none, panel = piping::none, cable = piping::none;
  std::vector<int> runs;         // upstream first, indices into job.runs
  int feed_node = piping::none;  // power connection: any node of the circuit
  std::vector<int> tee_nodes;  // one entry for each tee kit: a node where three cables leave is listed twice
  std::vector<int> end_nodes;  // one for each end seal; always one more than the tees
  bool fixed = false;          // as circuits.csv demands
  double cable_length_m = 0;
  double max_length_m = 0;    // for this breaker: the data sheet's, or less by current or standing leakage
  bool length_listed = true;  // the data sheet has lengths for this voltage and start temperature
  double breaker_a = 0;
  int poles = 1;
  std::string phase;        // where it sits in the panel: "L1", "L1-L2"
  std::vector<int> places;  // pole positions in the panel, from 1: power/panel_places.hpp
  bool ground_fault = true;
  double ground_fault_trip_a = 0;
  double settled_a = 0;      // 300 s after a start at the coldest pipe, by the data sheet
  double peak_a = 0;         // at that start
  double leakage_a = 0;      // standing, capacitive: see standing_leakage_a in power/electrical.hpp
  bool over_length = false;  // one run alone is longer than any breaker allows
  bool over_load = false;    // no listed rating carries it
  BranchWiring wiring;

  // At what the runs hold at maintain, panel at nominal voltage, from the exact ladder.
  double working_a = 0, working_w = 0;  // drawn from the panel while on
  double feed_v = 0, far_v = 0;         // at the power connection and at the lowest end
  int far_node = piping::none;          // that end
  std::vector<double> end_v;            // like end_nodes
  std::vector<double> voltage_frac;     // like runs; see CircuitVoltage
  double far_drop_frac = 0;             // along the cable, of the panel's voltage
  double feeder_drop_frac = 0;          // in the wiring, of the panel's voltage
  bool steady = true;                   // false: no steady state was found, nothing of this may be used

  StartVerdict start;
};

/// How a group is switched: the controller itself, or a contactor with one pole for each of its breakers'.
struct Switching {
  int group = piping::none, panel = piping::none;
  std::vector<int> circuits;
  bool contactor = false;
  int poles = 0;
  double pole_a = 0;      // what each pole must carry, resistive (utilization category AC-1)
  double contacts_a = 0;  // of the controller, 0: not given
};

struct PanelLoad {
  int panel = piping::none;
  std::vector<int> circuits;
  int poles = 0;
  double working_a = 0, settled_a = 0;  // per phase, largest
  std::vector<double> phase_a;          // settled, by phase
  double working_w = 0, settled_w = 0;
  double least_main_a = 0;  // what the continuous load asks of the main, other loads of the panel included
  PanelSupply supply{};

  // One circuit after another, from the coldest pipe.
  double together_peak_a = 0;  // all at once, fullest phase
  double peak_a = 0;           // in the sequence
  double start_limit_a = 0;  // what the sequence had to stay within, panel.other_a taken off; 0: none asked,
                             // all at once
  bool within_limit = true, proven = true;
  double bound_a = 0;            // no sequence has a lower peak
  double piece_s = 0;            // of line_a
  std::vector<double> line_a{};  // fullest phase, in each piece
};

/// What the division came to: power/partition.hpp.
struct Division {
  double cost = 0, change_cost = 0, lower_bound = 0;
  bool exact = true;
  std::vector<std::string> conflicts;  // pins and fixed circuits that cannot be kept and are left out, panels
                                       // that stand on no pipe: one sentence each
};

struct Layout {
  std::vector<Circuit> circuits;
  std::vector<PanelLoad> panels;     // like job.panels
  std::vector<Switching> switching;  // like job.groups
  std::vector<int> circuit_of_run;   // like job.runs; none when untraced
  Division division;
};

/// The sums of layout.panels (poles, currents, powers, least main) again from the circuits and the places
/// they have, after these have changed. Supply and starts stay as they are.
void add_up_panels(const job::Job& job, Layout& layout);

/// Divides, protects, wires and places the circuits, and adds up the panels from the data sheet's currents.
/// Circuits are numbered by panel and by position in the piping; those recognised in job.known_circuits keep
/// their id. Runs that do not hang on the supply, have no cable, no group or no panel get no circuit:
/// findings say so. The order of rows changes nothing but that of equals.
Layout lay_out(const job::Job& job, const piping::Network& network,
               const std::vector<physics::HeatingCable>& cables, const std::vector<RunCable>& runs);

}  // namespace firstdraw::power
