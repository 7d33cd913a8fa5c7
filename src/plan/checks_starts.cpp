// Starts from the coldest pipe: what the breakers make of them, and one circuit after another.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "plan/check_electrical.hpp"
#include "rules/breaker_trip.hpp"

namespace firstdraw::plan {

namespace {

using piping::at;

using power::Circuit;
using rules::TripVerdict;

/// "45 s", "20 min".
std::string duration(double time_s) {
  constexpr double minute_s = 60, in_seconds_up_to_s = 180;
  return time_s <= in_seconds_up_to_s ? fmt::format("{:.3g} s", time_s)
                                      : fmt::format("{:.0f} min", time_s / minute_s);
}

/// Of the point that decides; else of what the standard makes a breaker hold.
rules::Citation trip_citation(const Review& review, const Circuit& circuit) {
  if (circuit.start.check.point) return circuit.start.check.point->citation;
  const auto types = rules::breaker_types();
  if (std::ranges::find(types, review.job.wiring.breaker) == types.end() || !(circuit.breaker_a > 0))
    return common_practice();
  for (const auto& point : rules::trip_points(review.job.wiring.breaker, circuit.breaker_a))
    if (point.promise == rules::TripPromise::hold) return point.citation;
  return common_practice();
}

double start_a(const Circuit& circuit) { return circuit.start.check.worst_multiple * circuit.breaker_a; }

void check_trips(const Review& review, Findings& found) {
  for (const auto& circuit : review.plan.circuits) {
    if (circuit.start.check.verdict != TripVerdict::must_trip) continue;
    found.add("start-trips", about(circuit, review.job),
              fmt::format("Circuit {} draws up to {} from {} on a breaker of {:g} A: the standard makes it "
                          "trip within {}.",
                          circuit.id, amperes(start_a(circuit)),
                          review.show.temperature(review.job.requirements.start_c), circuit.breaker_a,
                          duration(circuit.start.check.trips_by_s)),
              "Divide the circuit, use a larger breaker that the data sheet allows, or start from warmer "
              "pipe.",
              trip_citation(review, circuit));
  }
}

void check_assured(const Review& review, Findings& found) {
  for (const auto& load : review.plan.panels) {
    const Circuit* worst = nullptr;
    std::size_t count = 0;
    for (const int index : load.circuits) {
      const Circuit& circuit = review.plan.circuits[at(index)];
      if (circuit.start.check.verdict != TripVerdict::not_assured) continue;
      ++count;
      if (!worst || circuit.start.check.worst_multiple > worst->start.check.worst_multiple) worst = &circuit;
    }
    if (!worst) continue;
    const auto& panel = review.job.panels[at(load.panel)];
    found.add("start-not-assured", about(panel),
              fmt::format("{} of {} circuits of panel {} start above what the standard makes every breaker "
                          "hold; most so {}, with {} from {} on {:g} A: not assured by the standard.",
                          count, load.circuits.size(), panel.id, worst->id, amperes(start_a(*worst)),
                          review.show.temperature(review.job.requirements.start_c), worst->breaker_a),
              "Compare the data sheet's start current with the breaker maker's time-current curve.",
              trip_citation(review, *worst));
  }
}

/// A fit that went nowhere has no figure worth printing.
std::string misfit(double frac) {
  return frac > 1 ? std::string("more than 100 %") : "up to " + percent(frac);
}

void check_model(const Review& review, Findings& found) {
  std::set<int> seen;
  for (const auto& circuit : review.plan.circuits) {
    const auto& sheet = sheet_of(review, circuit);
    if (!(circuit.start.model_off_frac > sheet.output_tolerance_frac * above) ||
        !seen.insert(circuit.cable).second)
      continue;
    found.add(
        "start-model-off", about(sheet),
        fmt::format(
            "The model of a start cannot follow the data sheet of {}: outputs and start currents lie {} off "
            "it, and the sheet's own tolerance is {}{}.",
            sheet.name, misfit(circuit.start.model_off_frac), percent(sheet.output_tolerance_frac),
            circuit.start.modelled ? "" : "; the sheet's two points are taken instead"),
        "Check the sheet's outputs and start currents against the maker's; ask for the course of the "
        "current.",
        computed("fit of the cold start, docs/circuits-start.md"));
  }
}

double last_start_s(const Review& review, const power::PanelLoad& load) {
  double last_s = 0;
  for (const int circuit : load.circuits)
    last_s = std::max(last_s, review.plan.circuits[at(circuit)].start.delay_s);
  return last_s;
}

rules::Citation sequence() { return computed("start sequence, docs/circuits-start.md"); }

void check_limit(const Review& review, Findings& found) {
  for (const auto& load : review.plan.panels) {
    if (load.within_limit) continue;
    const auto& panel = review.job.panels[at(load.panel)];
    found.add("start-above-limit", about(panel),
              fmt::format("Panel {} draws {} on its fullest phase although its circuits start one after "
                          "another; it may draw {} for heating cable, and no sequence stays below {}.",
                          panel.id, amperes(load.peak_a), amperes(load.start_limit_a), amperes(load.bound_a)),
              "Use a second panel or a larger main, or start from warmer pipe.", sequence());
  }
}

void check_sequence(const Review& review, Findings& found) {
  for (const auto& load : review.plan.panels) {
    const double last_s = last_start_s(review, load);
    if (!load.within_limit || !(last_s > 0)) continue;
    const auto& panel = review.job.panels[at(load.panel)];
    found.add(
        "start-in-sequence", about(panel),
        fmt::format("The circuits of panel {} must start one after another within {}: all at once they "
                    "draw {} on the fullest phase, and {} is allowed.",
                    panel.id, duration(last_s), amperes(load.together_peak_a), amperes(load.start_limit_a)),
        "Have the controls keep the sequence at every return of power, not only at the first start.",
        sequence());
  }
}

constexpr PlanCheck starts[] = {check_trips, check_assured, check_model, check_limit, check_sequence};

}  // namespace

std::span<const PlanCheck> start_checks() { return starts; }

}  // namespace firstdraw::plan
