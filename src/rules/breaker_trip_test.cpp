#include "rules/breaker_trip.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

#include "tables/table.hpp"

namespace firstdraw::rules {
namespace {

using Course = std::vector<LoadPoint>;

TripCheck judge(std::string_view type, double rating_a, const Course& course) {
  return check_trip(trip_points(type, rating_a), rating_a, course);
}

Course constant(double current_a, double time_s) { return {{0, current_a}, {time_s, current_a}}; }

TEST(TripPoints, EveryRowIsOfAKnownTypeAndCited) {
  for (const tables::Row& row : tables::table("breaker_trip").rows()) {
    const bool known = std::ranges::any_of(
        breaker_types(), [&](const std::string& type) { return type.starts_with(row.text("type")); });
    EXPECT_TRUE(known) << row.text("type");
    EXPECT_THAT(row.text("promise"), testing::AnyOf("hold", "trip"));
    for (const auto* column : {"document", "clause", "source", "basis"}) EXPECT_NE(row.text(column), "");
  }
}

TEST(TripPoints, AFamilysRowsBelongToItsTypesOnly) {
  EXPECT_EQ(trip_points("ul-489", 20).size(), 3u);
  EXPECT_EQ(trip_points("iec-60898-1-b", 16).size(), 7u);
  EXPECT_EQ(trip_points("iec-60898-1-d", 16).back().multiple, 20);
  EXPECT_TRUE(trip_points("iec-60898-1-c", 160).empty());
}

TEST(TripPoints, UnknownTypesNameTheNearest) {
  EXPECT_THROW(
      {
        try {
          trip_points("iec-60898-b", 16);
        } catch (const std::logic_error& error) {
          EXPECT_THAT(error.what(), testing::HasSubstr("did you mean \"iec-60898-1-b\""));
          throw;
        }
      },
      std::logic_error);
  EXPECT_THROW(trip_points("ul-489", 0), std::logic_error);
}

TEST(CheckTrip, AnOrdinaryLoadIsHeldForEver) {
  const TripCheck check = judge("ul-489", 20, constant(16, 1e6));
  EXPECT_EQ(check.verdict, TripVerdict::held);
  EXPECT_TRUE(std::isinf(check.held_s));
  EXPECT_EQ(check.point->multiple, 1);
  EXPECT_NEAR(check.worst_multiple, 0.8, 1e-15);
}

TEST(CheckTrip, AStartAboveTheRatingIsNotAssuredByUl489) {
  const TripCheck check = judge("ul-489", 20, {{0, 32}, {60, 18}, {300, 16}});
  EXPECT_EQ(check.verdict, TripVerdict::not_assured);
  EXPECT_EQ(check.held_s, 0);
  EXPECT_FALSE(check.point);
}

TEST(CheckTrip, TwoPointsTogetherPromiseNothing) {
  // Within 2.55 In for the first second and within 1.13 In after it, but no one point covers both.
  const TripCheck check = judge("iec-60898-1-c", 16, {{0, 30}, {0.9, 15}, {300, 15}});
  EXPECT_EQ(check.verdict, TripVerdict::not_assured);
  EXPECT_EQ(check.held_s, 1);
  EXPECT_EQ(check.point->multiple, 2.55);
}

TEST(CheckTrip, HeldUntilTheCourseCrossesTheLevel) {
  // 10 A rising by 0.01 A/s passes 1.13 x 10 A at 130 s.
  const TripCheck check = judge("iec-60898-1-b", 10, {{0, 10}, {1000, 20}});
  EXPECT_NEAR(check.held_s, 130, 1e-5);
  EXPECT_EQ(check.point->multiple, 1.13);
}

TEST(CheckTrip, TripsOnceTheCourseHasStayedLongEnough) {
  // Falls from 60 A by 0.1 A/s: at or above 2 x 20 A for 200 s, more than the 120 s asked.
  const TripCheck long_enough = judge("ul-489", 20, {{0, 60}, {400, 20}});
  EXPECT_EQ(long_enough.verdict, TripVerdict::must_trip);
  EXPECT_NEAR(long_enough.trips_by_s, 120, 1e-9);
  // By 0.2 A/s: 100 s only.
  EXPECT_EQ(judge("ul-489", 20, {{0, 60}, {200, 20}}).verdict, TripVerdict::not_assured);
}

TEST(CheckTrip, APointAfterAnotherLoadNeedsThatLoadFirst) {
  EXPECT_EQ(judge("iec-60898-1-c", 16, constant(1.46 * 16, 3700)).verdict, TripVerdict::not_assured);
  const TripCheck after =
      judge("iec-60898-1-c", 16, {{0, 1.14 * 16}, {3600, 1.14 * 16}, {3601, 1.46 * 16}, {7300, 1.46 * 16}});
  EXPECT_EQ(after.verdict, TripVerdict::must_trip);
  EXPECT_GT(after.trips_by_s, 7200);
  EXPECT_LT(after.trips_by_s, 7202);
}

TEST(CheckTrip, WithoutPointsNothingIsAssured) {
  EXPECT_EQ(judge("iec-60898-1-c", 160, constant(10, 10)).verdict, TripVerdict::not_assured);
}

TEST(CheckTrip, RefusesWhatIsNoCourse) {
  const auto points = trip_points("ul-489", 20);
  EXPECT_THROW(check_trip(points, 20, {}), std::logic_error);
  for (const Course& course : {Course{{1, 5}}, Course{{0, 5}, {0, 6}}, Course{{0, -1}}, Course{{0, NAN}}})
    EXPECT_THROW(check_trip(points, 20, course), std::logic_error);
}

// Whatever the course, less current is held at least as long and trips no earlier; and never both.
TEST(CheckTrip, LessCurrentIsNeverWorse) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> multiple(0, 6), step_s(0.01, 4000), share(0, 1);
  int tripped = 0, held = 0;
  for (int round = 0; round < 4000; ++round) {
    const std::string& type = breaker_types()[static_cast<std::size_t>(round) % breaker_types().size()];
    const double scale = share(random);
    Course more{{0, 16 * scale * multiple(random)}};
    while (more.size() < 6)
      more.push_back({more.back().time_s + step_s(random), 16 * scale * multiple(random)});
    Course less = more;
    for (LoadPoint& corner : less) corner.current_a *= share(random);
    const TripCheck a = judge(type, 16, more), b = judge(type, 16, less);
    EXPECT_GE(b.held_s, a.held_s);
    EXPECT_GE(b.trips_by_s, a.trips_by_s);
    EXPECT_LE(a.held_s, a.trips_by_s);
    tripped += a.verdict == TripVerdict::must_trip;
    held += b.verdict == TripVerdict::held;
  }
  EXPECT_GT(tripped, 100);
  EXPECT_GT(held, 100);
}

}  // namespace
}  // namespace firstdraw::rules
