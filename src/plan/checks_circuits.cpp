// Circuits and their breakers against data sheet and rules: load, length, leakage.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "plan/check_electrical.hpp"
#include "rules/conductor_tables.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

using power::Circuit;

void check_has_circuit(const Review& review, Findings& found) {
  for (const auto& traced : review.traced)
    if (traced.planned.circuit == piping::none && review.survey.network.reached[at(traced.index)])
      found.add("no-circuit", about(traced.run),
                fmt::format("Run {} has a cable but no circuit.", traced.run.id), "Give its group a panel.",
                computed("layout of circuits"));
}

void check_load(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    if (!over_load(review, circuit)) continue;
    found.add("over-80", about(circuit, review.job),
              fmt::format("Circuit {} takes {} continuously; {} breaker of {:g} A may carry {}.", circuit.id,
                          amperes(circuit.settled_a), circuit.fixed ? "its given" : "a", circuit.breaker_a,
                          amperes(allowed_a(review, circuit))),
              circuit.fixed ? "Give it a breaker that its data sheet allows and its load needs, or divide it."
                            : "Divide it, or use a weaker cable.",
              rule_value(review, "continuous-load").citation);
  }
}

double leakage_budget_a(const Review& review) {
  return rule_value(review, "ground-fault-trip").value * rule_value(review, "standing-leakage").value;
}
bool over_leakage(const Review& review, const Circuit& circuit) {
  return circuit.leakage_a > leakage_budget_a(review) * above;
}

/// The sheet lists lengths, but none behind this breaker; a sheet without any is held to 20 A by the layout.
bool beyond_sheet(const Review& review, const Circuit& circuit) {
  constexpr double largest_unlisted_a = 20;
  if (!circuit.length_listed) return circuit.breaker_a > largest_unlisted_a * above;
  return circuit.fixed && !listed_length_m(review, circuit);
}

void check_breaker_of_sheet(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    if (!beyond_sheet(review, circuit)) continue;
    const auto& sheet = sheet_of(review, circuit);
    found.add("breaker-beyond-sheet", about(circuit, review.job),
              fmt::format(
                  "Circuit {} stands on a breaker of {:g} A; the data sheet of {} lists no circuit on it at "
                  "{}.",
                  circuit.id, circuit.breaker_a, sheet.name, volts(panel_of(review, circuit).voltage_v)),
              "Use a breaker that the data sheet lists, or ask the maker in writing.",
              {sheet.source, "", "longest circuit", "read"});
  }
}

void check_rating(const Review& review, Findings& found) {
  const auto set = review.job.requirements.rules;
  for (const auto& circuit : review.plan.circuits) {
    if (!circuit.fixed || !(circuit.breaker_a > 0)) continue;
    const bool shared = set == rules::RuleSet::us && circuit.runs.size() > 1;
    const auto ratings = rules::standard_ratings_a(set, shared);
    if (std::ranges::find(ratings, circuit.breaker_a) != ratings.end()) continue;
    found.add("breaker-not-standard", about(circuit, review.job),
              fmt::format("Circuit {} stands on a breaker of {:g} A, which is no standard rating{}.",
                          circuit.id, circuit.breaker_a, shared ? " of a circuit with several heaters" : ""),
              "Correct the rating in circuits.csv, or change the breaker.",
              rules::circuit_rule(set, shared ? "shared-rating" : "standard-rating").citation);
  }
}

/// Too long by the sheet, or by what no other finding says.
bool too_long(const Review& review, const Circuit& circuit) {
  if (!circuit.over_length || beyond_sheet(review, circuit)) return false;
  const auto listed_m = listed_length_m(review, circuit);
  if (listed_m && circuit.cable_length_m > *listed_m * above) return true;
  return !over_load(review, circuit) && !over_leakage(review, circuit);
}

void check_length(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    if (!too_long(review, circuit)) continue;
    found.add(
        "over-length", about(circuit, review.job),
        fmt::format("Circuit {} has {} of cable; on a breaker of {:g} A at {} it may have {}.", circuit.id,
                    review.show.length(circuit.cable_length_m), circuit.breaker_a,
                    volts(panel_of(review, circuit).voltage_v), review.show.length(circuit.max_length_m)),
        circuit.fixed ? std::string("Divide the circuit, or put it on a breaker that allows the length.")
                      : fmt::format("Enter run {} as two runs so that each can be fed, or use a cable that "
                                    "allows the length.",
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
  constexpr double milli = 1000;
  for (const auto& circuit : review.plan.circuits) {
    if (!over_leakage(review, circuit)) continue;
    found.add(
        "leakage-budget", about(circuit, review.job),
        fmt::format("Circuit {} leaks {:.1f} mA standing; {:.1f} mA are budgeted for a trip of {:g} mA.",
                    circuit.id, milli * circuit.leakage_a, milli * leakage_budget_a(review),
                    milli * rule_value(review, "ground-fault-trip").value),
        "Divide the circuit.", rule_value(review, "standing-leakage").citation);
  }
}

constexpr PlanCheck circuits[] = {check_has_circuit, check_load,   check_breaker_of_sheet,
                                  check_rating,      check_length, check_length_listed,
                                  check_leakage};

}  // namespace

std::span<const PlanCheck> circuit_checks() { return circuits; }

}  // namespace firstdraw::plan
