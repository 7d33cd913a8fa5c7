// Tripping points of circuit breakers against a transcription of the standards made apart from the program's
// table: UL 489 (calibration at 100, 135 and 200 %) and IEC 60898-1 Table 7 (tests a to e), as read in
// secondary sources or from memory, row by row in breaker_time_current.csv.
#include "rules/breaker_trip.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "published.hpp"

namespace firstdraw::rules {
namespace {

std::vector<std::string> types_of(const tables::Row& row) {
  if (row.text("standard") == "UL 489") return {"ul-489"};
  std::vector<std::string> types;
  for (const auto& [letter, type] :
       {std::pair{'B', "iec-60898-1-b"}, {'C', "iec-60898-1-c"}, {'D', "iec-60898-1-d"}})
    if (row.text("curve").contains(letter)) types.emplace_back(type);
  return types;
}

/// A rating inside the row's band, and its upper end.
std::vector<double> ratings_of(const tables::Row& row) {
  const double high_a = row.number_or_nan("rating_high_A");
  if (std::isnan(high_a)) return {row.number("rating_low_A") + 20, 225};
  return {row.number("rating_low_A") + 0.9 * (high_a - row.number("rating_low_A")), high_a};
}

std::vector<LoadPoint> constant(double current_a, double time_s) {
  return {{0, current_a}, {time_s, current_a}};
}

/// Test b comes "right after test a": 1.13 In for the same conventional time.
std::vector<LoadPoint> tripping_course(const tables::Row& row, double rating_a, double time_s) {
  const double current_a = row.number("multiple_of_In") * rating_a;
  if (row.text("start") != "right after test a") return constant(current_a, time_s);
  return {{0, 1.13 * rating_a},
          {time_s, 1.13 * rating_a},
          {time_s + 1e-3, current_a},
          {2 * time_s + 1, current_a}};
}

TEST(BreakerTripReference, HoldsAndTripsAtEveryPublishedPoint) {
  int holds = 0, trips = 0;
  for (const tables::Row& row : reference::published("breaker_time_current").rows()) {
    const double least_s = row.number_or_nan("time_low_s"), most_s = row.number_or_nan("time_high_s");
    for (const std::string& type : types_of(row))
      for (const double rating_a : ratings_of(row)) {
        const auto points = trip_points(type, rating_a);
        const double current_a = row.number("multiple_of_In") * rating_a;
        if (!std::isnan(least_s) || row.text("requirement") == "must hold indefinitely") {
          const double time_s = std::isnan(least_s) ? 1e7 : least_s;
          EXPECT_EQ(check_trip(points, rating_a, constant(current_a, time_s)).verdict, TripVerdict::held)
              << type << " " << rating_a << " A, " << row.text("source");
          ++holds;
        }
        if (std::isnan(most_s)) continue;
        const TripCheck check = check_trip(points, rating_a, tripping_course(row, rating_a, most_s));
        EXPECT_EQ(check.verdict, TripVerdict::must_trip)
            << type << " " << rating_a << " A, " << row.text("source");
        ++trips;
      }
  }
  EXPECT_EQ(holds, 2 * (6 + 6 + 3 + 1));
  EXPECT_EQ(trips, 2 * (6 + 6 + 3 + 7));
}

// The same points from the other side: a little beyond what is promised, nothing is.
TEST(BreakerTripReference, PromisesNothingALittleBeyondThePoints) {
  for (const tables::Row& row : reference::published("breaker_time_current").rows()) {
    const double least_s = row.number_or_nan("time_low_s"), most_s = row.number_or_nan("time_high_s");
    for (const std::string& type : types_of(row)) {
      const double rating_a = ratings_of(row).front(), multiple = row.number("multiple_of_In");
      const auto points = trip_points(type, rating_a);
      if (!std::isnan(least_s)) {
        const auto longer = constant(multiple * rating_a, 1.01 * least_s);
        EXPECT_EQ(check_trip(points, rating_a, longer).verdict, TripVerdict::not_assured)
            << row.text("source");
      }
      if (std::isnan(most_s) || row.text("start") == "right after test a") continue;
      const auto shorter = constant(multiple * rating_a, 0.99 * most_s);
      EXPECT_EQ(check_trip(points, rating_a, shorter).verdict, TripVerdict::not_assured)
          << row.text("source");
      const auto less = constant(0.99 * multiple * rating_a, 1.01 * most_s);
      EXPECT_FALSE(check_trip(points, rating_a, less).trips_by_s <= most_s) << row.text("source");
    }
  }
}

// UL 489 says nothing at all between 100 % and 135 %: 110 % for a day is neither.
TEST(BreakerTripReference, NothingBetweenTheUl489Points) {
  const TripCheck check = check_trip(trip_points("ul-489", 20), 20, constant(22, 86400));
  EXPECT_EQ(check.verdict, TripVerdict::not_assured);
  EXPECT_EQ(check.held_s, 0);
}

}  // namespace
}  // namespace firstdraw::rules
