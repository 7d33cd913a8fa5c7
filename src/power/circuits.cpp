#include "power/circuits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <string_view>
#include <utility>

#include "power/circuit_cable.hpp"
#include "power/electrical.hpp"
#include "power/phases.hpp"
#include "power/protection.hpp"
#include "power/stretches.hpp"
#include "rules/rules.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

/// Runs that may share a circuit have the same controller (hence panel) and cable.
struct CircuitClass {
  int group = piping::none, panel = piping::none, cable = piping::none;
  CircuitLimits limits;
};

struct Classes {
  std::vector<CircuitClass> all;
  Cutting cutting;
};

template <class Things>
std::map<std::string_view, int> index_by_id(const Things& things) {
  std::map<std::string_view, int> index;
  for (std::size_t i = 0; i < things.size(); ++i) index.emplace(things[i].id, static_cast<int>(i));
  return index;
}

int find_or_none(const std::map<std::string_view, int>& index, std::string_view id) {
  const auto found = index.find(id);
  return found == index.end() ? piping::none : found->second;
}

std::vector<int> panel_of_groups(const job::Job& job) {
  const auto panels = index_by_id(job.panels);
  std::vector<int> panel_of_group;
  for (const auto& group : job.groups) panel_of_group.push_back(find_or_none(panels, group.panel));
  return panel_of_group;
}

Classes classify(const job::Job& job, const std::vector<physics::HeatingCable>& cables,
                 const std::vector<RunCable>& runs) {
  const auto groups = index_by_id(job.groups);
  const auto panels = panel_of_groups(job);
  std::map<std::pair<int, int>, int> known;
  Classes classes;
  for (std::size_t r = 0; r < runs.size(); ++r) {
    classes.cutting.length_m.push_back(runs[r].cable_length_m);
    classes.cutting.class_of_run.push_back(piping::none);
    const int group = find_or_none(groups, job.runs[r].group);
    if (runs[r].cable == piping::none || group == piping::none || panels[at(group)] == piping::none) continue;
    const auto [place, fresh] =
        known.try_emplace({group, runs[r].cable}, static_cast<int>(classes.all.size()));
    classes.cutting.class_of_run.back() = place->second;
    if (!fresh) continue;
    const int panel = panels[at(group)];
    classes.all.push_back(
        {group, panel, runs[r].cable,
         circuit_limits(cables[at(runs[r].cable)], job.panels[at(panel)], job.requirements)});
    classes.cutting.longest_m.push_back(classes.all.back().limits.longest_m());
  }
  return classes;
}

class CircuitMaker {
 public:
  CircuitMaker(const job::Job& job, const piping::Network& network,
               const std::vector<physics::HeatingCable>& cables, const std::vector<RunCable>& runs)
      : job_(job), network_(network), cables_(cables), runs_(runs) {}

  Circuit circuit(const CircuitClass& kind, const std::vector<int>& members) {
    Circuit made;
    made.group = kind.group;
    made.panel = kind.panel;
    made.cable = kind.cable;
    made.runs = members;
    for (const int run : members) made.cable_length_m += runs_[at(run)].cable_length_m;
    connect(made);
    load(made, kind.limits);
    protect(made, kind.limits);
    return made;
  }

 private:
  const job::Panel& panel_of(const Circuit& made) const { return job_.panels[at(made.panel)]; }

  /// Where cables part and end. Also fills stretches_ for the fall of voltage.
  void connect(Circuit& made) {
    std::vector<double> length_m;
    for (const int run : made.runs) length_m.push_back(runs_[at(run)].cable_length_m);
    made.feed_node = network_.from_node[at(made.runs.front())];
    CircuitCable cable = circuit_cable(network_, made.runs, length_m, made.feed_node);
    made.tee_nodes = std::move(cable.tee_nodes);
    made.end_nodes = std::move(cable.end_nodes);
    const double voltage_v = panel_of(made).voltage_v;
    stretches_.clear();
    for (std::size_t i = 0; i < made.runs.size(); ++i) {
      const int run = made.runs[at(cable.run_position[i])];
      stretches_.push_back({cable.stretches[i].parent, cable.stretches[i].length_m,
                            runs_[at(run)].working_w_per_m / voltage_v});
    }
  }

  void protect(Circuit& made, const CircuitLimits& limits) const {
    const job::Panel& panel = panel_of(made);
    const Rating& rating = limits.rating_for(made.cable_length_m);
    made.breaker_a = rating.breaker_a;
    made.max_length_m = std::min(rating.longest_m(), limits.leakage_m);
    made.length_listed = limits.length_listed;
    made.over_length = !fits(made.cable_length_m, made.max_length_m);
    made.over_load = !fits(made.cable_length_m, rating.current_m);
    made.poles = panel.line_to_line ? 2 : 1;
    made.ground_fault = panel.ground_fault;
    if (panel.ground_fault) made.ground_fault_trip_a = rules::ground_fault(job_.requirements.rules).trip_a;
    const auto wires = rules::conductor_for(job_.requirements.rules, rating.breaker_a);
    made.wiring.conductor = wires.phase;
    made.wiring.earth = wires.earth;
    made.feeder_drop_frac = wires.loop_ohm_per_m * panel.feeder_length_m * made.working_a / panel.voltage_v;
  }

  void load(Circuit& made, const CircuitLimits& limits) const {
    const double voltage_v = panel_of(made).voltage_v;
    for (const Stretch& stretch : stretches_) made.working_a += stretch.current_a_per_m * stretch.length_m;
    made.settled_a = limits.settled_a_per_m * made.cable_length_m;
    made.peak_a = limits.peak_a_per_m * made.cable_length_m;
    made.leakage_a = limits.leakage_a_per_m * made.cable_length_m;
    const auto& sheet = cables_[at(made.cable)].sheet();
    const double hot_loop_ohm_per_m =
        copper_resistance_at(sheet.bus_loop_ohm_per_m, std::max(20.0, sheet.max_powered_c));
    made.far_drop_frac = far_drop_v(stretches_, hot_loop_ohm_per_m) / voltage_v;
  }

  const job::Job& job_;
  const piping::Network& network_;
  const std::vector<physics::HeatingCable>& cables_;
  const std::vector<RunCable>& runs_;
  std::vector<Stretch> stretches_;
};

void number(Layout& layout, std::size_t runs) {
  std::stable_sort(layout.circuits.begin(), layout.circuits.end(),
                   [](const Circuit& a, const Circuit& b) { return a.panel < b.panel; });
  const std::size_t digits = std::max<std::size_t>(2, fmt::formatted_size("{}", layout.circuits.size()));
  layout.circuit_of_run.assign(runs, piping::none);
  for (std::size_t c = 0; c < layout.circuits.size(); ++c) {
    layout.circuits[c].id = fmt::format("C{:0{}}", c + 1, digits);
    for (const int run : layout.circuits[c].runs) layout.circuit_of_run[at(run)] = static_cast<int>(c);
  }
}

PanelLoad load_panel(const job::Panel& panel, int index, std::vector<Circuit>& circuits) {
  PanelLoad load;
  load.panel = index;
  std::vector<double> settled_a;
  for (std::size_t c = 0; c < circuits.size(); ++c) {
    if (circuits[c].panel != index) continue;
    load.circuits.push_back(static_cast<int>(c));
    settled_a.push_back(circuits[c].settled_a);
  }
  const auto slots = phase_slots(panel);
  const auto slot_of = balance(settled_a, slots.size());
  std::vector<double> slot_settled_a(slots.size(), 0.0), slot_working_a(slots.size(), 0.0);
  for (std::size_t i = 0; i < load.circuits.size(); ++i) {
    Circuit& circuit = circuits[at(load.circuits[i])];
    circuit.phase = slots[at(slot_of[i])];
    slot_settled_a[at(slot_of[i])] += circuit.settled_a;
    slot_working_a[at(slot_of[i])] += circuit.working_a;
    load.poles += circuit.poles;
    load.working_w += circuit.working_a * panel.voltage_v;
    load.settled_w += circuit.settled_a * panel.voltage_v;
  }
  load.phase_a = line_currents_a(panel, slot_settled_a);
  load.settled_a = *std::max_element(load.phase_a.begin(), load.phase_a.end());
  const auto working_a = line_currents_a(panel, slot_working_a);
  load.working_a = *std::max_element(working_a.begin(), working_a.end());
  return load;
}

}  // namespace

Layout lay_out(const job::Job& job, const piping::Network& network,
               const std::vector<physics::HeatingCable>& cables, const std::vector<RunCable>& runs) {
  const Classes classes = classify(job, cables, runs);
  CircuitMaker maker(job, network, cables, runs);
  Layout layout;
  for (const auto& members : cut_into_stretches(network, classes.cutting))
    layout.circuits.push_back(
        maker.circuit(classes.all[at(classes.cutting.class_of_run[at(members.front())])], members));
  number(layout, runs.size());
  for (std::size_t p = 0; p < job.panels.size(); ++p)
    layout.panels.push_back(load_panel(job.panels[p], static_cast<int>(p), layout.circuits));
  return layout;
}

}  // namespace firstdraw::power
