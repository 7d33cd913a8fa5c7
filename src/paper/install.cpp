#include "paper/install.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace firstdraw::paper {

const job::Panel* panel_of(const Pack& pack, int panel) {
  return panel < 0 || panel >= std::ssize(pack.job.panels) ? nullptr : &pack.job.panels[piping::at(panel)];
}

std::string breaker_text(const power::Circuit& circuit) {
  return fmt::format("{:.0f} A, {} pole{}", circuit.breaker_a, circuit.poles, circuit.poles == 1 ? "" : "s");
}

std::string positions_text(const power::Circuit& circuit) {
  std::string text;
  if (!circuit.places.empty())
    text =
        fmt::format("position{} {}", circuit.places.size() == 1 ? "" : "s", fmt::join(circuit.places, ", "));
  if (circuit.phase.empty()) return text;
  return text.empty() ? circuit.phase : text + " (" + circuit.phase + ")";
}

std::string phase_name(const job::Panel* panel, int which) {
  if (panel && panel->line_to_line) return which == 0 ? "L1" : "L2";
  return which == 0 ? "L" : "N";
}

std::vector<const power::Circuit*> circuits_of(const plan::Plan& plan, int group) {
  std::vector<const power::Circuit*> circuits;
  for (const power::Circuit& circuit : plan.circuits)
    if (circuit.group == group) circuits.push_back(&circuit);
  return circuits;
}

power::Switching switching_of(const plan::Plan& plan, int group) {
  if (group < std::ssize(plan.switching)) return plan.switching[piping::at(group)];
  power::Switching switching;
  switching.group = group;
  for (int index = 0; index < std::ssize(plan.circuits); ++index) {
    const power::Circuit& circuit = plan.circuits[piping::at(index)];
    if (circuit.group != group) continue;
    switching.circuits.push_back(index);
    switching.panel = circuit.panel;
    switching.poles += circuit.poles;
    switching.pole_a = std::max(switching.pole_a, circuit.settled_a);
  }
  switching.contactor = switching.circuits.size() > 1;
  return switching;
}

}  // namespace firstdraw::paper
