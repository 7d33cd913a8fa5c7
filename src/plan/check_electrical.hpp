// What the checks of circuits, wiring, starts and panels share.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "plan/check_context.hpp"
#include "rules/override.hpp"

namespace firstdraw::plan {

inline constexpr double above = 1 + 1e-6;  // rounding apart

const job::Panel& panel_of(const Review& review, const power::Circuit& circuit);
const physics::CableSheet& sheet_of(const Review& review, const power::Circuit& circuit);
const physics::HeatingCable& cable_of(const Review& review, const power::Circuit& circuit);

/// Value and citation of a rule with a number of its own, overrides of the job respected.
struct RuleValue {
  double value = 0;
  rules::Citation citation;
};
RuleValue rule_value(const Review& review, std::string_view id);

/// What the circuit's breaker may carry continuously, and whether the settled current is above it.
double allowed_a(const Review& review, const power::Circuit& circuit);
bool over_load(const Review& review, const power::Circuit& circuit);

/// Longest circuit that the data sheet lists for the circuit's breaker, voltage and start; none if it has no
/// such row.
std::optional<double> listed_length_m(const Review& review, const power::Circuit& circuit);

/// What the local voltage leaves of a run's worst-case output, and its spare with the panel's lowest voltage
/// all along.
double output_left_frac(const Review& review, int run);
double spare_without_drop_frac(const Review& review, int run);

rules::Citation computed(std::string clause);

}  // namespace firstdraw::plan
