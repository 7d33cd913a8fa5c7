// How long a circuit may be on each breaker, and which breaker a length needs.
#pragma once

#include <span>
#include <vector>

#include "job/job.hpp"
#include "physics/heating_cable.hpp"
#include "rules/override.hpp"

namespace firstdraw::power {

struct Rating {
  double breaker_a = 0;
  double sheet_m = 0;  // longest circuit of the data sheet, 0 when not listed for this rating; when the sheet
                       // lists none at all: no limit up to 20 A, 0 above
  double current_m = 0;  // where the settled current reaches the continuous share of the rating
  double longest_m() const;
};

/// One cable on one panel at the job's start temperature.
struct CircuitLimits {
  double peak_a_per_m = 0, settled_a_per_m = 0;
  double leakage_a_per_m = 0;
  double continuous_frac = 1;   // share of a breaker's rating that the settled current may use
  bool length_listed = true;    // the data sheet lists a length for this voltage and start temperature
  std::vector<Rating> ratings;  // rising
  double leakage_m = 0;         // where the standing leakage reaches its share of the trip current
  double trip_a = 0;            // of the ground-fault protection

  /// Longest circuit on any rating, within the leakage budget too.
  double longest_m() const;
  /// Smallest rating that carries `length_m`; the largest rating when none does.
  const Rating& rating_for(double length_m) const;
  /// The rating of one of the breakers listed here; throws std::logic_error for another.
  const Rating& rating_on(double breaker_a) const;
};

/// Settled (300 s) current at the start temperature sizes the breaker, within the continuous share of its
/// rating (rules::continuous_load); the standing leakage keeps within rules::ground_fault. Overrides of
/// "continuous-load", "ground-fault-trip" and "standing-leakage" take their places.
CircuitLimits circuit_limits(const physics::HeatingCable& cable, const job::Panel& panel,
                             const job::Requirements& requirements,
                             std::span<const rules::Override> overrides = {});

/// The same limits with one rating only: a breaker that stands already, listed or not.
CircuitLimits limits_on(double breaker_a, CircuitLimits limits, const physics::HeatingCable& cable,
                        const job::Panel& panel, const job::Requirements& requirements);

/// True when `length_m` fits into `longest_m`, rounding apart.
bool fits(double length_m, double longest_m);

}  // namespace firstdraw::power
