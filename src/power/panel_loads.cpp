#include "power/panel_loads.hpp"

#include <algorithm>

#include "power/panel_places.hpp"
#include "power/phases.hpp"
#include "power/wiring.hpp"
#include "rules/override.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

double largest(const std::vector<double>& values) { return *std::ranges::max_element(values); }

void place(const job::Panel& panel, const PanelLoad& load, std::vector<Circuit>& circuits) {
  std::vector<double> settled_a;
  for (const int c : load.circuits) settled_a.push_back(circuits[at(c)].settled_a);
  const auto slots = phase_slots(panel);
  const auto slot_of = balance(settled_a, slots.size());
  std::vector<std::string> phases;
  for (const int slot : slot_of) phases.push_back(slots[at(slot)]);
  const auto places = panel_places(panel, phases);
  for (std::size_t i = 0; i < load.circuits.size(); ++i) {
    circuits[at(load.circuits[i])].phase = phases[i];
    circuits[at(load.circuits[i])].places = places[i];
  }
}

void add_up(const job::Panel& panel, double continuous, const std::vector<Circuit>& circuits,
            PanelLoad& load) {
  const auto slots = phase_slots(panel);
  std::vector<double> settled_a(slots.size(), 0.0), working_a(slots.size(), 0.0);
  load.poles = 0;
  load.working_w = load.settled_w = 0;
  for (const int c : load.circuits) {
    const Circuit& circuit = circuits[at(c)];
    const auto slot = static_cast<std::size_t>(std::ranges::find(slots, circuit.phase) - slots.begin());
    settled_a.at(slot) += circuit.settled_a;
    working_a.at(slot) += circuit.working_a;
    load.poles += circuit.poles;
    load.working_w += circuit.working_w;
    load.settled_w += circuit.settled_a * panel.voltage_v;
  }
  load.phase_a = line_currents_a(panel, settled_a);
  load.settled_a = largest(load.phase_a);
  load.working_a = largest(line_currents_a(panel, working_a));
  load.least_main_a = continuous * load.settled_a + panel.other_a;
}

PanelSupply supply_of(const job::Job& job, const job::Panel& panel, const PanelLoad& load,
                      const std::vector<Circuit>& circuits) {
  SupplyCase supply{.load_a = load.settled_a + panel.other_a, .branch_drop_frac = 0};
  if (!(supply.load_a > 0)) return {};
  for (const int c : load.circuits) {
    const Circuit& circuit = circuits[at(c)];
    const double drop_v = circuit.wiring.loop_ohm_per_m * circuit.wiring.one_way_m * circuit.settled_a;
    supply.branch_drop_frac = std::max(supply.branch_drop_frac, drop_v / panel.voltage_v);
  }
  return wire_supply(job, panel, supply);
}

}  // namespace

void add_up_panels(const job::Job& job, Layout& layout) {
  const auto overrides = job::overrides_of(job);
  const double continuous = rules::Ruling(job.requirements.rules, overrides).value("continuous-load");
  for (PanelLoad& load : layout.panels) add_up(job.panels[at(load.panel)], continuous, layout.circuits, load);
}

void place_in_panels(const job::Job& job, Layout& layout) {
  layout.panels.assign(job.panels.size(), {});
  for (std::size_t p = 0; p < job.panels.size(); ++p) layout.panels[p].panel = static_cast<int>(p);
  for (std::size_t c = 0; c < layout.circuits.size(); ++c)
    layout.panels[at(layout.circuits[c].panel)].circuits.push_back(static_cast<int>(c));
  for (const PanelLoad& load : layout.panels) place(job.panels[at(load.panel)], load, layout.circuits);
  add_up_panels(job, layout);
  for (PanelLoad& load : layout.panels)
    load.supply = supply_of(job, job.panels[at(load.panel)], load, layout.circuits);
}

}  // namespace firstdraw::power
