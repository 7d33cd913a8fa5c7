// Circuits and panels against their breakers, data sheets and recommendations.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

#include "plan/check_context.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

using power::Circuit;

constexpr double above = 1 + 1e-6;  // rounding apart

const job::Panel& panel_of(const Review& review, const Circuit& circuit) {
  return review.job.panels[at(circuit.panel)];
}
const physics::CableSheet& sheet_of(const Review& review, const Circuit& circuit) {
  return review.job.cables[at(circuit.cable)];
}

void check_has_circuit(const Review& review, Findings& found) {
  for (const auto& traced : review.traced)
    if (traced.planned.circuit == piping::none && review.survey.network.reached[at(traced.index)])
      found.add("no-circuit", about(traced.run),
                fmt::format("Run {} has a cable but no circuit.", traced.run.id), "Give its group a panel.",
                {"Firstdraw", "", "layout of circuits", "computed"});
}

void check_voltage(const Review& review, Findings& found) {
  std::set<std::pair<int, int>> seen;
  for (const auto& traced : review.traced) {
    const int panel = review.survey.panel_of_group[at(review.survey.group_of_run[at(traced.index)])];
    if (panel == piping::none || !seen.emplace(panel, traced.planned.cable).second) continue;
    const auto& source = review.job.panels[at(panel)];
    if (review.cables[at(traced.planned.cable)].allows_voltage(source.voltage_v)) continue;
    found.add("voltage-not-listed", about(source),
              fmt::format("Panel {} feeds {} with {}, which its data sheet does not list.", source.id,
                          traced.cable.name, volts(source.voltage_v)),
              "Choose a cable for this voltage, or feed it from another panel.",
              {traced.cable.source, "", "voltage table", "read"});
  }
}

void check_load(const Review& review, Findings& found) {
  const auto continuous = rules::continuous_load(review.job.requirements.rules);
  for (const auto& circuit : review.plan.circuits) {
    const double allowed_a = continuous.max_frac * circuit.breaker_a;
    if (!(circuit.settled_a > allowed_a * above)) continue;
    found.add("over-80", about(circuit, review.job),
              fmt::format("Circuit {} takes {} continuously; a breaker of {:.0f} A may carry {}.", circuit.id,
                          amperes(circuit.settled_a), circuit.breaker_a, amperes(allowed_a)),
              "Divide it, or use a weaker cable.", continuous.citation);
  }
}

void check_length(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    if (!circuit.over_length) continue;
    found.add(
        "over-length", about(circuit, review.job),
        fmt::format("Circuit {} has {} of cable; on a breaker of {:.0f} A at {} it may have {}.", circuit.id,
                    review.show.length(circuit.cable_length_m), circuit.breaker_a,
                    volts(panel_of(review, circuit).voltage_v), review.show.length(circuit.max_length_m)),
        fmt::format(
            "Enter run {} as two runs so that each can be fed, or use a cable that allows the length.",
            review.survey.run(circuit.runs.front()).id),
        {sheet_of(review, circuit).source, "", "longest circuit", "read"});
  }
}

void check_length_listed(const Review& review, Findings& found) {
  std::set<std::pair<int, int>> seen;
  for (const auto& circuit : review.plan.circuits) {
    if (circuit.length_listed || !seen.emplace(circuit.cable, circuit.panel).second) continue;
    const auto& sheet = sheet_of(review, circuit);
    found.add("length-not-listed", about(sheet),
              fmt::format("The data sheet of {} lists no circuit length at {} for a start at {}.", sheet.name,
                          volts(panel_of(review, circuit).voltage_v),
                          review.show.temperature(review.job.requirements.start_c)),
              "Add the maker's lengths to the sheet; current and leakage alone limit its circuits now.",
              {sheet.source, "", "longest circuit", "read"});
  }
}

void check_leakage(const Review& review, Findings& found) {
  const auto protection = rules::ground_fault(review.job.requirements.rules);
  const double budget_a = protection.trip_a * protection.standing_leakage_max_frac;
  for (const auto& circuit : review.plan.circuits) {
    if (!(circuit.leakage_a > budget_a * above)) continue;
    found.add(
        "leakage-budget", about(circuit, review.job),
        fmt::format("Circuit {} leaks {:.1f} mA standing; {:.1f} mA are budgeted for a trip of {:.0f} mA.",
                    circuit.id, 1000 * circuit.leakage_a, 1000 * budget_a, 1000 * protection.trip_a),
        "Divide the circuit.", protection.citation);
  }
}

void check_drop(const Review& review, Findings& found) {
  const auto advice = rules::voltage_drop(review.job.requirements.rules);
  for (const auto& circuit : review.plan.circuits) {
    const double total_frac = circuit.feeder_drop_frac + circuit.far_drop_frac;
    if (circuit.feeder_drop_frac > advice.branch_frac * above)
      found.add("feeder-drop", about(circuit, review.job),
                fmt::format("Circuit {} loses {} in {} of {} feeder; {} is recommended.", circuit.id,
                            percent(circuit.feeder_drop_frac),
                            review.show.length(panel_of(review, circuit).feeder_length_m),
                            circuit.wiring.conductor, percent(advice.branch_frac)),
                "Use the next conductor size, or a panel closer by.", advice.citation);
    else if (total_frac > advice.total_frac * above)
      found.add("total-drop", about(circuit, review.job),
                fmt::format("Circuit {} loses {} to its far end ({} in the feeder, up to {} along the "
                            "cable); {} is recommended.",
                            circuit.id, percent(total_frac), percent(circuit.feeder_drop_frac),
                            percent(circuit.far_drop_frac), percent(advice.total_frac)),
                "Feed it nearer to its middle, divide it, or use a larger conductor.", advice.citation);
  }
}

/// Share of its output that the far end lacks against the worst case, which takes the panel's lowest voltage
/// all along.
double far_shortage_frac(const Review& review, const Circuit& circuit) {
  const auto& panel = panel_of(review, circuit);
  const auto& cable = review.cables[at(circuit.cable)];
  const double low_v = panel.low_frac * panel.voltage_v;
  const double by_sheet =
      1 - cable.voltage_factor(low_v * (1 - circuit.far_drop_frac)) / cable.voltage_factor(low_v);
  return std::max(
      by_sheet,
      circuit.far_drop_frac);  // below its table the sheet is silent; output falls at least as voltage
}

void check_far_voltage(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    const double shortage = far_shortage_frac(review, circuit);
    const int weakest = *std::ranges::min_element(
        circuit.runs, {}, [&](int run) { return review.plan.runs[at(run)].spare_frac; });
    const double spare = review.plan.runs[at(weakest)].spare_frac;
    if (!(spare >= 0) || (1 + spare) * (1 - shortage) >= 1) continue;  // below 0 the run itself says so
    const auto& panel = panel_of(review, circuit);
    found.add(
        "far-voltage", about(circuit, review.job),
        fmt::format("At the panel's lowest voltage the far end of circuit {} gets {:.0f} V instead of {:.0f} "
                    "V and up "
                    "to {} less heat; run {} on it has {} to spare in the worst case.",
                    circuit.id, panel.low_frac * panel.voltage_v * (1 - circuit.far_drop_frac),
                    panel.low_frac * panel.voltage_v, percent(shortage), review.survey.run(weakest).id,
                    percent(spare)),
        fmt::format(
            "Divide the circuit, feed it elsewhere, or lower `lowest` of panel {} so that the design allows "
            "for it.",
            panel.id),
        {"Firstdraw", "", "fall of voltage along the cable, docs/circuits.md", "computed"});
  }
}

constexpr PlanCheck circuits[] = {check_has_circuit,   check_voltage, check_load, check_length,
                                  check_length_listed, check_leakage, check_drop, check_far_voltage};

void check_main(const Review& review, Findings& found) {
  const auto continuous = rules::continuous_load(review.job.requirements.rules);
  for (const auto& load : review.plan.panels) {
    const auto& panel = review.job.panels[at(load.panel)];
    if (panel.main_a > 0 && load.settled_a > continuous.max_frac * panel.main_a * above)
      found.add("panel-overload", about(panel),
                fmt::format("Panel {} carries {} of heating cable on its fullest phase after a cold start; "
                            "its main of {:.0f} A "
                            "may carry {} continuously, other loads included.",
                            panel.id, amperes(load.settled_a), panel.main_a,
                            amperes(continuous.max_frac * panel.main_a)),
                "Start the groups one after another, or use a second panel or a larger main.",
                continuous.citation);
    if (panel.free_poles > 0 && load.poles > panel.free_poles)
      found.add("panel-poles", about(panel),
                fmt::format("The {} circuits of panel {} need {} poles; {} are free.", load.circuits.size(),
                            panel.id, load.poles, panel.free_poles),
                "Add a panel.", {"Firstdraw", "", "panel schedule", "computed"});
  }
}

void check_phases(const Review& review, Findings& found) {
  constexpr double usual = 0.25, little_a = 5;
  for (const auto& load : review.plan.panels) {
    if (load.phase_a.size() < 3 || load.circuits.size() < 3) continue;
    const auto [least, most] = std::ranges::minmax(load.phase_a);
    if (most - least <= std::max(usual * most, little_a)) continue;
    const auto& panel = review.job.panels[at(load.panel)];
    found.add("phase-imbalance", about(panel),
              fmt::format("Panel {} carries {}, {} and {} on its phases.", panel.id, amperes(load.phase_a[0]),
                          amperes(load.phase_a[1]), amperes(load.phase_a[2])),
              "Even it out with the other loads of the panel.");
  }
}

/// What the standard makes every breaker hold, as multiples of its rating.
struct Holding {
  double at_once = 1, after_300_s = 1;
  rules::Citation citation;
};
Holding holding(rules::RuleSet rules) {
  if (rules == rules::RuleSet::us)
    return {1.0,
            1.0,
            {"UL 489", "", "100 % calibration: holds its rating, nothing is promised above",
             "read in a secondary source"}};
  return {2.55, 1.13, {"IEC 60898-1", "", "Table 7, tests a and c", "read in a secondary source"}};
}

void check_cold_start(const Review& review, Findings& found) {
  const Holding holds = holding(review.job.requirements.rules);
  for (const auto& load : review.plan.panels) {
    const Circuit* worst = nullptr;
    std::size_t count = 0;
    for (const int index : load.circuits) {
      const Circuit& circuit = review.plan.circuits[at(index)];
      if (circuit.peak_a <= holds.at_once * circuit.breaker_a * above &&
          circuit.settled_a <= holds.after_300_s * circuit.breaker_a * above)
        continue;
      ++count;
      if (!worst || circuit.peak_a / circuit.breaker_a > worst->peak_a / worst->breaker_a) worst = &circuit;
    }
    if (!worst) continue;
    const auto& panel = review.job.panels[at(load.panel)];
    found.add("start-not-assured", about(panel),
              fmt::format("{} of {} circuits of panel {} start above what the standard makes every breaker "
                          "hold; most so {}, "
                          "with {} from {} on {:.0f} A: not assured by the standard.",
                          count, load.circuits.size(), panel.id, worst->id, amperes(worst->peak_a),
                          review.show.temperature(review.job.requirements.start_c), worst->breaker_a),
              "Compare the data sheet's start current with the breaker maker's time-current curve.",
              holds.citation);
  }
}

constexpr PlanCheck panels[] = {check_main, check_phases, check_cold_start};

}  // namespace

std::span<const PlanCheck> circuit_checks() { return circuits; }
std::span<const PlanCheck> panel_checks() { return panels; }

}  // namespace firstdraw::plan
