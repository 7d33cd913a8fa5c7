#include "power/protection.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "power/electrical.hpp"
#include "rules/conductor_tables.hpp"

namespace firstdraw::power {

namespace {

constexpr double unlimited = std::numeric_limits<double>::infinity();

// Without the maker's word on lengths no large breaker is put behind thin bus wires (common practice, no
// source).
constexpr double largest_unlisted_a = 20;

double reach_m(double budget, double per_m) { return per_m > 0 ? budget / per_m : unlimited; }

Rating rating_on(double breaker_a, const CircuitLimits& limits, const physics::HeatingCable& cable,
                 const job::Panel& panel, const job::Requirements& requirements) {
  const double unlisted_m = breaker_a <= largest_unlisted_a ? unlimited : 0.0;
  const double sheet_m =
      limits.length_listed
          ? cable.max_length_m(breaker_a, panel.voltage_v, requirements.start_c).value_or(0.0)
          : unlisted_m;
  return {breaker_a, sheet_m, reach_m(limits.continuous_frac * breaker_a, limits.settled_a_per_m)};
}

}  // namespace

bool fits(double length_m, double longest_m) { return length_m <= longest_m * (1 + 1e-9); }

double Rating::longest_m() const { return std::min(sheet_m, current_m); }

double CircuitLimits::longest_m() const {
  double best_m = 0;
  for (const Rating& rating : ratings) best_m = std::max(best_m, rating.longest_m());
  return std::min(best_m, leakage_m);
}

const Rating& CircuitLimits::rating_for(double length_m) const {
  for (const Rating& rating : ratings)
    if (fits(length_m, rating.longest_m())) return rating;
  return *std::max_element(ratings.begin(), ratings.end(),
                           [](const Rating& a, const Rating& b) { return a.longest_m() < b.longest_m(); });
}

const Rating& CircuitLimits::rating_on(double breaker_a) const {
  const auto found = std::ranges::find(ratings, breaker_a, &Rating::breaker_a);
  if (found == ratings.end()) throw std::logic_error("limits of a breaker that is not listed");
  return *found;
}

CircuitLimits circuit_limits(const physics::HeatingCable& cable, const job::Panel& panel,
                             const job::Requirements& requirements,
                             std::span<const rules::Override> overrides) {
  const rules::Ruling ruling(requirements.rules, overrides);
  CircuitLimits limits;
  const auto start = cable.start_current(requirements.start_c, panel.voltage_v);
  limits.peak_a_per_m = start.peak_a_per_m;
  limits.settled_a_per_m = start.settled_a_per_m;
  limits.leakage_a_per_m =
      standing_leakage_a(cable.sheet().capacitance_f_per_m, 1.0, panel.voltage_v, panel.frequency_hz);
  limits.trip_a = ruling.value("ground-fault-trip");
  limits.leakage_m = reach_m(limits.trip_a * ruling.value("standing-leakage"), limits.leakage_a_per_m);
  limits.continuous_frac = 1 / ruling.value("continuous-load");
  const auto ratings_a = rules::standard_ratings_a(requirements.rules, true);
  limits.length_listed = std::ranges::any_of(ratings_a, [&](double breaker_a) {
    return cable.max_length_m(breaker_a, panel.voltage_v, requirements.start_c).has_value();
  });
  for (const double breaker_a : ratings_a)
    limits.ratings.push_back(rating_on(breaker_a, limits, cable, panel, requirements));
  return limits;
}

CircuitLimits limits_on(double breaker_a, CircuitLimits limits, const physics::HeatingCable& cable,
                        const job::Panel& panel, const job::Requirements& requirements) {
  limits.ratings = {rating_on(breaker_a, limits, cable, panel, requirements)};
  return limits;
}

}  // namespace firstdraw::power
