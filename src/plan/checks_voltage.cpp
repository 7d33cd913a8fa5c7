// Voltages of panels and of the far ends of circuits against data sheets, recommendations and what the runs
// need.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "plan/check_electrical.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

using power::Circuit;

rules::Citation voltage_table(const physics::CableSheet& sheet) {
  return {sheet.source, "", "voltage table", "read"};
}
double lowest_listed_v(const physics::CableSheet& sheet) {
  return sheet.voltage.empty() ? sheet.rated_voltage_v : sheet.voltage.front().voltage_v;
}
double highest_listed_v(const physics::CableSheet& sheet) {
  return sheet.voltage.empty() ? sheet.rated_voltage_v : sheet.voltage.back().voltage_v;
}

void check_nominal(const Review& review, const job::Panel& panel, const Review::Traced& traced,
                   Findings& found) {
  if (review.cables[at(traced.planned.cable)].allows_voltage(panel.voltage_v)) return;
  found.add("voltage-not-listed", about(panel),
            fmt::format("Panel {} feeds {} with {}, which its data sheet does not list.", panel.id,
                        traced.cable.name, volts(panel.voltage_v)),
            "Choose a cable for this voltage, or feed it from another panel.", voltage_table(traced.cable));
}

void check_lowest(const Review& review, const job::Panel& panel, const Review::Traced& traced,
                  Findings& found) {
  const auto& cable = review.cables[at(traced.planned.cable)];
  const double low_v = panel.low_frac * panel.voltage_v;
  if (!cable.allows_voltage(panel.voltage_v) || cable.allows_voltage(low_v)) return;
  found.add("voltage-low-not-listed", about(panel),
            fmt::format("Panel {} may fall to {}; the data sheet of {} begins at {}, whose output is then "
                        "taken.",
                        panel.id, volts(low_v), traced.cable.name, volts(lowest_listed_v(traced.cable))),
            "Ask the maker for the output at this voltage and extend the sheet, or correct `lowest`.",
            voltage_table(traced.cable));
}

void check_highest(const Review& review, const job::Panel& panel, const Review::Traced& traced,
                   Findings& found) {
  const auto& cable = review.cables[at(traced.planned.cable)];
  const double high_v = panel.high_frac * panel.voltage_v;
  if (!cable.allows_voltage(panel.voltage_v) || cable.allows_voltage(high_v)) return;
  found.add("voltage-high-not-listed", about(panel),
            fmt::format("Panel {} may rise to {}; the data sheet of {} ends at {}, whose output is then "
                        "taken.",
                        panel.id, volts(high_v), traced.cable.name, volts(highest_listed_v(traced.cable))),
            "Choose a cable listed for this voltage, or correct `highest`.", voltage_table(traced.cable));
}

void check_panel_voltages(const Review& review, Findings& found) {
  std::set<std::pair<int, int>> seen;
  for (const auto& traced : review.traced) {
    const int panel = review.survey.panel_of_group[at(review.survey.group_of_run[at(traced.index)])];
    if (panel == piping::none || !seen.emplace(panel, traced.planned.cable).second) continue;
    const auto& source = review.job.panels[at(panel)];
    check_nominal(review, source, traced, found);
    check_lowest(review, source, traced, found);
    check_highest(review, source, traced, found);
  }
}

void check_steady(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    if (circuit.steady) continue;
    found.add("no-steady-state", about(circuit, review.job),
              fmt::format("No steady voltage was found along the {} of cable of circuit {} at {}.",
                          review.show.length(circuit.cable_length_m), circuit.id,
                          volts(panel_of(review, circuit).voltage_v)),
              "Divide the circuit, or feed it nearer to its middle; none of its voltages and currents may be "
              "used.",
              computed("voltage along the cable, docs/circuits.md"));
  }
}

void check_drop(const Review& review, Findings& found) {
  const auto branch = rule_value(review, "voltage-drop-branch"),
             total = rule_value(review, "voltage-drop-total");
  for (const auto& circuit : review.plan.circuits) {
    if (!circuit.steady) continue;
    const double total_frac = circuit.feeder_drop_frac + circuit.far_drop_frac;
    if (circuit.feeder_drop_frac > branch.value * above)
      found.add("feeder-drop", about(circuit, review.job),
                fmt::format("Circuit {} loses {} in {} of {} wiring; {} is recommended.", circuit.id,
                            percent(circuit.feeder_drop_frac), review.show.length(circuit.wiring.one_way_m),
                            circuit.wiring.conductor, percent(branch.value)),
                "Use the next conductor size, or a panel closer by.", branch.citation);
    else if (total_frac > total.value * above)
      found.add(
          "total-drop", about(circuit, review.job),
          fmt::format("Circuit {} loses {} to its far end ({} in the wiring, {} along the cable); {} is "
                      "recommended.",
                      circuit.id, percent(total_frac), percent(circuit.feeder_drop_frac),
                      percent(circuit.far_drop_frac), percent(total.value)),
          "Feed it nearer to its middle, divide it, or use a larger conductor.", total.citation);
  }
}

/// The far end at the panel's lowest voltage: it falls as the panel's does.
void check_far_listed(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    const auto& panel = panel_of(review, circuit);
    const auto& cable = cable_of(review, circuit);
    const double far_v = panel.low_frac * circuit.far_v;
    if (!circuit.steady || !(circuit.far_v > 0) || !cable.allows_voltage(panel.low_frac * panel.voltage_v) ||
        cable.allows_voltage(far_v))
      continue;
    found.add(
        "far-voltage-not-listed", about(circuit, review.job),
        fmt::format("The far end of circuit {} gets {} of {}, {} when panel {} is at its lowest; the data "
                    "sheet of {} begins at {}.",
                    circuit.id, volts(circuit.far_v), volts(panel.voltage_v), volts(far_v), panel.id,
                    cable.sheet().name, volts(lowest_listed_v(cable.sheet()))),
        "Divide the circuit, feed it nearer to its middle, or use a larger conductor.",
        voltage_table(cable.sheet()));
  }
}

/// Of the runs that hold with the panel's lowest voltage all along, the one that lacks most with what the
/// circuit leaves of it.
int weakest_run(const Review& review, const Circuit& circuit) {
  const auto fails = [&](int run) {
    return !(review.plan.runs[at(run)].spare_frac >= -1e-9) && spare_without_drop_frac(review, run) >= -1e-9;
  };
  int weakest = piping::none;
  for (const int run : circuit.runs)
    if (fails(run) && (weakest == piping::none ||
                       review.plan.runs[at(run)].spare_frac < review.plan.runs[at(weakest)].spare_frac))
      weakest = run;
  return weakest;
}

void check_far_voltage(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    const int run = circuit.steady ? weakest_run(review, circuit) : piping::none;
    if (run == piping::none) continue;
    const auto& planned = review.plan.runs[at(run)];
    const auto& panel = panel_of(review, circuit);
    const double low_v = panel.low_frac * panel.voltage_v;
    found.add("far-voltage", about(circuit, review.job),
              fmt::format(
                  "With panel {} at {} circuit {} leaves {} to run {}, which then gives {} less heat and "
                  "lacks {}; with {} it has {} to spare.",
                  panel.id, volts(low_v), circuit.id, volts(low_v * planned.worst_voltage_frac),
                  review.survey.run(run).id, percent(1 - output_left_frac(review, run)),
                  percent(-planned.spare_frac), volts(low_v), percent(spare_without_drop_frac(review, run))),
              "Divide the circuit, feed it elsewhere, use larger conductors, or give the run more cable or "
              "insulation.",
              computed("voltage along the cable, docs/circuits.md"));
  }
}

constexpr PlanCheck voltages[] = {check_panel_voltages, check_steady, check_drop, check_far_listed,
                                  check_far_voltage};

}  // namespace

std::span<const PlanCheck> voltage_checks() { return voltages; }

}  // namespace firstdraw::plan
