#include "draw/control.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

namespace firstdraw::draw {
namespace {

const double lost = std::numeric_limits<double>::quiet_NaN();

ControlSettings thermostat() {
  ControlSettings settings;
  settings.hold_c = 50;
  return settings;
}

ControlSettings pulsed() {
  ControlSettings settings = thermostat();
  settings.mode = ControlMode::pulsed;
  return settings;
}

TEST(SetPoint, LaterPeriodWinsAndWeekdaysCount) {
  ControlSettings settings = thermostat();
  settings.periods = {{0x7f, 6 * hour_s, 22 * hour_s, 55.0}, {0x60, 8 * hour_s, 9 * hour_s, std::nullopt}};
  EXPECT_EQ(set_point_c(settings, 5 * hour_s), 50);
  EXPECT_EQ(set_point_c(settings, 6 * hour_s), 55);
  EXPECT_EQ(set_point_c(settings, 22 * hour_s), 50);
  EXPECT_EQ(set_point_c(settings, 8.5 * hour_s), 55);                         // Monday
  EXPECT_EQ(set_point_c(settings, 5 * day_s + 8.5 * hour_s), std::nullopt);   // Saturday
  EXPECT_EQ(set_point_c(settings, -1 * day_s + 8.5 * hour_s), std::nullopt);  // the Sunday before
  EXPECT_EQ(set_point_c(settings, week_s + 8.5 * hour_s), 55);
}

TEST(SetPoint, PastMidnightBelongsToTheDayItBegins) {
  ControlSettings settings = thermostat();
  settings.periods = {{0x10, 22 * hour_s, 5 * hour_s, 40.0}};  // Friday night
  EXPECT_EQ(set_point_c(settings, 4 * day_s + 4 * hour_s), 50);
  EXPECT_EQ(set_point_c(settings, 4 * day_s + 23 * hour_s), 40);
  EXPECT_EQ(set_point_c(settings, 5 * day_s + 4 * hour_s), 40);
  EXPECT_EQ(set_point_c(settings, 5 * day_s + 5 * hour_s), 50);
  EXPECT_EQ(set_point_c(settings, 5 * day_s + 23 * hour_s), 50);
}

TEST(SetPoint, AFastClockIsEarly) {
  ControlSettings settings = thermostat();
  settings.periods = {{0x7f, 6 * hour_s, 7 * hour_s, 60.0}};
  settings.clock_error_s = 900;
  EXPECT_EQ(set_point_c(settings, 5.75 * hour_s), 60);
  EXPECT_EQ(set_point_c(settings, 6.75 * hour_s), 50);
}

TEST(Thermostat, SwitchesAtHalfTheDifferentialEitherSide) {
  Controller controller(thermostat());
  const double readings[] = {50, 48.9, 50.5, 51, 51.1, 50, 49, 48.9};
  const double shares[] = {0, 1, 1, 1, 0, 0, 0, 1};
  for (int i = 0; i < 8; ++i) EXPECT_EQ(controller.decide(60 * i, 60 * (i + 1), readings[i]), shares[i]) << i;
  EXPECT_EQ(controller.switchings(), 2);
  EXPECT_EQ(controller.seconds_on(), 240);
}

TEST(Thermostat, MinimumTimesRefuseASwitchAndTheCutOutDoesNotWait) {
  ControlSettings settings = thermostat();
  settings.min_on_s = 120;
  settings.min_off_s = 180;
  settings.cutout_c = 70;
  Controller controller(settings);
  const double readings[] = {40, 60, 60, 40, 40, 40, 70, 66, 65, 40, 40};
  const double shares[] = {1, 1, 0, 0, 0, 1, 0, 0, 0, 1, 1};
  for (int i = 0; i < 11; ++i)
    EXPECT_EQ(controller.decide(60 * i, 60 * (i + 1), readings[i]), shares[i]) << i;
}

TEST(Thermostat, CutOutHoldsUntilItsRelease) {
  ControlSettings settings = thermostat();
  settings.hold_c = 80;
  settings.cutout_c = 70;
  Controller controller(settings);
  EXPECT_EQ(controller.decide(0, 60, 69), 1);
  EXPECT_EQ(controller.decide(60, 120, 70), 0);
  EXPECT_EQ(controller.decide(120, 180, 65.1), 0);
  EXPECT_EQ(controller.decide(180, 240, lost), 0);
  EXPECT_EQ(controller.decide(240, 300, 65), 1);
}

TEST(Thermostat, LostSensorDoesAsItIsSet) {
  ControlSettings settings = thermostat();
  EXPECT_EQ(Controller(settings).decide(0, 60, lost), 0);
  settings.when_lost = SensorLost::on;
  EXPECT_EQ(Controller(settings).decide(0, 60, lost), 1);
  settings.when_lost = SensorLost::open_loop;
  settings.open_loop_at_c = {40, 60};
  settings.open_loop_duty = {0.2, 0.6};
  EXPECT_DOUBLE_EQ(Controller(settings).decide(0, 600, lost), 0.4);
  settings.periods = {{0x7f, 0, 0, std::nullopt}};
  settings.when_lost = SensorLost::on;
  EXPECT_EQ(Controller(settings).decide(0, 60, lost), 0) << "off by its periods";
}

TEST(Pulsed, OnTimeOpensTheCycleWhateverTheTick) {
  for (const double tick_s : {7.0, 60.0, 75.0, 600.0, 3000.0}) {
    Controller controller(pulsed());
    double on_s = 0;
    for (double t = 0; t < 42000; t += tick_s) on_s += tick_s * controller.decide(t, t + tick_s, 49);
    EXPECT_NEAR(on_s, 0.75 * 42000, 1e-6) << tick_s;  // 0.5 + 1 / 4
    EXPECT_NEAR(controller.seconds_on(), on_s, 1e-6);
    EXPECT_EQ(controller.switchings(), 70) << tick_s;
  }
}

TEST(Pulsed, ShareIsDecidedWhenACycleBegins) {
  Controller controller(pulsed());
  EXPECT_DOUBLE_EQ(controller.decide(0, 240, 50), 1);     // half of 600 s
  EXPECT_DOUBLE_EQ(controller.decide(240, 360, 0), 0.5);  // cold now, but decided
  EXPECT_DOUBLE_EQ(controller.decide(360, 600, 0), 0);
  EXPECT_DOUBLE_EQ(controller.decide(600, 1200, 0), 1);
  EXPECT_DOUBLE_EQ(controller.decide(1200, 1800, 52), 0);
  EXPECT_EQ(controller.switchings(), 2);
}

TEST(Pulsed, PulsesAndPausesKeepTheirMinimum) {
  ControlSettings settings = pulsed();
  settings.min_on_s = 120;
  settings.min_off_s = 60;
  EXPECT_DOUBLE_EQ(Controller(settings).decide(0, 600, 51.96), 0.2);
  EXPECT_DOUBLE_EQ(Controller(settings).decide(0, 600, 48.04), 0.9);
  EXPECT_DOUBLE_EQ(Controller(settings).decide(0, 600, 52), 0);
  EXPECT_DOUBLE_EQ(Controller(settings).decide(0, 600, 48), 1);
}

TEST(OpenLoop, LooksAtNoSensorAndStopsWhenOff) {
  ControlSettings settings = thermostat();
  settings.mode = ControlMode::open_loop;
  settings.open_loop_at_c = {50};
  settings.open_loop_duty = {0.3};
  settings.periods = {{0x7f, hour_s, 2 * hour_s, std::nullopt}};
  Controller controller(settings);
  EXPECT_NEAR(controller.decide(0, hour_s, 90), 0.3, 1e-12);
  EXPECT_EQ(controller.decide(hour_s, 2 * hour_s, lost), 0);
  EXPECT_NEAR(controller.decide(2 * hour_s, 3 * hour_s, lost), 0.3, 1e-12);
}

TEST(Controller, AnEarlyCallTakesBackWhatWasCounted) {
  Controller controller(thermostat());
  controller.decide(0, 600, 40);
  controller.decide(60, 600, 60);
  EXPECT_EQ(controller.seconds_on(), 60);
}

TEST(Controller, UnequalListsAreABrokenPromise) {
  ControlSettings settings = thermostat();
  settings.open_loop_at_c = {50};
  EXPECT_THROW(Controller{settings}, std::logic_error);
}

}  // namespace
}  // namespace firstdraw::draw
