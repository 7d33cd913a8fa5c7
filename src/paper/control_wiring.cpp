// The control wiring of a group as a table: from, to, conductor, circuit. Terminal names are generic.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "paper/install.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
constexpr int contactor_poles = 4;  // of one contactor as numbered here; others do as well
constexpr const char* control_conductor = "control wire";

/// Pole pairs 1-2, 3-4 …; a circuit is never split over two contactors.
class Poles {
 public:
  std::string take(int poles) {
    if (used_ % contactor_poles + poles > contactor_poles) used_ += contactor_poles - used_ % contactor_poles;
    std::string text = fmt::format("K{}", used_ / contactor_poles + 1);
    for (int pole = 0; pole < poles; ++pole, ++used_) {
      const int first = 2 * (used_ % contactor_poles) + 1;
      text += fmt::format("{} {}–{}", pole ? "," : "", first, first + 1);
    }
    return text;
  }

 private:
  int used_ = 0;
};

struct Wires {
  std::string from, to, conductor, circuit, mind;
};

void add(Table& table, Wires wires) {
  table.rows.push_back({Row::Kind::plain,
                        {std::move(wires.from), std::move(wires.to), std::move(wires.conductor),
                         std::move(wires.circuit), std::move(wires.mind)}});
}

std::string conductor_of(const power::Circuit& circuit) {
  if (circuit.wiring.conductor.empty()) return "see Findings";
  return unbroken(circuit.wiring.conductor) +
         (circuit.wiring.earth.empty() ? "" : ", earth " + unbroken(circuit.wiring.earth));
}

std::string live_wires(const job::Panel* panel, const power::Circuit& circuit) {
  if (!circuit.phase.empty()) return circuit.phase;
  return circuit.poles == 2 ? phase_name(panel, 0) + "-" + phase_name(panel, 1) : phase_name(panel, 0);
}

std::string breaker_of(const job::Panel* panel, const power::Circuit& circuit) {
  std::string text = "Breaker " + circuit.id + " " + live_wires(panel, circuit);
  if (!circuit.places.empty()) text += fmt::format(" (place {})", fmt::join(circuit.places, "+"));
  return unbroken(text);
}

// A single pole leaves the other wire on the neutral, which nothing switches.
std::string other_wires(const job::Panel* panel) {
  return panel && !panel->line_to_line ? "N and earth run through unswitched"
                                       : "earth runs through unswitched";
}

void by_contactor(Table& table, const Pack& pack, const power::Switching& switching) {
  const job::Panel* panel = panel_of(pack, switching.panel);
  const std::string live = phase_name(panel, 0) + ", " + phase_name(panel, 1);
  add(table, {"Control breaker in the panel", "Controller LINE " + live + ", PE", control_conductor,
              "control", "As its label says. Earth first."});
  add(table, {fmt::format("Controller LOAD {}′, {}′", phase_name(panel, 0), phase_name(panel, 1)),
              "Coils A1, A2", control_conductor, "control", "All coils side by side."});
  Poles poles;
  for (const int index : switching.circuits) {
    const power::Circuit& circuit = pack.plan.circuits[at(index)];
    add(table, {breaker_of(panel, circuit),
                fmt::format("{}; connection at {}", poles.take(circuit.poles),
                            node_name(pack.plan, circuit.feed_node)),
                conductor_of(circuit), circuit.id, ""});
  }
}

void by_controller(Table& table, const Pack& pack, const power::Switching& switching) {
  const job::Panel* panel = panel_of(pack, switching.panel);
  const std::string first = phase_name(panel, 0), second = phase_name(panel, 1);
  for (const int index : switching.circuits) {
    const power::Circuit& circuit = pack.plan.circuits[at(index)];
    add(table, {breaker_of(panel, circuit), fmt::format("Controller LINE {}, {}, PE", first, second),
                conductor_of(circuit), circuit.id, "Earth first."});
    add(table,
        {fmt::format("Controller LOAD {}′, {}′, PE", first, second),
         "Power connection at " + node_name(pack.plan, circuit.feed_node), conductor_of(circuit), circuit.id,
         switching.contacts_a > 0
             ? fmt::format("Contacts {} A; the circuit draws {} A.", count(switching.contacts_a, 0),
                           count(switching.pole_a, 1))
             : fmt::format("Contacts for at least {} A, resistive.", count(switching.pole_a, 1))});
  }
}

void signals(Table& table, const job::ControlGroup& group) {
  if (group.kind == job::ControlKind::pipe_sensor)
    add(table, {"Controller SENSOR S1, S2, SH", "Sensor on run " + group.sensor_run, "shielded pair",
                "signal", "Shield earthed at SH only."});
  add(table,
      {"Controller ALARM COM, NO", "Building alarm input, dry", "signal cable", "signal", "Force an alarm."});
  add(table,
      {"Controller BMS A / B", "Building bus, if any", "bus cable", "signal", "Address: settings sheet."});
}

std::string rating_text(const Pack& pack, const power::Switching& switching) {
  if (!switching.contactor) return "The controller's own contacts switch the circuit";
  return fmt::format(
      "Contactor: {} poles in all, each for at least {} A, category AC-1 (resistive); numbered as "
      "contactors of {} poles; {}",
      switching.poles, count(switching.pole_a, 1), contactor_poles,
      other_wires(panel_of(pack, switching.panel)));
}

}  // namespace

Table control_wiring(const Pack& pack, int group) {
  Table table;
  table.columns = {{"From", ""}, {"To", ""}, {"Conductor", ""}, {"Circuit", ""}, {"Mind", ""}};
  table.size_pt = 6.8;
  table.pad_y_mm = 0.35;
  const power::Switching switching = switching_of(pack.plan, group);
  table.rows.push_back({Row::Kind::group, {rating_text(pack, switching)}});
  if (switching.contactor)
    by_contactor(table, pack, switching);
  else
    by_controller(table, pack, switching);
  signals(table, pack.job.groups[at(group)]);
  return table;
}

}  // namespace firstdraw::paper
