#include "plan/check_electrical.hpp"

#include <algorithm>

#include "plan/held.hpp"

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

double allowed_a(const Review& review, const power::Circuit& circuit) {
  return circuit.breaker_a / rule_value(review, "continuous-load").value;
}
bool over_load(const Review& review, const power::Circuit& circuit) {
  return circuit.settled_a > allowed_a(review, circuit) * above;
}

std::optional<double> listed_length_m(const Review& review, const power::Circuit& circuit) {
  return cable_of(review, circuit)
      .max_length_m(circuit.breaker_a, panel_of(review, circuit).voltage_v, review.job.requirements.start_c);
}

double output_left_frac(const Review& review, int run) {
  const RunPlan& planned = review.plan.runs[at(run)];
  const int group = review.survey.group_of_run[at(run)];
  const int panel = group == piping::none ? piping::none : review.survey.panel_of_group[at(group)];
  if (planned.cable == piping::none || panel == piping::none) return 1;
  const auto& source = review.job.panels[at(panel)];
  return output_left_frac(review.cables[at(planned.cable)], source.low_frac * source.voltage_v,
                          planned.worst_voltage_frac);
}

double spare_without_drop_frac(const Review& review, int run) {
  return (1 + review.plan.runs[at(run)].spare_frac) / output_left_frac(review, run) - 1;
}

rules::Citation computed(std::string clause) { return {"Firstdraw", "", std::move(clause), "computed"}; }

}  // namespace firstdraw::plan
