#include "plan/check_electrical.hpp"

#include <cctype>

namespace firstdraw::plan {

using piping::at;

const job::Panel& panel_of(const Review& review, const power::Circuit& circuit) {
  return review.job.panels[at(circuit.panel)];
}
const physics::CableSheet& sheet_of(const Review& review, const power::Circuit& circuit) {
  return review.job.cables[at(circuit.cable)];
}
const physics::HeatingCable& cable_of(const Review& review, const power::Circuit& circuit) {
  return review.cables[at(circuit.cable)];
}

RuleValue rule_value(const Review& review, std::string_view id) {
  const auto set = review.job.requirements.rules;
  const auto overrides = job::overrides_of(review.job);
  const rules::Ruling ruling(set, overrides);
  RuleValue found{ruling.value(id), rules::circuit_rule(set, id).citation};
  if (ruling.overridden(id)) found.citation.basis = "overridden";
  return found;
}

std::optional<double> listed_length_m(const Review& review, const power::Circuit& circuit) {
  return cable_of(review, circuit)
      .max_length_m(circuit.breaker_a, panel_of(review, circuit).voltage_v, review.job.requirements.start_c);
}

std::string as_sentence(std::string text) {
  if (text.empty()) return text;
  text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
  if (text.back() != '.') text += '.';
  return text;
}

rules::Citation computed(std::string clause) { return {"Firstdraw", "", std::move(clause), "computed"}; }

}  // namespace firstdraw::plan
