// Circuits of heating cable: breakers, conductors, ground fault, labels, voltage drop, field tests.
// data/rules_breakers.csv, rules_conductors_*.csv, rules_earth_us.csv, rules_limits.csv,
// rules_field_tests.csv.
#include <fmt/format.h>

#include <stdexcept>

#include "rules/cited_row.hpp"
#include "rules/rules.hpp"

namespace firstdraw::rules {

namespace {

constexpr double kKm = 1000;

std::vector<double> read_ratings(RuleSet rules) {
  std::vector<double> ratings;
  for (const tables::Row& row : tables::table("rules_breakers").rows()) {
    if (applies(row, rules)) ratings.push_back(row.number("rating_a"));
  }
  return ratings;
}

std::vector<FieldTest> read_field_tests(RuleSet rules) {
  std::vector<FieldTest> tests;
  for (const tables::Row& row : tables::table("rules_field_tests").rows()) {
    if (!applies(row, rules)) continue;
    tests.push_back({row.text("id"), row.text("stage"), row.text("name"), row.text("how"), row.text("limit"),
                     citation_of(row)});
  }
  return tests;
}

std::string awg(const std::string& size) { return size + " AWG"; }

/// Copper equipment grounding conductor, NEC Table 250.122: the first row not below the breaker.
std::string earth_us(double breaker_a) {
  for (const tables::Row& row : tables::table("rules_earth_us").rows()) {
    if (breaker_a <= row.number("breaker_up_to_a")) return awg(row.text("size_awg"));
  }
  throw std::logic_error(fmt::format("no equipment grounding conductor for a breaker of {} A", breaker_a));
}

ConductorChoice conductor_us(double breaker_a) {
  for (const tables::Row& row : tables::table("rules_conductors_us").rows()) {
    const double most_a = row.number_or_nan("most_breaker_a");
    if (row.number("ampacity_60c_a") < breaker_a || most_a < breaker_a) continue;
    return {awg(row.text("size_awg")), earth_us(breaker_a), 2 * row.number("r75_ohm_per_km") / kKm,
            citation_of(row)};
  }
  throw std::logic_error(fmt::format("no conductor in the table for a breaker of {} A", breaker_a));
}

/// Resistance at 70 °C: R20 (1 + 0.00393 (70 - 20)), IEC 60228 value and coefficient of copper.
ConductorChoice conductor_intl(double breaker_a) {
  constexpr double kCopperPerK = 0.00393, kRise = 70 - 20;
  for (const tables::Row& row : tables::table("rules_conductors_intl").rows()) {
    if (row.number("ampacity_a") < breaker_a) continue;
    const double ohm_per_km = row.number("r20_ohm_per_km") * (1 + kCopperPerK * kRise);
    return {row.text("size_mm2") + " mm2", row.text("earth_mm2") + " mm2", 2 * ohm_per_km / kKm,
            citation_of(row)};
  }
  throw std::logic_error(fmt::format("no conductor in the table for a breaker of {} A", breaker_a));
}

}  // namespace

std::span<const double> breaker_ratings_a(RuleSet rules) {
  static const std::vector<double> us = read_ratings(RuleSet::us), intl = read_ratings(RuleSet::intl);
  return rules == RuleSet::us ? us : intl;
}

ContinuousLoad continuous_load(RuleSet rules) {
  const CitedNumber share = limit("continuous-load", rules);
  return {share.value, share.citation};
}

ConductorChoice conductor_for(RuleSet rules, double breaker_a) {
  return rules == RuleSet::us ? conductor_us(breaker_a) : conductor_intl(breaker_a);
}

GroundFault ground_fault(RuleSet rules) {
  const CitedNumber trip = limit("ground-fault-trip", rules);
  return {trip.value, limit("standing-leakage", rules).value, trip.citation};
}

LabelSpacing label_spacing(RuleSet rules) {
  const CitedNumber spacing = limit("label-spacing", rules);
  return {spacing.value, spacing.citation};
}

VoltageDrop voltage_drop(RuleSet rules) {
  const CitedNumber branch = limit("voltage-drop-branch", rules);
  return {branch.value, limit("voltage-drop-total", rules).value, branch.citation};
}

std::span<const FieldTest> field_tests(RuleSet rules) {
  static const std::vector<FieldTest> us = read_field_tests(RuleSet::us),
                                      intl = read_field_tests(RuleSet::intl);
  return rules == RuleSet::us ? us : intl;
}

}  // namespace firstdraw::rules
