// Rules that the user has set aside, each said wherever findings are.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "plan/check_electrical.hpp"

namespace firstdraw::plan {

namespace {

/// Rules that every circuit meets; whether others were met, the reasons tell.
constexpr std::array<std::string_view, 12> of_every_circuit{
    "continuous-load",     "ground-fault-trip", "standing-leakage",      "label-spacing",
    "disconnecting-means", "plug-disconnect",   "thermostat-disconnect", "overcurrent-protection",
    "metal-covering",      "cold-lead",         "surface-guard",         "standard-rating"};

std::string shown(double value, const std::string& unit) {
  return unit.empty() ? fmt::format("{:.4g}", value) : fmt::format("{:.4g} {}", value, unit);
}

/// "(rule-id): 16 A instead of 20 A. Reason given: …", as rules::Ruling echoes it.
enum class Echo { none, same, other };
Echo echo_of(std::string_view sentence, std::string_view rule) {
  const std::string mark = fmt::format("({}): ", rule);
  const auto begin = sentence.find(mark);
  if (begin == std::string_view::npos) return Echo::none;
  constexpr std::string_view between = " instead of ";
  const auto said =
      sentence.substr(begin + mark.size(), sentence.find(". Reason given") - begin - mark.size());
  const auto middle = said.find(between);
  if (middle == std::string_view::npos) return Echo::other;
  return said.substr(0, middle) == said.substr(middle + between.size()) ? Echo::same : Echo::other;
}

bool echoed(const std::vector<rules::Reason>& reasons, std::string_view rule) {
  return std::ranges::any_of(
      reasons, [&](const rules::Reason& reason) { return echo_of(reason.sentence, rule) == Echo::other; });
}

bool met(const Plan& plan, std::string_view rule) {
  if (std::ranges::find(of_every_circuit, rule) != of_every_circuit.end()) return !plan.circuits.empty();
  return std::ranges::any_of(plan.circuits,
                             [&](const auto& circuit) { return echoed(circuit.wiring.reasons, rule); }) ||
         std::ranges::any_of(plan.panels,
                             [&](const auto& panel) { return echoed(panel.supply.reasons, rule); }) ||
         std::ranges::any_of(plan.load,
                             [&](const LoadLine& line) { return echo_of(line.how, rule) == Echo::other; });
}

bool changes_something(const Plan& plan, const rules::CircuitRule& rule, const job::RuleOverride& by_user) {
  if (by_user.value && *by_user.value == rule.value) return false;
  return met(plan, rule.id);
}

Subject place_of(const job::RuleOverride& by_user) {
  return {Finding::PlaceKind::site, by_user.rule, {"job.toml", 0}};
}

std::string instead(const rules::CircuitRule& rule, const job::RuleOverride& by_user) {
  if (!by_user.value) return "set aside";
  return fmt::format("{} instead of {}", shown(*by_user.value, rule.unit),
                     std::isnan(rule.value) ? "what its table gives" : shown(rule.value, rule.unit));
}

void add_used(const rules::CircuitRule& rule, const job::RuleOverride& by_user, Findings& found) {
  const auto& by = rule.citation;
  found.add("rule-overridden", place_of(by_user),
            fmt::format("{} overrides the {} ({}): {}; reason given: {}.", by_user.name, rule.title, rule.id,
                        instead(rule, by_user), by_user.reason),
            "Have the consent of the authority having jurisdiction in writing: it decides.",
            {by.document, by.edition, by.clause, "overridden by " + by_user.name});
}

void add_idle(const rules::CircuitRule& rule, const job::RuleOverride& by_user, Findings& found) {
  found.add(
      "override-idle", place_of(by_user),
      fmt::format("{} overrides the {} ({}), which changes nothing here.", by_user.name, rule.title, rule.id),
      "Delete the override from job.toml.", rule.citation);
}

void check_overrides(const Review& review, Findings& found) {
  for (const auto& by_user : review.job.overrides) {
    const auto& rule = rules::circuit_rule(review.job.requirements.rules, by_user.rule);
    if (changes_something(review.plan, rule, by_user))
      add_used(rule, by_user, found);
    else
      add_idle(rule, by_user, found);
  }
}

constexpr PlanCheck checks[] = {check_overrides};

}  // namespace

std::span<const PlanCheck> override_checks() { return checks; }

}  // namespace firstdraw::plan
