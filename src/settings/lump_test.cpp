// One run against the closed forms of a straight loss and a straight output.
#include "settings/lump.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "settings/linear_group.hpp"

namespace firstdraw::settings {
namespace {

const Straight pipe{4, 20, 400, 2, 8e4};

TEST(Lump, CoolsAndWarmsAsTheExponential) {
  const ModelRun run = pipe.run("R");
  for (const double duty : {0.0, 0.3, 1.0})
    for (const double factor : {1.0, 1.4})
      for (const double from_c : {22.3, 55.0, 71.7})
        for (const double time_s : {1.0, 1800.0, 4e4}) {
          const Lump::Course course = Lump(run, factor).advance(from_c, duty, time_s);
          const double rest_c = pipe.rest_c(duty, factor), tau_s = pipe.tau_s(duty, factor);
          EXPECT_NEAR(course.end_c, rest_c + (from_c - rest_c) * std::exp(-time_s / tau_s), 1e-9);
          EXPECT_NEAR(course.log_sensitivity, -time_s / tau_s, 1e-9);
          EXPECT_EQ(course.took_s, time_s);
        }
}

TEST(Lump, HeatGivenIsTheIntegral) {
  const double from_c = 30, time_s = 2e4, rest_c = pipe.rest_c(1), tau_s = pipe.tau_s(1);
  const double mean_c = rest_c + (from_c - rest_c) * tau_s / time_s * -std::expm1(-time_s / tau_s);
  const Lump::Course course = Lump(pipe.run("R"), 1).advance(from_c, 1, time_s);
  EXPECT_NEAR(course.output_j, time_s * (pipe.full_w - pipe.slope_w_per_k * mean_c), 1e-6 * course.output_j);
}

TEST(Lump, MeetsATargetWhenTheLogarithmSays) {
  const ModelRun run = pipe.run("R");
  const Lump::Course cools = Lump(run, 1).advance(60.2, 0, 1e9, 47.9);
  EXPECT_EQ(cools.end_c, 47.9);
  EXPECT_NEAR(cools.took_s, pipe.tau_s(0) * std::log(40.2 / 27.9), 1e-6);
  const Lump::Course warms = Lump(run, 1).advance(30, 1, 1e9, 52.1);
  EXPECT_NEAR(warms.took_s, pipe.tau_s(1) * std::log((pipe.rest_c(1) - 30) / (pipe.rest_c(1) - 52.1)), 1e-6);
}

TEST(Lump, RestsOnTheEdgeOfTwoPieces) {
  const ModelRun run = pipe.run("R");
  const Lump::Course course = Lump(run, 1).advance(55, pipe.duty(55), 604800);
  EXPECT_NEAR(course.end_c, 55, 1e-6);
  EXPECT_EQ(course.took_s, 604800);
}

TEST(Lump, GoesOnBeyondTheGrid) {
  const ModelRun run = pipe.run("R");
  EXPECT_NEAR(Lump(run, 1).advance(150, 0, 600).end_c, 20 + 130 * std::exp(-600 / pipe.tau_s(0)), 1e-9);
}

TEST(Balance, IsWhereTheLinesCross) {
  const ModelRun run = pipe.run("R");
  for (const double duty : {0.0, 0.2, 0.7, 1.0})
    EXPECT_NEAR(balance_c(run.loss_w, run.output_w, 1.2, duty), pipe.rest_c(duty, 1.2), 1e-9);
}

}  // namespace
}  // namespace firstdraw::settings
