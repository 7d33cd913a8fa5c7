#include "rules/panel_rules.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "rules/conductor_tables.hpp"

namespace firstdraw::rules {

namespace {

constexpr double kRound = 1e-9;
constexpr double kMilli = 1000;

double rating_by_user(Ruling& ruling, std::string_view id, double rating_a, double least_a) {
  return ruling.apply(id, rating_a,
                      fmt::format("{:.4g} A are asked for: {:g} A is the next rating.", least_a, rating_a),
                      circuit_rule(ruling.rules(), id).citation);
}

}  // namespace

std::expected<DeviceChoice, std::string> device_for(RuleSet rules, double load_a, bool continuous,
                                                    bool shared, std::span<const Override> overrides) {
  if (!(load_a > 0)) throw std::logic_error("device_for: the load must be a positive current");
  Ruling ruling(rules, overrides);
  const double least_a = load_a * (continuous ? ruling.apply("continuous-load") : 1.0);
  const bool limited = shared && rules == RuleSet::us;
  const std::string_view id = limited ? "shared-rating" : "standard-rating";
  const std::vector<double> ratings = standard_ratings_a(rules, limited);
  const auto found = std::ranges::find_if(ratings, [&](double a) { return a >= least_a * (1 - kRound); });
  if (found == ratings.end() && !ruling.overridden(id))
    return std::unexpected(fmt::format("no rating reaches the {:.4g} A asked for ({})", least_a,
                                       circuit_rule(rules, id).citation.text()));
  const double rating_a = rating_by_user(ruling, id, found == ratings.end() ? NAN : *found, least_a);
  return DeviceChoice{least_a, rating_a, ruling.reasons()};
}

double standing_leakage_a_per_m(double capacitance_f_per_m, double voltage_v, double frequency_hz,
                                CableFeed feed) {
  const double both_a = 2 * std::numbers::pi * frequency_hz * capacitance_f_per_m * voltage_v;
  if (feed == CableFeed::balanced) return 0;
  return feed == CableFeed::both_wires_live ? both_a : both_a / 2;
}

LeakageBudget leakage_budget(RuleSet rules, double leakage_a_per_m, double length_m, double other_a,
                             std::span<const Override> overrides) {
  if (!(leakage_a_per_m >= 0 && length_m >= 0 && other_a >= 0))
    throw std::logic_error("leakage_budget: leakage and length must not be negative");
  Ruling ruling(rules, overrides);
  LeakageBudget budget;
  budget.trip_a = ruling.apply("ground-fault-trip");
  budget.standing_max_a = budget.trip_a * ruling.apply("standing-leakage");
  budget.standing_a = leakage_a_per_m * length_m + other_a;
  const double left_a = std::max(0.0, budget.standing_max_a - other_a);
  budget.longest_m = leakage_a_per_m > 0 ? left_a / leakage_a_per_m : std::numeric_limits<double>::infinity();
  budget.within = budget.standing_a <= budget.standing_max_a * (1 + kRound);
  ruling.say(fmt::format("Standing leakage {:.3g} mA of {:.3g} mA.", kMilli * budget.standing_a,
                         kMilli * budget.standing_max_a),
             circuit_rule(rules, "standing-leakage").citation, "leakage");
  budget.reasons = ruling.reasons();
  return budget;
}

double residual_current_break_s(std::string_view device, double multiple) {
  for (const tables::Row& row : tables::table("rules_rcd").rows()) {
    if (row.text("device") == device && row.text("bound") == "most" && row.number("multiple") == multiple)
      return row.number("time_s");
  }
  throw std::logic_error(
      fmt::format("no break time of a device \"{}\" at {:g} times; known: general, type S at "
                  "1, 2, 5 times",
                  device, multiple));
}

Labels labels_along(RuleSet rules, double piping_m, std::span<const Override> overrides) {
  if (!(piping_m >= 0)) throw std::logic_error("labels_along: the length must not be negative");
  Ruling ruling(rules, overrides);
  Labels labels;
  labels.spacing_m = ruling.apply("label-spacing");
  labels.count = piping_m > 0 ? 1 + static_cast<int>(std::ceil(piping_m / labels.spacing_m - kRound)) : 0;
  labels.reasons = ruling.reasons();
  return labels;
}

std::vector<Reason> panel_requirements(RuleSet rules, std::span<const Override> overrides) {
  static constexpr std::array<std::string_view, 9> kSentences{
      "disconnecting-means",    "plug-disconnect",   "thermostat-disconnect",
      "overcurrent-protection", "ground-fault-trip", "metal-covering",
      "label-spacing",          "cold-lead",         "surface-guard"};
  Ruling ruling(rules, overrides);
  for (const CircuitRule& rule : circuit_rules(rules)) {
    if (std::ranges::find(kSentences, rule.id) != kSentences.end()) ruling.apply(rule.id);
  }
  return ruling.reasons();
}

}  // namespace firstdraw::rules
