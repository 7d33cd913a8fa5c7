#include "power/circuits.hpp"

#include <algorithm>
#include <utility>

#include "power/circuit_cable.hpp"
#include "power/circuit_ids.hpp"
#include "power/division.hpp"
#include "power/panel_loads.hpp"
#include "power/pipe_walk.hpp"
#include "power/switching.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

class CircuitMaker {
 public:
  CircuitMaker(const job::Job& job, const piping::Network& network, const std::vector<RunCable>& runs)
      : job_(job), network_(network), runs_(runs) {
    for (const job::Panel& panel : job.panels)
      feeder_m_of_panel_.push_back(feeder_lengths_m(job, network, panel));
  }

  Circuit circuit(const CircuitKind& kind, const DividedCircuit& divided) const {
    Circuit made;
    made.group = kind.group;
    made.panel = kind.panel;
    made.cable = kind.cable;
    made.runs = divided.runs;
    made.feed_node = divided.feed_node;
    made.cable_length_m = divided.cable_length_m;
    made.breaker_a = divided.breaker_a;
    made.fixed = kind.fixed != piping::none;
    if (made.fixed) made.id = job_.known_circuits[at(kind.fixed)].id;
    connect(made);
    load(made, kind.limits);
    protect(made, kind.limits);
    wire(made);
    return made;
  }

 private:
  const job::Panel& panel_of(const Circuit& made) const { return job_.panels[at(made.panel)]; }

  /// Where cables part and end.
  void connect(Circuit& made) const {
    std::vector<double> length_m;
    for (const int run : made.runs) length_m.push_back(runs_[at(run)].cable_length_m);
    CircuitCable cable = circuit_cable(network_, made.runs, length_m, made.feed_node);
    made.tee_nodes = std::move(cable.tee_nodes);
    made.end_nodes = std::move(cable.end_nodes);
  }

  void load(Circuit& made, const CircuitLimits& limits) const {
    for (const int run : made.runs)
      made.working_w += runs_[at(run)].working_w_per_m * runs_[at(run)].cable_length_m;
    made.working_a = made.working_w / panel_of(made).voltage_v;
    made.settled_a = limits.settled_a_per_m * made.cable_length_m;
    made.peak_a = limits.peak_a_per_m * made.cable_length_m;
    made.leakage_a = limits.leakage_a_per_m * made.cable_length_m;
  }

  void protect(Circuit& made, const CircuitLimits& limits) const {
    const Rating& rating = limits.rating_on(made.breaker_a);
    made.max_length_m = std::min(rating.longest_m(), limits.leakage_m);
    made.length_listed = limits.length_listed;
    made.over_length = !fits(made.cable_length_m, made.max_length_m);
    made.over_load = !fits(made.cable_length_m, rating.current_m);
    made.poles = panel_of(made).line_to_line ? 2 : 1;
    made.ground_fault = panel_of(made).ground_fault;
    if (made.ground_fault) made.ground_fault_trip_a = limits.trip_a;
  }

  void wire(Circuit& made) const {
    const job::Panel& panel = panel_of(made);
    made.wiring = wire_branch(job_, panel,
                              {.load_a = made.settled_a,
                               .device_a = made.breaker_a,
                               .one_way_m = feeder_m_of_panel_[at(made.panel)][at(made.feed_node)],
                               .two_live = panel.line_to_line});
  }

  const job::Job& job_;
  const piping::Network& network_;
  const std::vector<RunCable>& runs_;
  std::vector<std::vector<double>> feeder_m_of_panel_;  // by node of the network
};

std::vector<int> circuit_of_run(std::size_t runs, const std::vector<Circuit>& circuits) {
  std::vector<int> of_run(runs, piping::none);
  for (std::size_t c = 0; c < circuits.size(); ++c)
    for (const int run : circuits[c].runs) of_run[at(run)] = static_cast<int>(c);
  return of_run;
}

}  // namespace

Layout lay_out(const job::Job& job, const piping::Network& network,
               const std::vector<physics::HeatingCable>& cables, const std::vector<RunCable>& runs) {
  DividedJob divided = divide_job(job, network, cables, runs);
  const CircuitMaker maker(job, network, runs);
  Layout layout;
  layout.division = std::move(divided.division);
  for (const DividedCircuit& circuit : divided.circuits)
    layout.circuits.push_back(maker.circuit(divided.kinds[at(circuit.kind)], circuit));
  name_circuits(job, runs, layout.circuits);
  layout.circuit_of_run = circuit_of_run(runs.size(), layout.circuits);
  place_in_panels(job, layout);
  layout.switching = switch_groups(job, layout.circuits);
  return layout;
}

}  // namespace firstdraw::power
