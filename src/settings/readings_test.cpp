// First readings against heat balances by hand, wrong settings against the direction physics gives.
#include "settings/readings.hpp"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plan/expect.hpp"
#include "plan/sections.hpp"
#include "plan/sensor.hpp"
#include "settings/lab.hpp"
#include "settings/small_settings_job.hpp"
#include "settings/wrong_kinds.hpp"

namespace firstdraw::settings {
namespace {

/// With untraced pipe between the heater and the first traced run.
job::Job job_below_a_heater() {
  job::Job job = washing_job();
  job.runs = plan::small_job().runs;
  job.supply = {"heater", "mix", "L1", 60, 58, 10};
  return job;
}

struct ReadingCase {
  job::Job job = job_below_a_heater();
  plan::Plan plan = plan::make_plan(job, {.samples = 0});
  Timetable timetable{"", {{"main", {{0x7f, 5 * 3600.0, 55}, {0x7f, 22 * 3600.0, 50}}}}};
  ProofOptions options;

  ReadingCase() { options.members = 5; }
  std::vector<WrongSetting> wrong() const { return wrong_settings(job, plan, timetable, options); }
};

const std::vector<WrongSetting>& small_wrong() {
  static const std::vector<WrongSetting> made = ReadingCase().wrong();
  return made;
}
const WrongSetting* wrong_as(const std::string& beginning) {
  const auto found = std::ranges::find_if(
      small_wrong(), [&](const WrongSetting& one) { return one.fault.starts_with(beginning); });
  return found == small_wrong().end() ? nullptr : &*found;
}

/// Water and wall of a metre of the sensor's run (copper L 1), J/K: 1.025 in bore, 1.125 in outside.
double heat_capacity_j_per_m_k() {
  const double bore_m = 1.025 * 0.0254, outside_m = 1.125 * 0.0254;
  const double water_m2 = std::numbers::pi / 4 * bore_m * bore_m;
  const double wall_m2 = std::numbers::pi / 4 * (outside_m * outside_m - bore_m * bore_m);
  return water_m2 * 4.13e6 + wall_m2 * 8940 * 385;  // copper: handbook values (memory)
}

// Ten minutes after switching on: at most what the sheet's output at the start gives to water and wall alone,
// and at least 60 % of it (insulation takes some heat, output falls as the pipe warms, the sensor lags 1
// min).
TEST(FirstReadings, TenMinutesByHeatBalance) {
  ReadingCase small;
  small.options.members = 1;
  const GroupReadings readings = first_readings(small.job, small.plan, small.timetable, small.options).at(0);
  EXPECT_EQ(readings.start_c, 21);
  const auto& planned = small.plan.runs[1];
  const physics::HeatingCable cable(small.job.cables[static_cast<std::size_t>(planned.cable)]);
  const double most_k = planned.passes * cable.power_w_per_m(21, 208) * 600 / heat_capacity_j_per_m_k();
  const double rise_k = readings.after.at(0).usual_c - 21;
  EXPECT_LT(rise_k, most_k);
  EXPECT_GT(rise_k, 0.6 * most_k);
}

TEST(FirstReadings, AfterADayItHolds) {
  const ReadingCase small;
  const auto all = first_readings(small.job, small.plan, small.timetable, small.options);
  const GroupReadings& readings = all.at(0);
  ASSERT_EQ(readings.after.size(), 3U);
  EXPECT_EQ(readings.begin_s, 9 * 3600.0) << "Monday morning";
  EXPECT_NEAR(readings.after[2].usual_c, 55, 2) << "differential 2 K, and what the sensor lags";
  EXPECT_EQ(readings.after[0].duty_frac, 1);
  EXPECT_LT(readings.after[2].duty_frac, 1);
  EXPECT_GT(readings.after[2].duty_frac, 0.05);
  for (const ReadingAfter& after : readings.after) {
    EXPECT_LE(after.low_c, after.usual_c);
    EXPECT_LE(after.usual_c, after.high_c);
  }
}

/// Self-regulating cable draws less on the warmer pipe; bands hold their middle.
TEST(FirstReadings, CurrentsFallAsThePipeWarms) {
  const ReadingCase small;
  const auto all = first_readings(small.job, small.plan, small.timetable, small.options);
  ASSERT_EQ(all.at(0).circuits.size(), small.plan.circuits.size());
  for (const CircuitAfter& circuit : all[0].circuits) {
    EXPECT_GT(circuit.usual_a[0], circuit.usual_a[1]);
    EXPECT_GT(circuit.usual_a[1], circuit.usual_a[2]);
    for (std::size_t t = 0; t < 3; ++t) {
      EXPECT_LT(circuit.low_a[t], circuit.usual_a[t]);
      EXPECT_LT(circuit.usual_a[t], circuit.high_a[t]);
    }
  }
}

TEST(FirstReadings, SwitchedOnWhenNothingIsOff) {
  ReadingCase small;
  small.timetable.groups[0].entries = {{0x7f, 11.5 * 3600, 55}, {0x7f, 22 * 3600.0, {}}};
  EXPECT_EQ(first_readings(small.job, small.plan, small.timetable, small.options).at(0).begin_s, 12 * 3600.0);
}

// The wall is warmest beside the cable: a sensor there reads high, so the water is held colder, by no more
// than what the wall-angle model adds with the cable on without a break.
TEST(WrongSettings, SensorBesideTheCableHoldsTheWaterColder) {
  const ReadingCase small;
  const WrongSetting* beside = wrong_as("sensor-beside-cable:main");
  ASSERT_NE(beside, nullptr);
  EXPECT_LT(beside->coldest_change_k, -0.2);
  EXPECT_LT(beside->kwh_change_frac, 0);
  plan::Sections sections;
  const auto& planned = small.plan.runs[1];
  const auto loss = sections.loss(small.job.runs[1], planned.insulation);
  const physics::HeatingCable cable(small.job.cables[static_cast<std::size_t>(planned.cable)]);
  const auto offset_k = [&](double angle_rad) {
    return plan::sensor_offset_k(small.job.runs[1].pipe, loss, 55, 21, angle_rad, cable, planned.passes);
  };
  const double on_over_loss = planned.output_w_per_m / planned.loss_w_per_m;
  const double most_k = (offset_k(0) - offset_k(std::numbers::pi)) * std::max(1.0, 1.2 * on_over_loss);
  EXPECT_GT(beside->coldest_change_k, -most_k - 1) << "1 K for the differential";
  EXPECT_LT(std::abs(beside->reading_change_k), 2) << "the reading itself looks right";
}

// Two metres of untraced pipe cool within the hour after a draw: the controller then heats without an end.
TEST(WrongSettings, SensorOnTheUntracedPipeAboveHeatsTooMuch) {
  const WrongSetting* upstream = wrong_as("sensor-upstream:main");
  ASSERT_NE(upstream, nullptr);
  EXPECT_GT(upstream->coldest_change_k, 1);
  EXPECT_GT(upstream->kwh_change_frac, 0);
  EXPECT_LT(upstream->reading_change_k, -5);
  EXPECT_THAT(upstream->seen, testing::HasSubstr("contact thermometer"));
}

// Current is power over voltage. The sheet gives 1.18 of the output at 240 V of that at 208 V: 1.18 * 208 /
// 240 = 1.023 of the current at the same pipe temperature, and less on a warmer one.
TEST(WrongSettings, HigherVoltageByTheSheet) {
  const WrongSetting* high = wrong_as("wrong-voltage:main=240");
  ASSERT_NE(high, nullptr);
  EXPECT_NEAR(high->current_change_frac, 0.023, 0.03);
  EXPECT_EQ(high->what, "fed with 240 V instead of 208 V");
  const WrongSetting* low = wrong_as("wrong-voltage:main=120");
  ASSERT_NE(low, nullptr);
  // The power law of the sheet's last two points gives 0.88 (120 / 190)^1.412 = 0.460 of the output, hence
  // 0.460 * 208 / 120 = 0.797 of the current, and more on the colder pipe (by hand).
  EXPECT_GT(low->current_change_frac, 0.797 - 1);
  EXPECT_LT(low->current_change_frac, 0);
  EXPECT_LE(low->coldest_change_k, 0);
  EXPECT_THAT(low->harm, testing::HasSubstr("does not list 120 V"));
}

// With a working sensor the entered ambient does nothing at all.
TEST(WrongSettings, AmbientWithASensorChangesNothing) {
  for (const char* fault : {"wrong-ambient:main"}) {
    const WrongSetting* ambient = wrong_as(fault);
    ASSERT_NE(ambient, nullptr);
    EXPECT_EQ(ambient->kwh_change_frac, 0);
    EXPECT_EQ(ambient->coldest_change_k, 0);
    EXPECT_FALSE(ambient->harm.empty());
  }
}

// In open loop a higher ambient entered means less heat.
TEST(WrongSettings, AmbientInOpenLoop) {
  ReadingCase small;
  small.job.groups[0].kind = job::ControlKind::entered_ambient;
  small.job.groups[0].cycle_s = 600;
  small.plan = plan::make_plan(small.job, {.samples = 0});
  const auto all = small.wrong();
  const auto low = std::ranges::find_if(all, [](const auto& one) { return one.what.ends_with("too low"); });
  const auto high = std::ranges::find_if(all, [](const auto& one) { return one.what.ends_with("too high"); });
  ASSERT_NE(low, all.end());
  ASSERT_NE(high, all.end());
  EXPECT_LT(high->coldest_change_k, 0);
  EXPECT_LT(high->kwh_change_frac, 0);
  EXPECT_GE(low->kwh_change_frac, 0);
}

TEST(WrongSettings, ClockMattersOnlyWhereTheSetPointChanges) {
  ASSERT_NE(wrong_as("clock-off:main=3 h"), nullptr);
  ASSERT_NE(wrong_as("clock-off:main=12 h"), nullptr);
  ReadingCase constant;
  constant.timetable.groups[0].entries = {{0x7f, 0, 55}};
  for (const WrongSetting& one : constant.wrong()) EXPECT_FALSE(one.fault.starts_with("clock")) << one.fault;
}

TEST(WrongSettings, EveryRowCanBePlanted) {
  const ReadingCase small;
  for (const WrongSetting& one : small_wrong()) {
    EXPECT_TRUE(forecast::read_fault(one.fault, small.job, small.plan)) << one.fault;
    EXPECT_FALSE(one.seen.empty()) << one.fault;
  }
}

TEST(WrongSettings, TheSameForAnyNumberOfThreads) {
  ReadingCase alone;
  alone.options.threads = 1;
  const auto same = alone.wrong();
  ASSERT_EQ(same.size(), small_wrong().size());
  for (std::size_t i = 0; i < same.size(); ++i) {
    EXPECT_EQ(same[i].fault, small_wrong()[i].fault);
    EXPECT_EQ(same[i].kwh_per_week, small_wrong()[i].kwh_per_week);
    EXPECT_EQ(same[i].coldest_run_c, small_wrong()[i].coldest_run_c);
  }
}

}  // namespace
}  // namespace firstdraw::settings
