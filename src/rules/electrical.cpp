// Single numbers of circuits and the field tests. data/rules_circuit.csv, rules_field_tests.csv.
#include "rules/cited_row.hpp"
#include "rules/override.hpp"
#include "rules/rules.hpp"

namespace firstdraw::rules {

namespace {

std::vector<FieldTest> read_field_tests(RuleSet rules) {
  std::vector<FieldTest> tests;
  for (const tables::Row& row : tables::table("rules_field_tests").rows()) {
    if (!applies(row, rules)) continue;
    tests.push_back({row.text("id"), row.text("stage"), row.text("name"), row.text("how"), row.text("limit"),
                     citation_of(row)});
  }
  return tests;
}

}  // namespace

ContinuousLoad continuous_load(RuleSet rules) {
  const CircuitRule& rule = circuit_rule(rules, "continuous-load");
  return {1 / rule.value, rule.citation};
}

GroundFault ground_fault(RuleSet rules) {
  const CircuitRule& trip = circuit_rule(rules, "ground-fault-trip");
  return {trip.value, circuit_rule(rules, "standing-leakage").value, trip.citation};
}

LabelSpacing label_spacing(RuleSet rules) {
  const CircuitRule& spacing = circuit_rule(rules, "label-spacing");
  return {spacing.value, spacing.citation};
}

VoltageDrop voltage_drop(RuleSet rules) {
  const CircuitRule& branch = circuit_rule(rules, "voltage-drop-branch");
  return {branch.value, circuit_rule(rules, "voltage-drop-total").value, branch.citation};
}

std::span<const FieldTest> field_tests(RuleSet rules) {
  static const std::vector<FieldTest> us = read_field_tests(RuleSet::us),
                                      intl = read_field_tests(RuleSet::intl);
  return rules == RuleSet::us ? us : intl;
}

}  // namespace firstdraw::rules
