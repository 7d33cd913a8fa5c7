// Small invented buildings, each with one fault, and what the forecast says of it; a sound one is left alone.
#include "forecast/advice.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <numbers>

#include "forecast/test_building.hpp"

namespace firstdraw::forecast {
namespace {

using testing::Contains;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;

/// Held well above the growth band; each tap of the branches is opened as `draws` says.
struct House {
  Planned building;
  ForecastOptions options;

  House() {
    options.days = 2;
    options.compare = false;
    building.job.groups[0].maintain_c = building.job.groups[0].setback_c = 52;
    building.job.supply = {"heater", "mix", "L1", 60, 60, 10};
    for (job::Outlet& outlet : building.job.outlets) outlet.runout_length_m = 1;
  }
  /// The same draw at a tap every `every_s`, also while the run-in lasts.
  void draw_each(int tap, double every_s, double duration_s, double flow_m3_per_s) {
    for (double time_s = -draw::day_s; time_s < options.days * draw::day_s; time_s += every_s)
      options.recorded.push_back({tap, time_s, duration_s, flow_m3_per_s});
  }
  Forecast run() {
    building.plan = plan::make_plan(building.job, quick());
    return forecast(building.job, building.plan, options);
  }
};

auto of_kind(const char* id) { return Field("id", &Advice::id, id); }

const Advice& find(const Forecast& forecast, const char* id) {
  const auto found = std::ranges::find(forecast.advice, id, &Advice::id);
  if (found == forecast.advice.end()) throw std::runtime_error(std::string("no advice ") + id);
  return *found;
}

double figure(const Advice& advice, const std::string& name) {
  const auto found = std::ranges::find(advice.figures, name, &std::pair<std::string, double>::first);
  if (found == advice.figures.end()) throw std::runtime_error("no figure " + name);
  return found->second;
}

TEST(Advice, ASoundBuildingIsLeftAlone) {
  House house;
  house.draw_each(0, 4 * draw::hour_s, 60, 1e-4);
  house.draw_each(2, 4 * draw::hour_s, 60, 1e-4);
  EXPECT_THAT(house.run().advice, IsEmpty());
}

/// Water at 60 degC runs past the sensor on R2 and out at d every few minutes; nobody draws at c, whose
/// branch R3 gets no heat, because the controller is content.
House flattered() {
  House house;
  house.building.job.spaces[1].air = {24, 24, 24};  // so that what stands is in the growth band
  house.draw_each(2, 120, 60, 2e-4);
  return house;
}

TEST(Advice, ASensorInPassingSupplyWaterFlattersItsGroup) {
  const Forecast answer = flattered().run();
  const Advice& advice = find(answer, "sensor-flattered");
  EXPECT_EQ(advice.group, "main");
  EXPECT_EQ(advice.run, "R3");
  EXPECT_EQ(advice.better_run, "R3");
  EXPECT_THAT(advice.wrong, HasSubstr("R3"));
  EXPECT_EQ(figure(advice, "runs_in_band"), 1);
  EXPECT_EQ(figure(advice, "worst_litres_per_day"), 0);
  // 30 draws an hour of 12 litres.
  EXPECT_NEAR(figure(advice, "sensor_litres_per_day"), 24 * 30 * 12, 1);
}

TEST(Advice, WhatItSaysOfTheOtherPlaceIsWhatTheOtherPlaceGives) {
  House house = flattered();
  const Advice advice = find(house.run(), "sensor-flattered");
  house.building.job.groups[0].sensor_run = advice.better_run;
  const plan::Plan planned_first = plan::make_plan(flattered().building.job, quick());
  const Forecast moved = forecast(house.building.job, planned_first, house.options);
  EXPECT_DOUBLE_EQ(figure(advice, "group_kwh_per_day_after"), moved.groups[0].kwh_per_day);
  EXPECT_DOUBLE_EQ(figure(advice, "hot_in_10_s_frac_after"), moved.building.hot_in_10_s_frac);
  EXPECT_LT(figure(advice, "runs_in_band_after"), figure(advice, "runs_in_band"));
  EXPECT_GT(figure(advice, "group_kwh_per_day_after"), figure(advice, "group_kwh_per_day"));
  EXPECT_THAT(moved.advice, testing::Not(Contains(of_kind("sensor-flattered"))));
}

TEST(Advice, ColdThatNoPlaceOfTheSensorMendsIsNotBlamedOnIt) {
  House house;
  house.draw_each(0, 4 * draw::hour_s, 60, 1e-4);
  house.building.plan = plan::make_plan(house.building.job, quick());
  house.options.faults = {{FaultKind::dead_cable, "R4", 0}};
  const Forecast answer = house.run();
  EXPECT_THAT(answer.advice, Contains(of_kind("runs-left-cold")));
  EXPECT_THAT(answer.advice, testing::Not(Contains(of_kind("sensor-flattered"))));
}

TEST(Advice, ARunoutThatTakesTooLongToFill) {
  House house;
  house.building.job.outlets[1].runout_length_m = 12;
  house.draw_each(2, 4 * draw::hour_s, 60, 1e-4);
  const Forecast answer = house.run();
  const Advice& advice = find(answer, "long-runout");
  const double bore_m = house.building.job.outlets[1].runout_pipe.inner_diameter_m();
  const double litres = 1000 * 12 * std::numbers::pi / 4 * bore_m * bore_m;
  EXPECT_EQ(advice.tap, "O2");
  EXPECT_NEAR(figure(advice, "worst_fill_s"), litres / 0.1, 1e-9);
  EXPECT_NEAR(figure(advice, "reach_in_10_s_m"), 12 * 1 / litres, 1e-9) << "10 s at 0.1 l/s are 1 l";
}

TEST(Advice, ASupplyThatRunsShort) {
  House house;
  house.building.job.supply.tank_m3 = 0.1;
  house.building.job.supply.heater_w = 2000;
  house.draw_each(2, 6 * draw::hour_s, 1800, 2e-4);
  const Forecast answer = house.run();
  const Advice& advice = find(answer, "supply-short");
  EXPECT_EQ(figure(advice, "lowest_supply_c"), answer.building.lowest_supply_c);
  EXPECT_LT(figure(advice, "lowest_supply_c"), figure(advice, "delivered_c"));
}

TEST(Advice, AGroupThatNeverSwitches) {
  for (const auto& [fault, id] : {std::pair{FaultKind::contactor_stuck_on, "always-on"},
                                  std::pair{FaultKind::contactor_stuck_off, "never-on"}}) {
    House house;
    house.draw_each(2, 4 * draw::hour_s, 60, 1e-4);
    house.options.faults = {{fault, "main", 0}};
    EXPECT_EQ(find(house.run(), id).group, "main");
  }
}

TEST(Advice, AStoppedForecastGivesNone) {
  House house = flattered();
  house.options.progress = [](double done_frac) { return done_frac < 0.6; };
  EXPECT_THAT(house.run().advice, IsEmpty());
}

}  // namespace
}  // namespace firstdraw::forecast
