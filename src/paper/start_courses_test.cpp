// Cold starts made ready to draw, and their sheet.
#include "paper/start_courses.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "paper/install.hpp"
#include "paper/test_paper.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::paper {
namespace {

power::Circuit starting(const std::string& id, double breaker_a, std::vector<rules::LoadPoint> course) {
  power::Circuit circuit;
  circuit.id = id;
  circuit.breaker_a = breaker_a;
  circuit.panel = circuit.group = 0;
  circuit.start.course = std::move(course);
  circuit.start.modelled = true;
  return circuit;
}

TEST(StartCourses, CurrentsLieOnStraightLinesAndAreHeldAtTheEnds) {
  const std::vector<rules::LoadPoint> course{{0, 20}, {100, 10}, {200, 10}};
  EXPECT_DOUBLE_EQ(current_at(course, -5), 20);
  EXPECT_DOUBLE_EQ(current_at(course, 25), 17.5);
  EXPECT_DOUBLE_EQ(current_at(course, 150), 10);
  EXPECT_DOUBLE_EQ(current_at(course, 1e6), 10);
  EXPECT_TRUE(std::isnan(current_at({}, 1)));
}

TEST(StartCourses, TimeAboveARatingEndsWhereTheLineCrossesIt) {
  const std::vector<rules::LoadPoint> course{{0, 20}, {100, 10}, {200, 10}};
  EXPECT_DOUBLE_EQ(time_above_s(course, 15), 50);
  EXPECT_DOUBLE_EQ(time_above_s(course, 20), 0);
  EXPECT_DOUBLE_EQ(time_above_s(course, 5), 200);
  EXPECT_DOUBLE_EQ(time_above_s(course, 10), 100);
}

TEST(StartCourses, OnlyCircuitsThatStartAlikeShareALine) {
  plan::Plan plan;
  plan.circuits = {starting("C01", 20, {{0, 24}, {300, 14}}), starting("C02", 20, {{0, 23.5}, {300, 13.8}}),
                   starting("C03", 20, {{0, 24}, {300, 10}}), starting("C04", 15, {{0, 18}, {300, 10.5}})};
  const auto charts = start_charts(plan, {0, 1, 2, 3}, "ul-489");
  ASSERT_EQ(charts.size(), 1U);  // UL 489 has the same points up to 30 A
  EXPECT_EQ(charts[0].ratings, "15, 20 A");
  ASSERT_EQ(charts[0].starts.size(), 2U);
  EXPECT_EQ(charts[0].starts[0].circuits, (std::vector<int>{0, 1, 3}));
  EXPECT_EQ(charts[0].starts[1].circuits, (std::vector<int>{2}));
  EXPECT_DOUBLE_EQ(charts[0].starts[0].worst_multiple, 1.2);
}

TEST(StartCourses, BreakersWithOtherPointsGetAChartOfTheirOwn) {
  plan::Plan plan;
  plan.circuits = {starting("C01", 30, {{0, 24}, {300, 14}}), starting("C02", 40, {{0, 24}, {300, 14}}),
                   starting("C03", 30, {})};
  const auto charts = start_charts(plan, {0, 1, 2}, "ul-489");
  ASSERT_EQ(charts.size(), 2U);
  EXPECT_EQ(charts[0].points.size(), 3U);
  EXPECT_EQ(charts[1].starts[0].circuits, (std::vector<int>{1}));
}

TEST(StartCourses, OfManyCircuitsTheFirstAreNamed) {
  plan::Plan plan;
  for (int each = 0; each < 6; ++each) plan.circuits.push_back(starting("C" + std::to_string(each), 20, {}));
  EXPECT_EQ(joined_ids(plan, {4}), "C4");
  EXPECT_EQ(joined_ids(plan, {0, 1, 2, 3, 4, 5}), "C0, C1, C2 + 3");
}

class StartSheet : public testing::Test {
 protected:
  void SetUp() override {
    job_ = plan::small_job();
    for (int each = 0; each < 3; ++each) {
      power::Circuit circuit =
          starting("C0" + std::to_string(each + 1), 20, {{0, 27}, {60, 18}, {300, 13}, {7200, 10}});
      circuit.start.check = rules::check_trip(rules::trip_points("ul-489", 20), 20, circuit.start.course);
      circuit.start.delay_s = 60.0 * each;
      plan_.circuits.push_back(circuit);
    }
    power::PanelLoad load;
    load.panel = 0;
    load.circuits = {0, 1, 2};
    load.together_peak_a = 81;
    load.peak_a = 58;
    load.start_limit_a = 60;
    load.piece_s = 30;
    load.line_a = {27, 20, 45, 38, 58, 50, 40, 30};
    plan_.panels = {load};
  }

  std::string text(TestBook& book) {
    const RiserDrawing drawing;
    const Pack pack{job_, plan_, drawing, Show(job_)};
    pages_ = book.with([&](Book& pages) { starts_from_cold(pages, pack); });
    return book.text();
  }

  job::Job job_;
  plan::Plan plan_;
  int pages_ = 0;
};

TEST_F(StartSheet, SaysDelaysPeaksVerdictAndThatItMustRunEveryTime) {
  TestBook book("starts");
  const std::string text = this->text(book);
  EXPECT_EQ(pages_, 1);
  for (const char* word : {"Starts from cold: P1", "at once", "1:00", "2:00", "81", "58", "limit 60 A",
                           "not assured by the standard", "must run at every return of power",
                           "2 ×: trips in 2 min", "1.35 ×: trips in 1 h", "1 ×: holds for good"})
    EXPECT_NE(text.find(word), std::string::npos) << word << "\n" << text;
}

TEST_F(StartSheet, ABreakerThatMustTripIsACaution) {
  plan_.circuits[0].start.course = {{0, 45}, {7200, 44}};
  plan_.circuits[0].start.check =
      rules::check_trip(rules::trip_points("ul-489", 20), 20, plan_.circuits[0].start.course);
  TestBook book("must-trip");
  EXPECT_NE(text(book).find("A breaker must trip on a cold start"), std::string::npos);
}

TEST_F(StartSheet, NothingWithoutAJudgedStart) {
  for (power::Circuit& circuit : plan_.circuits) circuit.start = {};
  TestBook book("none");
  const RiserDrawing drawing;
  const Pack pack{job_, plan_, drawing, Show(job_)};
  EXPECT_EQ(book.with([&](Book& pages) { starts_from_cold(pages, pack); }), 0);
}

}  // namespace
}  // namespace firstdraw::paper
