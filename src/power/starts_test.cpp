// Starts of laid-out circuits. The course itself and what standards promise: tests/reference/cold_start_test
// and breaker_trip_test.
#include "power/starts.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace firstdraw::power {
namespace {

using rules::TripVerdict;
using testing::HasSubstr;

/// An invented building: one panel at 208 V between lines, circuits on copper-like pipes.
struct Started {
  Started() {
    job.requirements.start_c = 10;
    job::Panel panel;
    panel.voltage_v = 208;
    panel.line_to_line = true;
    job.panels.push_back(panel);
    sheet.id = "invented";
    sheet.rated_voltage_v = 208;
    sheet.output_tolerance_frac = 0.1;
    sheet.output = {{5, 24.0}, {10, 22.5}, {50, 12.5}, {60, 10.2}};
    sheet.voltage = {{200, 0.97}, {240, 1.1}};
    sheet.cold_start = {{0, 0.25, 0.125}, {10, 0.204, 0.109}};
    layout.panels.emplace_back().panel = 0;
  }

  Started& circuit(const std::string& phase, double length_m, double breaker_a) {
    Circuit made;
    made.id = "C" + std::to_string(layout.circuits.size() + 1);
    made.panel = made.cable = made.group = 0;
    made.phase = phase;
    made.cable_length_m = length_m;
    made.max_length_m = length_m + 10;
    made.breaker_a = breaker_a;
    const auto start = physics::HeatingCable(sheet).start_current(10, 208);
    made.peak_a = start.peak_a_per_m * length_m;
    made.settled_a = start.settled_a_per_m * length_m;
    layout.panels[0].circuits.push_back(static_cast<int>(layout.circuits.size()));
    layout.circuits.push_back(made);
    parts.push_back({{{.heat_j_per_m_k = 3000, .loss_w_per_m_k = 0.25, .air_c = 20}, 0.6 * length_m},
                     {{.heat_j_per_m_k = 1200, .loss_w_per_m_k = 0.2, .air_c = 18}, 0.4 * length_m}});
    return *this;
  }

  Layout judge() {
    const std::vector<physics::HeatingCable> cables{physics::HeatingCable(sheet)};
    StartCourses courses(cables, job.requirements.start_c);
    judge_starts(job, courses, parts, layout);
    return layout;
  }

  job::Job job;
  physics::CableSheet sheet;
  Layout layout;
  std::vector<std::vector<CircuitPart>> parts;
};

double on_course(const std::vector<rules::LoadPoint>& course, double time_s) {
  const auto after = std::ranges::upper_bound(course, time_s, {}, &rules::LoadPoint::time_s);
  if (after == course.end()) return course.back().current_a;
  const auto& a = *(after - 1);
  return std::lerp(a.current_a, after->current_a, (time_s - a.time_s) / (after->time_s - a.time_s));
}

TEST(JudgeStarts, CourseIsNowhereBelowTheCircuitAndHardlyAbove) {
  Started building;
  const Circuit circuit = building.circuit("L1-L2", 80, 20).judge().circuits[0];
  ASSERT_TRUE(circuit.start.modelled);
  const auto fit = fit_cold_start(building.sheet);
  const CircuitStart whole(fit->model, building.parts[0], {208, 10}, 3 * 3600);
  for (double time_s = 0; time_s < 3 * 3600; time_s += 3.7) {
    const double course_a = on_course(circuit.start.course, time_s);
    EXPECT_GE(course_a, whole.current_a(time_s) * (1 - 1e-9)) << time_s;
    if (time_s > 60) {
      EXPECT_LE(course_a, whole.current_a(time_s) * 1.05) << time_s;
    }
  }
  EXPECT_EQ(circuit.start.course.back().time_s, 3 * 3600);
  EXPECT_NEAR(circuit.start.inrush_over_s, whole.inrush_over_s(0.05), 1e-3);
  EXPECT_GT(circuit.start.model_off_frac, 0);
}

TEST(JudgeStarts, CourseIsNeverBelowTheSheet) {
  Started building;
  building.sheet.cold_start = {{0, 0.25, 0.15}, {10, 0.22, 0.118}};
  const Circuit circuit = building.circuit("L1-L2", 80, 20).judge().circuits[0];
  ASSERT_TRUE(circuit.start.modelled);
  EXPECT_GE(circuit.start.course.front().current_a, circuit.peak_a * (1 - 1e-12));
}

TEST(JudgeStarts, WithoutStartCurrentsTheSheetsTwoPointsAreTaken) {
  Started building;
  building.sheet.cold_start.clear();
  building.circuit("L1-L2", 80, 20);
  building.layout.circuits[0].peak_a = 18;
  building.layout.circuits[0].settled_a = 10;
  const StartVerdict start = building.judge().circuits[0].start;
  EXPECT_FALSE(start.modelled);
  EXPECT_TRUE(std::isnan(start.inrush_over_s));
  EXPECT_EQ(on_course(start.course, 299), 18);
  EXPECT_EQ(on_course(start.course, 302), 10);
  EXPECT_EQ(start.check.verdict, TripVerdict::held);
  EXPECT_THAT(start.decides, HasSubstr("holds without end"));
}

TEST(JudgeStarts, AboveTheRatingNothingIsAssuredAndTheSheetsLengthIsNamed) {
  const StartVerdict start = Started().circuit("L1-L2", 80, 15).judge().circuits[0].start;
  EXPECT_EQ(start.check.verdict, TripVerdict::not_assured);
  EXPECT_NEAR(start.check.worst_multiple, 0.204 * 80 / 15, 0.01);
  EXPECT_THAT(start.decides, HasSubstr("lie within the 295.3 ft that data sheet"));
  Started unlisted;
  unlisted.circuit("L1-L2", 80, 15).layout.circuits[0].length_listed = false;
  EXPECT_THAT(unlisted.judge().circuits[0].start.decides, HasSubstr("lists no length"));
}

TEST(JudgeStarts, MustTripOnlyWhereTheCurrentIsSurelyAsLarge) {
  // Settled 43.6 A on 15 A: above twice the rating for more than two minutes (UL 489).
  EXPECT_EQ(Started().circuit("L1-L2", 400, 15).judge().circuits[0].start.check.verdict,
            TripVerdict::must_trip);
  // The sheet's peak alone is no reason: it may last a moment only.
  Started unknown;
  unknown.sheet.cold_start.clear();
  unknown.circuit("L1-L2", 80, 15);
  unknown.layout.circuits[0].peak_a = 40;
  unknown.layout.circuits[0].settled_a = 12;
  EXPECT_EQ(unknown.judge().circuits[0].start.check.verdict, TripVerdict::not_assured);
}

TEST(JudgeStarts, ABreakerNobodyPromisesAnythingFor) {
  Started building;
  building.job.wiring.breaker = "fuse";
  const StartVerdict start = building.circuit("L1-L2", 40, 20).judge().circuits[0].start;
  EXPECT_EQ(start.check.verdict, TripVerdict::not_assured);
  EXPECT_THAT(start.decides, HasSubstr("no standard at hand promises anything"));
}

Started three_pairs() {
  Started building;
  for (const auto* phase : {"L1-L2", "L2-L3", "L3-L1", "L1-L2", "L2-L3", "L3-L1"})
    building.circuit(phase, 80, 20);
  return building;
}

TEST(JudgeStarts, NothingAskedMeansAllAtOnce) {
  const Layout layout = three_pairs().judge();
  const PanelLoad& load = layout.panels[0];
  for (const Circuit& circuit : layout.circuits) EXPECT_EQ(circuit.start.delay_s, 0);
  EXPECT_EQ(load.start_limit_a, 0);
  EXPECT_TRUE(load.within_limit);
  EXPECT_EQ(load.peak_a, load.together_peak_a);
  EXPECT_NEAR(load.peak_a, 2 * std::sqrt(3) * 80 * 0.204, 0.03 * load.peak_a);  // three pairs meet at 120°
}

TEST(JudgeStarts, AnAskedLimitIsKeptWithOtherLoadsTakenOff) {
  Started building = three_pairs();
  building.job.panels[0].start_limit_a = 62;
  building.job.panels[0].other_a = 10;
  const Layout layout = building.judge();
  const PanelLoad& load = layout.panels[0];
  EXPECT_EQ(load.start_limit_a, 52);
  EXPECT_TRUE(load.within_limit);
  EXPECT_LE(load.peak_a, 52);
  EXPECT_LE(*std::ranges::max_element(load.line_a), 52);
  EXPECT_GT(load.together_peak_a, 52);
  EXPECT_GT(
      std::ranges::max(layout.circuits, {}, [](const Circuit& c) { return c.start.delay_s; }).start.delay_s,
      0);
}

TEST(JudgeStarts, AMainThatStartingTogetherWouldPassAsksForASequence) {
  Started building = three_pairs();
  building.job.panels[0].main_a = 50;
  EXPECT_EQ(building.judge().panels[0].start_limit_a, 50);
  Started roomy = three_pairs();
  roomy.job.panels[0].main_a = 100;
  EXPECT_EQ(roomy.judge().panels[0].start_limit_a, 0);
  Started full = three_pairs();
  full.job.panels[0].main_a = 50;
  full.job.panels[0].other_a = 55;
  const PanelLoad load = full.judge().panels[0];
  EXPECT_FALSE(load.within_limit);
  EXPECT_LT(load.peak_a, load.together_peak_a);
}

}  // namespace
}  // namespace firstdraw::power
