// For the tests of drawings: an invented panel with as many circuits as asked for.
#pragma once

#include <string>

#include "plan/plan.hpp"
#include "power/panel_places.hpp"

namespace firstdraw::paper {

struct TestPanel {
  job::Job job;
  plan::Plan plan;
};

struct TestPanelCase {
  int circuits = 3;
  bool line_to_line = true;
  std::string panel_id = "P1", panel_name = "Heating", prefix = "C", node_prefix = "N";
  rules::RuleSet rules = rules::RuleSet::us;
  int free_poles = 0;
};

inline power::Circuit test_circuit(const TestPanelCase& of, int index) {
  power::Circuit circuit;
  circuit.id = of.prefix + (index < 9 ? "0" : "") + std::to_string(index + 1);
  circuit.group = index % 2;
  circuit.panel = circuit.cable = 0;
  circuit.feed_node = circuit.far_node = index;
  circuit.end_nodes = {index};
  circuit.cable_length_m = 30;
  circuit.max_length_m = 55;
  circuit.breaker_a = 20;
  circuit.poles = of.line_to_line ? 2 : 1;
  const int slot = index % 3;
  circuit.phase = !of.line_to_line ? std::string(slot == 0   ? "L1"
                                                 : slot == 1 ? "L2"
                                                             : "L3")
                                   : std::string(slot == 0   ? "L1-L2"
                                                 : slot == 1 ? "L2-L3"
                                                             : "L3-L1");
  circuit.ground_fault_trip_a = 0.03;
  circuit.settled_a = 12;
  circuit.peak_a = 25;
  circuit.wiring.one_way_m = 18;
  circuit.wiring.conductor = "12 AWG";
  circuit.wiring.earth = "12 AWG";
  circuit.wiring.conduit_kind = "EMT";
  circuit.wiring.conduit = "1/2";
  return circuit;
}

inline TestPanel test_panel(const TestPanelCase& of) {
  TestPanel made;
  job::Panel panel;
  panel.id = of.panel_id;
  panel.name = of.panel_name;
  panel.voltage_v = 208;
  panel.line_to_line = of.line_to_line;
  panel.free_poles = of.free_poles;
  made.job.panels = {panel};
  made.job.requirements.rules = of.rules;
  made.job.units = units::System::metric;
  for (const char* id : {"main", "guest"}) {
    job::ControlGroup group;
    group.id = id;
    group.panel = of.panel_id;
    group.sensor_run = "R1";
    made.job.groups.push_back(group);
  }
  made.job.cables.emplace_back();
  made.job.cables.front().id = made.job.cables.front().name = "LT-12";
  power::PanelLoad load;
  load.panel = 0;
  std::vector<std::string> phases;
  for (int index = 0; index < of.circuits; ++index) {
    made.plan.network.node_ids.push_back(of.node_prefix + std::to_string(index));
    made.plan.circuits.push_back(test_circuit(of, index));
    load.circuits.push_back(index);
    phases.push_back(made.plan.circuits.back().phase);
  }
  const auto places = power::panel_places(panel, phases);
  for (std::size_t index = 0; index < places.size(); ++index)
    made.plan.circuits[index].places = places[index];
  load.phase_a = {10, 10, 10};
  made.plan.panels = {load};
  return made;
}

}  // namespace firstdraw::paper
