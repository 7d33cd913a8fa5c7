#include "rules/breaker_trip.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "rules/cited_row.hpp"

namespace firstdraw::rules {

namespace {

constexpr double never_s = std::numeric_limits<double>::infinity();
constexpr double rounding_frac = 1e-9;  // a current computed to be the rating is the rating

/// The row's type is the breaker's, or the family it belongs to: "iec-60898-1" of "iec-60898-1-b".
bool is_of_type(std::string_view type, std::string_view row_type) {
  return type == row_type || (type.starts_with(row_type) && type.substr(row_type.size()).size() == 2);
}

double or_if_empty(const tables::Row& row, std::string_view column, double otherwise) {
  const double value = row.number_or_nan(column);
  return std::isnan(value) ? otherwise : value;
}

bool is_for_rating(const tables::Row& row, double rating_a) {
  return rating_a > row.number("rating_above_a") && rating_a <= or_if_empty(row, "rating_up_to_a", never_s);
}

TripPoint point_of(const tables::Row& row) {
  return {row.number("multiple"),
          row.text("promise") == "hold" ? TripPromise::hold : TripPromise::trip,
          or_if_empty(row, "time_s", never_s),
          or_if_empty(row, "after_multiple", 0),
          or_if_empty(row, "after_s", 0),
          citation_of(row)};
}

void require_course(std::span<const LoadPoint> course) {
  if (course.empty() || course.front().time_s != 0)
    throw std::logic_error("check_trip: the course of the current must begin at time 0");
  double before_s = -1;
  for (const LoadPoint& corner : course) {
    if (!(corner.time_s > before_s) || !std::isfinite(corner.time_s))
      throw std::logic_error("check_trip: times must rise");
    if (!(corner.current_a >= 0) || !std::isfinite(corner.current_a))
      throw std::logic_error("check_trip: currents must be finite and not negative");
    before_s = corner.time_s;
  }
}

/// A stretch of time.
struct Span {
  double from_s = 0, to_s = 0;
};

double crossing_s(const LoadPoint& a, const LoadPoint& b, double level_a) {
  return std::lerp(a.time_s, b.time_s, (level_a - a.current_a) / (b.current_a - a.current_a));
}

/// Where the course is at or above a level, joined where they touch.
std::vector<Span> spans_above(std::span<const LoadPoint> course, double level_a) {
  std::vector<Span> spans;
  const auto add = [&](double from_s, double to_s) {
    if (!spans.empty() && spans.back().to_s >= from_s)
      spans.back().to_s = to_s;
    else
      spans.push_back({from_s, to_s});
  };
  for (std::size_t i = 0; i + 1 < course.size(); ++i) {
    const LoadPoint &a = course[i], &b = course[i + 1];
    const bool above_a = a.current_a >= level_a, above_b = b.current_a >= level_a;
    if (!above_a && !above_b) continue;
    add(above_a ? a.time_s : crossing_s(a, b, level_a), above_b ? b.time_s : crossing_s(a, b, level_a));
  }
  return spans;
}

/// When the course first goes above the level.
double first_above_s(std::span<const LoadPoint> course, double level_a) {
  for (std::size_t i = 0; i < course.size(); ++i) {
    if (course[i].current_a <= level_a) continue;
    return i == 0 ? 0 : crossing_s(course[i - 1], course[i], level_a);
  }
  return never_s;
}

/// When a tripping point has the breaker open at the latest.
double trips_by(const TripPoint& point, double rating_a, std::span<const LoadPoint> course) {
  const double above = 1 - rounding_frac;
  const auto before = spans_above(course, point.after_multiple * rating_a * above);
  for (const Span& span : spans_above(course, point.multiple * rating_a * above)) {
    const auto within = std::ranges::find_if(before, [&](const Span& b) { return b.to_s >= span.to_s; });
    const double loaded_from_s = point.after_s > 0 ? within->from_s + point.after_s : span.from_s;
    const double by_s = std::max(span.from_s, loaded_from_s) + point.time_s;
    if (by_s <= span.to_s) return by_s;
  }
  return never_s;
}

}  // namespace

std::span<const std::string> breaker_types() {
  static const std::vector<std::string> types{"ul-489", "iec-60898-1-b", "iec-60898-1-c", "iec-60898-1-d"};
  return types;
}

std::vector<TripPoint> trip_points(std::string_view type, double rating_a) {
  require_known("breaker type", type, breaker_types());
  if (!(rating_a > 0)) throw std::logic_error("trip_points: a rating must be positive");
  std::vector<TripPoint> points;
  for (const tables::Row& row : tables::table("breaker_trip").rows())
    if (is_of_type(type, row.text("type")) && is_for_rating(row, rating_a)) points.push_back(point_of(row));
  std::ranges::stable_sort(points, {}, &TripPoint::multiple);
  return points;
}

TripCheck check_trip(std::span<const TripPoint> points, double rating_a, std::span<const LoadPoint> course) {
  require_course(course);
  if (!(rating_a > 0)) throw std::logic_error("check_trip: a rating must be positive");
  TripCheck check{TripVerdict::not_assured, 0, never_s, 0, {}};
  check.worst_multiple = std::ranges::max(course, {}, &LoadPoint::current_a).current_a / rating_a;
  for (const TripPoint& point : points) {
    if (point.promise != TripPromise::hold) continue;
    const double level_a = point.multiple * rating_a * (1 + rounding_frac);
    const double held_s = std::min(point.time_s, first_above_s(course, level_a));
    if (held_s <= check.held_s) continue;
    check.held_s = held_s;
    check.point = point;
  }
  if (check.held_s >= course.back().time_s && check.held_s > 0) check.verdict = TripVerdict::held;
  for (const TripPoint& point : points) {
    if (point.promise != TripPromise::trip) continue;
    const double by_s = trips_by(point, rating_a, course);
    if (by_s >= check.trips_by_s) continue;
    check.verdict = TripVerdict::must_trip;
    check.trips_by_s = by_s;
    check.point = point;
  }
  return check;
}

std::string_view words(TripVerdict verdict) {
  switch (verdict) {
    case TripVerdict::held:
      return "held by the standard";
    case TripVerdict::must_trip:
      return "must trip";
    case TripVerdict::not_assured:
      break;
  }
  return "not assured by the standard: ask the breaker maker's curve";
}

}  // namespace firstdraw::rules
