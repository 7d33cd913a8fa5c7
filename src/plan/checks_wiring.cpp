// Conductors and raceways of circuits, and what carries a panel's load to it.
#include <fmt/format.h>

#include <string>

#include "plan/check_electrical.hpp"
#include "power/wiring.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

using power::Circuit;

/// A breaker too small for its load has no conductors either, but over-80 says so.
void check_conductors(const Review& review, Findings& found) {
  const auto set = review.job.requirements.rules;
  for (const auto& circuit : review.plan.circuits) {
    if (circuit.wiring.trouble.empty() || !circuit.wiring.conductor.empty() || over_load(review, circuit))
      continue;
    found.add("no-conductor", about(circuit, review.job),
              fmt::format("No conductor was found for circuit {} ({} on {:g} A, {} from panel {}): {}.",
                          circuit.id, amperes(circuit.settled_a), circuit.breaker_a,
                          review.show.length(circuit.wiring.one_way_m), panel_of(review, circuit).id,
                          circuit.wiring.trouble),
              "Change what `wiring` of job.toml or the circuit's row in circuits.csv says, or divide the "
              "circuit.",
              rules::circuit_rule(set, "conductor-capacity").citation);
  }
}

/// Not in the international rules: they have no table of raceways.
void check_raceways(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    const auto& wiring = circuit.wiring;
    if (wiring.trouble.empty() || wiring.conductor.empty()) continue;
    found.add(
        "no-raceway", about(circuit, review.job),
        fmt::format("No raceway was found for the {} of circuit {}, {} in one: {}.", wiring.conductor,
                    circuit.id,
                    wiring.circuits_in_conduit == 1 ? std::string("alone")
                                                    : fmt::format("{} circuits", wiring.circuits_in_conduit),
                    wiring.trouble),
        "Draw fewer circuits into one raceway, or choose another kind or insulation.",
        rules::circuit_rule(review.job.requirements.rules, "raceway-fill").citation);
  }
}

/// Of the job only what wiring is found from.
job::Job alone_in_raceway(const job::Job& job) {
  job::Job alone;
  alone.requirements = job.requirements;
  alone.overrides = job.overrides;
  alone.wiring = job.wiring;
  alone.wiring.circuits_together = 1;
  return alone;
}

struct Grouped {
  int circuits = 0;
  const Circuit* first = nullptr;
  std::string alone;  // conductor of the first, without the others
};

std::string grouped_text(const Review& review, const power::PanelLoad& load, const Grouped& grouped) {
  const std::string& now = grouped.first->wiring.conductor;
  return fmt::format(
      "{} circuits drawn together cost {} of {} circuits of panel {} larger conductors: {} {} "
      "where {} would do alone.",
      review.job.wiring.circuits_together, grouped.circuits, load.circuits.size(),
      review.job.panels[at(load.panel)].id, grouped.first->id, now.empty() ? "finds none" : "takes " + now,
      grouped.alone);
}

void check_grouping(const Review& review, Findings& found) {
  if (review.job.wiring.circuits_together <= 1) return;
  const job::Job alone = alone_in_raceway(review.job);
  for (const auto& load : review.plan.panels) {
    Grouped grouped;
    const auto& panel = review.job.panels[at(load.panel)];
    for (const int index : load.circuits) {
      const Circuit& circuit = review.plan.circuits[at(index)];
      const auto wiring = power::wire_branch(
          alone, panel, {circuit.settled_a, circuit.breaker_a, circuit.wiring.one_way_m, panel.line_to_line});
      if (wiring.conductor.empty() || wiring.conductor == circuit.wiring.conductor) continue;
      if (grouped.circuits++ == 0) grouped.first = &circuit, grouped.alone = wiring.conductor;
    }
    if (grouped.circuits == 0) continue;
    found.add("grouping-bites", about(panel), grouped_text(review, load, grouped),
              "Draw fewer circuits into one raceway: compare the cost of raceways and conductors.",
              rules::circuit_rule(review.job.requirements.rules, "grouping-factor").citation);
  }
}

void check_supplies(const Review& review, Findings& found) {
  const auto set = review.job.requirements.rules;
  for (const auto& load : review.plan.panels) {
    const auto& panel = review.job.panels[at(load.panel)];
    if (load.supply.trouble.empty()) continue;
    const double load_a = load.settled_a + panel.other_a;
    if (panel.supply_size.empty())
      found.add("no-supply-conductor", about(panel),
                fmt::format("No conductor was found for the supply of panel {} ({} over {}): {}.", panel.id,
                            amperes(load_a), review.show.length(panel.supply_length_m), load.supply.trouble),
                "Use a second panel, or state the supply that stands with supply_size.",
                rules::circuit_rule(set, "conductor-capacity").citation);
    else
      found.add("supply-small", about(panel),
                fmt::format("The supply of panel {} is {}, which its load of {} does not allow: {}.",
                            panel.id, panel.supply_size, amperes(load_a), load.supply.trouble),
                "Use larger conductors, or take load off the panel.",
                rules::circuit_rule(set, "conductor-capacity").citation);
  }
}

void check_supply_drop(const Review& review, Findings& found) {
  const auto feeder = rule_value(review, "voltage-drop-feeder"),
             total = rule_value(review, "voltage-drop-total");
  for (const auto& load : review.plan.panels) {
    if (load.supply.within_advice || load.supply.conductor.empty()) continue;
    const auto& panel = review.job.panels[at(load.panel)];
    found.add("supply-drop", about(panel),
              fmt::format("The supply of panel {} ({} of {}) loses {}, {} with the wiring of its worst "
                          "circuit; {} and {} are recommended.",
                          panel.id, review.show.length(panel.supply_length_m), load.supply.conductor,
                          percent(load.supply.drop_frac), percent(load.supply.total_drop_frac),
                          percent(feeder.value), percent(total.value)),
              "Use larger conductors, or a panel nearer to its source.", feeder.citation);
  }
}

constexpr PlanCheck checks[] = {check_conductors, check_raceways, check_grouping, check_supplies,
                                check_supply_drop};

}  // namespace

std::span<const PlanCheck> wiring_checks() { return checks; }

}  // namespace firstdraw::plan
