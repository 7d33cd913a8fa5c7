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

/// Longest circuit that the data sheet lists for the circuit's breaker, voltage and start; none if it has no
/// such row.
std::optional<double> listed_length_m(const Review& review, const power::Circuit& circuit);

/// A sentence that begins with a small letter and may lack its stop, as one of its own.
std::string as_sentence(std::string text);

rules::Citation computed(std::string clause);

}  // namespace firstdraw::plan
