// A group of straight-line pipes under set-points: closed forms, and the reduced model's own law.
#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "settings/linear_group.hpp"
#include "week/reduced.hpp"
#include "week/schedule.hpp"

namespace firstdraw::settings {
namespace {

constexpr double step_s = 1800;
constexpr std::size_t steps = 336;

TEST(HeldGroup, RunsShareTheDuty) {
  const LinearGroup group;
  const double duty = group.first.duty(55);
  EXPECT_NEAR(duty_at(group.model, 55), duty, 1e-12);
  const std::vector<double> usual = held_c(group.model, 55, false), weak = held_c(group.model, 55, true);
  EXPECT_NEAR(usual[0], 55, 1e-9);
  EXPECT_NEAR(usual[1], group.second.rest_c(duty), 1e-9);
  EXPECT_NEAR(weak[1], group.second.rest_c(duty, 1.15), 1e-9);
}

TEST(HeldGroup, ASetPointThatTheCableCannotHoldEndsAtFullDuty) {
  LinearGroup group;
  EXPECT_NEAR(held_c(group.model, 90, false)[0], group.first.rest_c(1), 1e-9);
}

TEST(SetPointFor, IsTheLeastThatHoldsEveryRun) {
  const LinearGroup group;
  double before_c = 0;
  for (double least_c = 30; least_c < 55; least_c += 0.7) {
    const std::vector<double> asked(2, least_c);
    const double set_c = set_point_for(group.model, asked);
    ASSERT_TRUE(std::isfinite(set_c)) << least_c;
    EXPECT_GT(set_c, before_c);
    before_c = set_c;
    const std::vector<double> weak_c = held_c(group.model, set_c, true);
    EXPECT_NEAR(std::min(weak_c[0], weak_c[1]), least_c, 1e-3);  // the ratio bends between the grid's points
    EXPECT_GE(std::min(weak_c[0], weak_c[1]), least_c - 1e-9);
  }
}

TEST(SetPointFor, HopelessRunsAreLeftOutAndTooMuchIsInfinite) {
  LinearGroup group;
  const std::vector<double> only_second{-HUGE_VAL, 50}, nothing(2, -HUGE_VAL), much(2, 69);
  EXPECT_GT(set_point_for(group.model, only_second), 50);
  EXPECT_EQ(set_point_for(group.model, nothing), -HUGE_VAL);
  EXPECT_EQ(set_point_for(group.model, much), HUGE_VAL);
  group.model.hopeless = {"W"};
  EXPECT_EQ(set_point_for(group.model, only_second), -HUGE_VAL);
  EXPECT_NEAR(set_point_for(group.model, much), 69, 1e-9);
}

TEST(LiveLumped, AConstantSetPointIsTheSteadyState) {
  const LinearGroup group;
  const Lived lived = live_lumped(group.model, std::vector<double>(steps, 55.0), step_s);
  const std::vector<double> usual = held_c(group.model, 55, false), weak = held_c(group.model, 55, true);
  const double duty = group.first.duty(55);
  const double power_w = duty * (group.first.full_w - group.first.slope_w_per_k * 55 + group.second.full_w -
                                 group.second.slope_w_per_k * usual[1]);
  for (std::size_t s = 0; s < steps; s += 37) {
    EXPECT_NEAR(lived.usual_c[s], 55, 1e-6);
    EXPECT_NEAR(lived.usual_c[steps + s], usual[1], 1e-3);
    EXPECT_NEAR(lived.weak_c(1, s), weak[1], 1e-3);
    EXPECT_NEAR(lived.power_w[s], power_w, 1e-3);
  }
}

TEST(LiveLumped, NeverHeatedEndsInTheAir) {
  const LinearGroup group;
  const Lived lived = live_lumped(group.model, std::vector<double>(steps, week::cable_off_c), step_s);
  EXPECT_NEAR(lived.usual_c[0], 20, 1e-3);
  EXPECT_NEAR(lived.usual_c[steps], 18, 1e-3);
  EXPECT_NEAR(lived.weak_c(1, 100), 18, 1e-3);
  EXPECT_EQ(lived.power_w[7], 0);
}

/// Off from midnight for 4 h, then 55 degC: by logarithms.
TEST(LiveLumped, ASetBackByHand) {
  const LinearGroup group;
  std::vector<double> set_c(steps, 55);
  for (std::size_t s = 0; s < steps; ++s)
    if (s % 48 < 8) set_c[s] = week::cable_off_c;
  const Lived lived = live_lumped(group.model, set_c, step_s);
  const Straight &a = group.first, &b = group.second;
  const double off_s = 4 * 3600, cold_c = 20 + 35 * std::exp(-off_s / a.tau_s(0));
  EXPECT_NEAR(lived.usual_c[48 + 8], cold_c, 1e-6);
  const double reheat_s = a.tau_s(1) * std::log((a.rest_c(1) - cold_c) / (a.rest_c(1) - 55));
  const double duty = a.duty(55), hold_s = 86400 - off_s - reheat_s;
  // The other run through the same stretches, as a linear map; its day must repeat itself.
  const auto through = [&](double from_c, double share, double time_s) {
    return b.rest_c(share, 1.15) +
           (from_c - b.rest_c(share, 1.15)) * std::exp(-time_s / b.tau_s(share, 1.15));
  };
  const auto day = [&](double from_c) {
    return through(through(through(from_c, 0, off_s), 1, reheat_s), duty, hold_s);
  };
  const double slope = day(1) - day(0), midnight_c = day(0) / (1 - slope);
  EXPECT_NEAR(lived.weak_c(1, 48 + 7), through(midnight_c, 0, off_s), 1e-3);
  EXPECT_NEAR(lived.weak_c(1, 48), through(midnight_c, 0, step_s), 1e-3);
}

TEST(LiveLumped, TheSensorsRunIsThatOfTheReducedModel) {
  const LinearGroup group;
  const week::ThermalLaw law = law_of(group.model);
  std::vector<double> set_c(steps, 52);
  for (std::size_t s = 0; s < steps; ++s) {
    if (s % 48 < 10) set_c[s] = 41.5;
    if (s % 48 == 20 || s % 48 == 21) set_c[s] = 58;
    if (s > 240 && s < 250) set_c[s] = week::cable_off_c;
  }
  const Lived lived = live_lumped(group.model, set_c, step_s);
  double water_c = lived.usual_c[0];
  for (std::size_t s = 0; s < steps; ++s) {
    EXPECT_NEAR(lived.usual_c[s], water_c, 1e-5) << s;
    water_c = week::follow(law, water_c, set_c[s], step_s).end_c;
  }
}

TEST(LiveLumped, WeeksEndAsTheyBegan) {
  LinearGroup group;
  for (ModelRun& run : group.model.runs) run.capacity_j_per_k *= 100;  // hundreds of hours
  std::vector<double> set_c(steps, 50);
  for (std::size_t s = 200; s < steps; ++s) set_c[s] = week::cable_off_c;
  const Lived lived = live_lumped(group.model, set_c, step_s);
  const week::ThermalLaw law = law_of(group.model);
  double water_c = lived.usual_c[0];
  for (std::size_t s = 0; s < steps; ++s) water_c = week::follow(law, water_c, set_c[s], step_s).end_c;
  EXPECT_NEAR(water_c, lived.usual_c[0], 1e-3);
}

TEST(LiveLumped, OpenLoopKnowsNoThermostat) {
  LinearGroup group;
  group.model.open_loop = true;
  group.model.ambient_loss_w = group.model.runs[0].loss_w;
  std::vector<double> set_c(steps, 55);
  for (std::size_t s = 0; s < 48; ++s) set_c[s] = week::cable_off_c;
  const Lived lived = live_lumped(group.model, set_c, step_s);
  const double cold_c = lived.usual_c[48], duty = group.first.duty(55);
  EXPECT_LT(cold_c, 50);
  EXPECT_NEAR(lived.usual_c[50], 55 + (cold_c - 55) * std::exp(-2 * step_s / group.first.tau_s(duty)), 1e-6);
  group.model.ambient_loss_w.clear();
  EXPECT_NEAR(held_c(group.model, 55, false)[0], group.first.rest_c(1), 1e-9) << "nothing throttles";
}

}  // namespace
}  // namespace firstdraw::settings
