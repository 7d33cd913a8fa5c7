// What the standards of circuit breakers promise about tripping: points of current and time, not curves.
// data/breaker_trip.csv; docs/circuits-start.md. Between the points a breaker may do either, and only its
// maker's time-current curve can tell.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rules/citation.hpp"

namespace firstdraw::rules {

enum class TripPromise { hold, trip };

/// At `multiple` times the rating, from cold: holds at least, or trips within, `time_s` (infinite: for ever).
struct TripPoint {
  double multiple = 0;
  TripPromise promise{};
  double time_s = 0;
  double after_multiple = 0, after_s = 0;  // right after this load instead of from cold; 0: from cold
  Citation citation;
};

/// "ul-489", "iec-60898-1-b", "iec-60898-1-c", "iec-60898-1-d".
std::span<const std::string> breaker_types();

/// The points for one breaker, rising multiple. None for ratings beyond the standard's tables; throws
/// std::logic_error for a type not in `breaker_types` and for a rating that is not positive.
std::vector<TripPoint> trip_points(std::string_view type, double rating_a);

/// One corner of a current's course; straight lines between them, rms.
struct LoadPoint {
  double time_s = 0, current_a = 0;
};

enum class TripVerdict {
  held,         // by the standard, to the end of the course
  not_assured,  // by the standard: ask the breaker maker's curve
  must_trip
};

struct TripCheck {
  TripVerdict verdict{};
  double held_s = 0;      // from the start, as long as holding is promised; infinite: while the load stays so
  double trips_by_s = 0;  // must_trip: at the latest by then; otherwise infinite
  double worst_multiple = 0;       // largest current over the rating
  std::optional<TripPoint> point;  // what decides; none when not even the first moment is promised
};

/// Judges a course of current that begins at the breaker's rest at time 0 (first corner; times rise).
///
/// The standards test constant currents. What they promise carries over to other courses only as far as a
/// larger current at every moment never trips later: a course is held as long as one holding point is at or
/// above it all the time, and trips when it stays at or above a tripping point for that point's time.
/// Courses that need two points together (above 1.13 In at first, below it later) are not promised by
/// anything. A course that ends says nothing beyond its end. Throws std::logic_error without corners, for
/// times that do not rise from 0, and for currents that are negative or not finite.
TripCheck check_trip(std::span<const TripPoint> points, double rating_a, std::span<const LoadPoint> course);

/// "held by the standard", "not assured by the standard: ask the breaker maker's curve", "must trip".
std::string_view words(TripVerdict verdict);

}  // namespace firstdraw::rules
