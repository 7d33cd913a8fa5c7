// What a meter should show, against sums by hand and the limits that a cold start must keep.
#include "plan/expect.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>

#include "plan/small_job.hpp"

namespace firstdraw::plan {
namespace {

struct Planned {
  job::Job job = small_job();
  Plan plan = make_plan(job, {0, 1, 1});
  Expectation expect(const SiteReading& reading = {}) const { return expect_current(job, plan, 0, reading); }
};

TEST(Expect, WithoutReadingsTakesMaintainAndThePlansFeedVoltageAndSaysSo) {
  const Planned on;
  ASSERT_EQ(on.plan.circuits.size(), 1U);
  const Expectation found = on.expect();
  EXPECT_EQ(found.now.pipe_c, 46);
  EXPECT_EQ(found.now.volts, on.plan.circuits[0].feed_v);
  EXPECT_LT(found.now.volts, 208);
  EXPECT_NE(found.assumed[1].find("208 V, less"), std::string::npos);
  EXPECT_EQ(found.assumed.size(), 3U);
  EXPECT_TRUE(found.warnings.empty());
  EXPECT_EQ(on.expect({46, 208, {}}).assumed.size(), 1U);
}

// Ohm's law: the fall along the bus wires can only take away from the cable's current at full voltage, and at
// most the share that the plan's own bound of the fall allows (output no steeper than voltage squared).
TEST(Expect, IsTheSumOverTheRunsLessWhatFallsAlongTheCable) {
  const Planned on;
  const power::Circuit& circuit = on.plan.circuits[0];
  const physics::HeatingCable cable(on.job.cables[static_cast<std::size_t>(circuit.cable)]);
  double sum_a = 0;
  for (const int run : circuit.runs)
    sum_a += on.plan.runs[static_cast<std::size_t>(run)].cable_length_m * cable.power_w_per_m(46, 208) / 208;
  const double current_a = on.expect({46, 208, {}}).now.current_a;
  EXPECT_LT(current_a, sum_a);
  EXPECT_GT(current_a, sum_a * std::pow(1 - circuit.far_drop_frac, 2));
}

TEST(Expect, AStartBeginsAboveTheSettledCurrentAndFalls) {
  const Planned on;
  const double settled_a = on.expect({10, 208, {}}).now.current_a;
  double before_a = std::numeric_limits<double>::infinity();
  for (const double minutes : {0.0, 1.0, 5.0, 20.0, 120.0}) {
    const double now_a = on.expect({10, 208, minutes}).now.current_a;
    EXPECT_LT(now_a, before_a) << minutes;
    before_a = now_a;
  }
  EXPECT_GT(on.expect({10, 208, 0.0}).now.current_a, 1.2 * settled_a);
  EXPECT_LT(before_a, settled_a) << "the pipe has warmed meanwhile";
}

TEST(Expect, SaysWhatTheDataSheetDoesNotCover) {
  const Planned on;
  const Expectation none = on.expect({46, 480, {}});
  EXPECT_TRUE(std::isnan(none.now.current_a));
  EXPECT_NE(none.why_none.find("no output at 480 V (it lists 190 V to 240 V)"), std::string::npos);
  EXPECT_FALSE(on.expect({-40, 208, {}}).warnings.empty());
}

TEST(Expect, WithoutStartCurrentsTheSettledCurrentIsShownWithAWarning) {
  Planned on;
  for (auto& sheet : on.job.cables) sheet.cold_start.clear();
  const Expectation found = on.expect({10, 208, 5.0});
  EXPECT_FALSE(found.minutes);
  EXPECT_EQ(found.warnings.size(), 1U);
  EXPECT_EQ(found.now.current_a, on.expect({10, 208, {}}).now.current_a);
}

TEST(Expect, TableHoldsTheSingleAnswer) {
  const Planned on;
  const auto table = expected_table(on.job, on.plan, 0);
  ASSERT_EQ(table.size(), 9U);
  EXPECT_EQ(table[7].pipe_c, 46);
  EXPECT_EQ(table[7].volts, on.plan.circuits[0].feed_v);
  EXPECT_EQ(table[7].current_a, on.expect().now.current_a);
}

}  // namespace
}  // namespace firstdraw::plan
