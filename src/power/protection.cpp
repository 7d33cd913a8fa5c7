#include "power/protection.hpp"

#include <algorithm>
#include <limits>

#include "power/electrical.hpp"
#include "rules/rules.hpp"

namespace firstdraw::power {

namespace {

constexpr double unlimited = std::numeric_limits<double>::infinity();

// Without the maker's word on lengths no large breaker is put behind thin bus wires (common practice, no
// source).
constexpr double largest_unlisted_a = 20;

double reach_m(double budget, double per_m) { return per_m > 0 ? budget / per_m : unlimited; }

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

CircuitLimits circuit_limits(const physics::HeatingCable& cable, const job::Panel& panel,
                             const job::Requirements& requirements) {
  CircuitLimits limits;
  const auto start = cable.start_current(requirements.start_c, panel.voltage_v);
  limits.peak_a_per_m = start.peak_a_per_m;
  limits.settled_a_per_m = start.settled_a_per_m;
  limits.leakage_a_per_m =
      standing_leakage_a(cable.sheet().capacitance_f_per_m, 1.0, panel.voltage_v, panel.frequency_hz);
  const auto protection = rules::ground_fault(requirements.rules);
  limits.leakage_m =
      reach_m(protection.trip_a * protection.standing_leakage_max_frac, limits.leakage_a_per_m);

  const double share = rules::continuous_load(requirements.rules).max_frac;
  bool listed = false;
  for (const double breaker_a : rules::breaker_ratings_a(requirements.rules)) {
    const auto sheet_m = cable.max_length_m(breaker_a, panel.voltage_v, requirements.start_c);
    listed = listed || sheet_m.has_value();
    limits.ratings.push_back(
        {breaker_a, sheet_m.value_or(0.0), reach_m(share * breaker_a, limits.settled_a_per_m)});
  }
  limits.length_listed = listed;
  if (!listed)
    for (Rating& rating : limits.ratings)
      rating.sheet_m = rating.breaker_a <= largest_unlisted_a ? unlimited : 0.0;
  return limits;
}

}  // namespace firstdraw::power
