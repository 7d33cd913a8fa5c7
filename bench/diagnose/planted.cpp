#include "planted.hpp"

#include "plan/decide.hpp"
#include "plan/run_classes.hpp"

namespace firstdraw::bench {
namespace {

using piping::at;
using prove::Cause;
using enum prove::Cause;

int run_by_length(const Building& building, Dice& dice) {
  double all_m = 0;
  for (const auto& circuit : building.plan.circuits)
    for (const int run : circuit.runs) all_m += building.job.runs[at(run)].length_m;
  double left_m = even(dice, 0, all_m);
  for (const auto& circuit : building.plan.circuits)
    for (const int run : circuit.runs)
      if ((left_m -= building.job.runs[at(run)].length_m) <= 0) return run;
  return building.plan.circuits.front().runs.front();
}

bool has_sensor(const Building& building, int group) {
  return building.job.groups[at(group)].kind == job::ControlKind::pipe_sensor &&
         plan::sensor_run_of(building.job, group) != -1;
}

bool has_upstream(const Building& building, int group) {
  for (const auto& circuit : building.plan.circuits)
    if (circuit.group == group)
      for (int run : circuit.runs) {
        while (run != piping::none && building.plan.runs[at(run)].cable != piping::none)
          run = building.plan.network.upstream_run[at(run)];
        if (run != piping::none) return true;
      }
  return false;
}

int other_sheet(const Building& building, int own, Dice& dice) {
  const int count = static_cast<int>(building.job.cables.size());
  if (count < 2) return -1;
  const int step = 1 + static_cast<int>(dice() % static_cast<std::uint64_t>(count - 1));
  return (own + step) % count;
}

bool needs_sensor(Cause cause) {
  return cause == sensor_beside_cable || cause == sensor_upstream || cause == sensor_unplugged ||
         cause == sensor_off_pipe;
}

bool is_contactor(Cause cause) { return cause == contactor_stuck_on || cause == contactor_stuck_off; }

}  // namespace

std::optional<Planted> plant_this(const Building& building, Cause cause, Dice& dice) {
  Planted made;
  made.cause = cause;
  made.run = run_by_length(building, dice);
  made.circuit = building.plan.runs[at(made.run)].circuit;
  const power::Circuit& circuit = building.plan.circuits[at(made.circuit)];
  made.group = circuit.group;
  made.space = plan::index_of(building.job.spaces, building.job.runs[at(made.run)].space);
  const bool open_loop = !has_sensor(building, made.group);
  if (needs_sensor(cause) && open_loop) return std::nullopt;
  if ((cause == wrong_ambient || cause == wrong_cable_entered) && !open_loop) return std::nullopt;
  if (cause == wrong_cable_entered && (made.sheet = other_sheet(building, circuit.cable, dice)) == -1)
    return std::nullopt;
  if (cause == sensor_upstream && !has_upstream(building, made.group)) return std::nullopt;
  const double panel_v = building.job.panels[at(circuit.panel)].voltage_v;
  if (cause == dead_length) {
    const double metres = building.plan.runs[at(made.run)].cable_length_m;
    made.value = way_to(circuit, cable_of(building, circuit), made.run) + even(dice, 0, metres);
  }
  if (cause == wrong_voltage)
    made.value = even(dice, 0, 1) < 0.5 ? (panel_v > 200 ? 120 : 208) : panel_v * even(dice, 0.4, 0.9);
  if (cause == wrong_cable && (made.sheet = other_sheet(building, circuit.cable, dice)) == -1)
    return std::nullopt;
  if (cause == wet_insulation) made.value = even(dice, 2, 7);
  if (cause == wrong_ambient)
    made.value = *building.job.groups[at(made.group)].entered_ambient_c +
                 (even(dice, 0, 1) < 0.5 ? -1 : 1) * even(dice, 6, 20);
  if (cause == ageing_cable) made.value = even(dice, 0.4, 0.85);
  if (cause == colder_air) {
    if (made.space == -1) return std::nullopt;
    made.value = even(dice, 6, 18);
  }
  return made;
}

Planted plant(const Building& building, Dice& dice) {
  for (;;) {
    const auto cause = static_cast<Cause>(dice() % static_cast<std::uint64_t>(none_of_these));
    if (const auto made = plant_this(building, cause, dice)) return *made;
  }
}

std::optional<Planted> plant_beside(const Building& building, const Planted& first, Dice& dice) {
  for (int i = 0; i < 3000; ++i) {
    const auto cause = static_cast<Cause>(1 + dice() % (static_cast<std::uint64_t>(none_of_these) - 1));
    if (cause == first.cause || (needs_sensor(cause) && needs_sensor(first.cause)) ||
        (is_contactor(cause) && is_contactor(first.cause)))
      continue;
    const auto made = plant_this(building, cause, dice);
    if (made && made->circuit == first.circuit) return made;
  }
  return std::nullopt;
}

}  // namespace firstdraw::bench
