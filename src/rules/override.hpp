// Rules of a circuit as a user may set them aside: a rule's id, the value that takes its place, who says so
// and why. Functions that apply such rules give their reasons as sentences with citations; an overridden rule
// says that it is. The ids stand in one place, data/rules_circuit.csv. The authority having jurisdiction
// decides.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rules/citation.hpp"
#include "rules/rules.hpp"

namespace firstdraw::rules {

/// One rule of data/rules_circuit.csv in one rule set.
struct CircuitRule {
  std::string id, title, sentence;
  std::string unit;  // of the value: "A", "m", "mm2", "°C" or empty for factors and shares
  double value = 0;  // NaN: another table or the case gives it
  Citation citation;
};
std::span<const CircuitRule> circuit_rules(RuleSet rules);
/// Throws std::logic_error, naming the nearest id, when the rule set has no such rule.
const CircuitRule& circuit_rule(RuleSet rules, std::string_view id);

/// `value` is in the unit of the rule; NaN for a rule without one (it is set aside altogether).
struct Override {
  std::string rule;
  double value = 0;
  std::string reason, name;  // why, and who answers for it
};

/// What is wrong with a user's list, one sentence each: unknown ids with the nearest known one, rules named
/// twice, values that are no positive numbers (zero switches "next-rating" and "earth-upsizing" off), missing
/// reasons or names. Empty: usable.
std::vector<std::string> check_overrides(RuleSet rules, std::span<const Override> overrides);

/// Why a result is what it is.
struct Reason {
  std::string sentence;
  Citation citation;
  std::string
      about{};  // the rule's id, or "insulation", "drop", "raceway" … for what is no rule; may be empty
};

/// Which edition was applied, and that the authority having jurisdiction decides.
Reason authority_notice(RuleSet rules);

/// The rules as one case applies them: collects the reasons, echoes the overrides it meets.
class Ruling {
 public:
  /// Throws std::logic_error when check_overrides has something to say. Keeps the span.
  Ruling(RuleSet rules, std::span<const Override> overrides);

  RuleSet rules() const { return rules_; }
  /// The user's value for the rule, if any; adds no reason.
  std::optional<double> overridden(std::string_view id) const;
  /// Value of the rule, with its sentence; for an overridden rule the user's value, with the echo.
  double apply(std::string_view id);
  /// Same for a rule whose value and sentence the case gives. Nothing is said when `sentence` is empty.
  double apply(std::string_view id, double by_table, std::string sentence, const Citation& citation);
  /// Value as `apply` gives it, without a reason.
  double value(std::string_view id) const;
  void say(std::string sentence, Citation citation, std::string_view about = {});
  /// The reasons so far, the notice of the authority last.
  std::vector<Reason> reasons() const;

 private:
  const Override* find(std::string_view id) const;
  void echo(const Override& by_user, double by_table, const Citation& citation);

  RuleSet rules_;
  std::span<const Override> overrides_;
  std::vector<Reason> reasons_;
};

}  // namespace firstdraw::rules
