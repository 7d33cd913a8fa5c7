// Verdicts by hand, beside the limits: just inside, just outside, and uncertainty reaching over.
#include "prove/verdict.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "plan/expect.hpp"
#include "prove/bench.hpp"
#include "prove/field_test_job.hpp"
#include "prove/instruments.hpp"

namespace firstdraw::prove {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

void expect_grade(Grade wanted, const Reading& reading, const FieldJob& field = us()) {
  const Verdict verdict = field.judge_one(reading);
  EXPECT_EQ(verdict.grade, wanted) << name_of(reading.what) << " " << reading.value << ": " << verdict.said;
  EXPECT_FALSE(verdict.said.empty());
  EXPECT_EQ(verdict.suspect.empty(), wanted == Grade::pass) << verdict.said << " " << verdict.suspect;
  EXPECT_EQ(verdict.to_do.empty(), wanted == Grade::pass);
}

// 20 MΩ (memory) with a tester good to 5 %: 20/0.95 = 21.05 passes surely, 20/1.05 = 19.05 fails surely.
TEST(Insulation, TwentyMegohmsWithTheTestersError) {
  expect_grade(Grade::pass, us().reading(What::insulation_resistance, 21.1e6));
  expect_grade(Grade::doubt, us().reading(What::insulation_resistance, 21.0e6));
  expect_grade(Grade::doubt, us().reading(What::insulation_resistance, 19.1e6));
  expect_grade(Grade::fail, us().reading(What::insulation_resistance, 19.0e6));
}

TEST(Insulation, BeyondTheRangePassesBelowTheLimitItSaysNothing) {
  Reading reading = us().reading(What::insulation_resistance, 20e6);
  reading.at_least = true;
  expect_grade(Grade::pass, reading);
  reading.value = 10e6;
  expect_grade(Grade::doubt, reading);
}

TEST(Insulation, TestVoltage) {
  Reading reading = us().reading(What::insulation_resistance, 500e6);
  for (const auto& [volts, grade] : {std::pair{250.0, Grade::doubt},
                                     {499.0, Grade::doubt},
                                     {500.0, Grade::pass},
                                     {2500.0, Grade::pass},
                                     {5000.0, Grade::doubt}}) {
    reading.test_voltage_v = volts;
    expect_grade(grade, reading);
  }
  reading.test_voltage_v = 250;
  EXPECT_THAT(us().judge_one(reading).warnings, Contains(HasSubstr("at least 500 V")));
  reading.test_voltage_v.reset();
  expect_grade(Grade::doubt, reading);
  reading.value = 1e6;  // a fail is a fail at any voltage
  expect_grade(Grade::fail, reading);
}

// By hand: 100 MΩ at 40 °C is 400 MΩ at 20 °C, 300 to 600 by the rule's spread.
TEST(Insulation, CorrectedBesideRaw) {
  Reading reading = us().reading(What::insulation_resistance, 100e6);
  reading.cable_c = 40;
  const Verdict verdict = us().judge_one(reading);
  EXPECT_NEAR(verdict.corrected, 400e6, 1);
  EXPECT_THAT(verdict.means, AllOf(HasSubstr("400 MΩ"), HasSubstr("300 MΩ to 600 MΩ"), HasSubstr("1000 ft")));
  EXPECT_EQ(verdict.sources.front().basis, "memory");
  reading.value = 15e6;  // 60 MΩ at 20 °C: the limit is not corrected
  expect_grade(Grade::fail, reading);
}

TEST(SupplyInsulation, LimitsOfItsOwn) {
  Reading reading = us().reading(What::supply_insulation, 27e6);
  reading.test_voltage_v = 500;
  expect_grade(Grade::pass, reading);  // 208 V: 25 MΩ
  reading.value = 23e6;
  expect_grade(Grade::fail, reading);
  expect_grade(Grade::pass, reading, intl());  // 1 MΩ
  reading.value = 0.9e6;
  expect_grade(Grade::fail, reading, intl());
}

// Cable of 300 pF/m. By hand: 10 % data sheet, 5 % laying, meter 3 % + 0.1 nF; root of squares near 11.6 %,
// sum near 18.2 % of the planned length.
TEST(Capacitance, LengthAndWhatItSuggests) {
  const double length_m = us().circuit().cable_length_m, nominal = 300e-12 * length_m;
  expect_grade(Grade::pass, us().reading(What::capacitance, nominal));
  expect_grade(Grade::pass, us().reading(What::capacitance, 0.90 * nominal));
  expect_grade(Grade::doubt, us().reading(What::capacitance, 0.86 * nominal));
  expect_grade(Grade::fail, us().reading(What::capacitance, 0.80 * nominal));
  expect_grade(Grade::fail, us().reading(What::capacitance, 1.25 * nominal));
  const Verdict half = us().judge_one(us().reading(What::capacitance, 0.5 * nominal));
  EXPECT_THAT(half.suspect, HasSubstr("cut short"));
  EXPECT_THAT(half.means, HasSubstr(units::show(length_m / 2, units::Kind::length, units::System::us)));
  EXPECT_THAT(us().judge_one(us().reading(What::capacitance, 1.5 * nominal)).suspect,
              HasSubstr("nobody drew"));
}

TEST(Loop, BothReadingsGiveTheLengthWhateverTheCore) {
  const FieldJob& field = us();
  Reading closed = field.reading(What::loop_resistance, 0), open = field.reading(What::open_resistance, 0);
  closed.cable_c = open.cable_c = 20;
  // What an independent ladder says is in tests/reference; here the judge's way back.
  const double length_m = field.circuit().cable_length_m;
  closed.value = 0.3 * 0.027 * length_m;
  open.value = 40;
  const auto verdicts = field.judge({closed, open});
  EXPECT_NE(verdicts[0].grade, Grade::pass);  // far too little
  EXPECT_THAT(verdicts[0].suspect, HasSubstr("Less cable"));
  closed.value = 1e6;
  closed.at_least = true;
  expect_grade(Grade::fail, closed);
}

TEST(Continuity, OpenFails) {
  expect_grade(Grade::pass, us().reading(What::continuity, 1));
  expect_grade(Grade::fail, us().reading(What::continuity, 0));
}

// US: 6 to 50 mA (memory), 30 mA planned; tester 5 % + 0.5 mA. IEC 61008: 15 to 30 mA.
TEST(GroundFault, TripCurrent) {
  expect_grade(Grade::pass, us().reading(What::trip_current, 0.022));
  expect_grade(Grade::doubt, us().reading(What::trip_current, 0.035));  // above the setting
  expect_grade(Grade::doubt, us().reading(What::trip_current, 0.0525));
  expect_grade(Grade::fail, us().reading(What::trip_current, 0.054));
  expect_grade(Grade::fail, us().reading(What::trip_current, 0.004));
  expect_grade(Grade::pass, intl().reading(What::trip_current, 0.022), intl());
  expect_grade(Grade::doubt, intl().reading(What::trip_current, 0.0145), intl());
  expect_grade(Grade::fail, intl().reading(What::trip_current, 0.033), intl());
}

// IEC 61008-1 (read): 300, 150, 40 ms at 1, 2, 5 times; tester 1 % + 2 ms.
TEST(GroundFault, TripTime) {
  Reading reading = intl().reading(What::trip_time, 0.29);
  reading.times_rated = 1;
  expect_grade(Grade::pass, reading, intl());
  reading.value = 0.298;
  expect_grade(Grade::doubt, reading, intl());
  reading.value = 0.31;
  expect_grade(Grade::fail, reading, intl());
  reading.times_rated = 5;
  reading.value = 0.037;
  expect_grade(Grade::pass, reading, intl());
  reading.value = 0.05;
  expect_grade(Grade::fail, reading, intl());
  reading.times_rated = 3;  // the limit of twice the current still holds
  expect_grade(Grade::pass, reading, intl());
  reading.times_rated = 0.5;
  expect_grade(Grade::doubt, reading, intl());
}

TEST(GroundFault, ButtonAndLeakage) {
  expect_grade(Grade::fail, us().reading(What::trip_button, 0));
  const double explained_a = us().circuit().leakage_a;
  ASSERT_LT(explained_a, 0.004);
  expect_grade(Grade::pass, us().reading(What::leakage_current, explained_a));
  // 9 mA of 30 mA; below it, but more than the cable's capacitance explains: doubt.
  expect_grade(Grade::doubt, us().reading(What::leakage_current, 0.008));
  expect_grade(Grade::fail, us().reading(What::leakage_current, 0.0096));
}

// Pt100 at 46 °C by IEC 60751: 117.86 Ω; class B ±0.53 K, meter ±(0.2 % + 0.1 Ω) = ±0.87 K, thermometer ±2 K.
TEST(Sensor, AgainstTheContactThermometer) {
  const Reading pipe = us().reading(What::pipe_temperature, 46, Stage::before_energising);
  const auto grade = [&](double temp_c) {
    const Reading sensor =
        us().reading(What::sensor_resistance, *sensor_ohm("pt100", temp_c), Stage::before_energising);
    return us().judge({pipe, sensor})[1].grade;
  };
  EXPECT_EQ(grade(46), Grade::pass);
  EXPECT_EQ(grade(48.2), Grade::pass);  // root of squares 2.24 K
  EXPECT_EQ(grade(48.4), Grade::doubt);
  EXPECT_EQ(grade(49.2), Grade::doubt);  // sum 3.4 K
  EXPECT_EQ(grade(49.6), Grade::fail);
  EXPECT_EQ(grade(42), Grade::fail);
}

TEST(Sensor, AloneOpenAndShort) {
  Reading sensor = us().reading(What::sensor_resistance, 117.86);
  expect_grade(Grade::doubt, sensor);
  EXPECT_THAT(us().judge_one(sensor).warnings, Contains(HasSubstr("ohm of lead shifts a pt100 by +4.7 °F")));
  sensor.value = 2;
  expect_grade(Grade::fail, sensor);
  EXPECT_THAT(us().judge_one(sensor).suspect, HasSubstr("short circuit"));
  sensor.value = 1e6;
  sensor.at_least = true;
  expect_grade(Grade::fail, sensor);
  EXPECT_THAT(us().judge_one(sensor).suspect, HasSubstr("broken sensor"));
}

// Panel 208 V, 95 % to 105 %: 197.6 to 218.4 V; voltmeter 1 %.
TEST(SupplyVoltage, BandAndMistakenSupplies) {
  expect_grade(Grade::pass, us().reading(What::supply_voltage, 207));
  expect_grade(Grade::pass, us().reading(What::supply_voltage, 198));
  expect_grade(Grade::doubt, us().reading(What::supply_voltage, 196.5));
  expect_grade(Grade::fail, us().reading(What::supply_voltage, 195));
  for (const double volts : {120.0, 240.0, 277.0, 480.0}) {
    const Verdict verdict = us().judge_one(us().reading(What::supply_voltage, volts));
    EXPECT_EQ(verdict.grade, Grade::fail);
    EXPECT_THAT(verdict.suspect, HasSubstr(std::to_string(static_cast<int>(volts)) + " V supply"));
    EXPECT_THAT(verdict.to_do, HasSubstr("lock out"));
  }
  EXPECT_THAT(us().judge_one(us().reading(What::supply_voltage, 0)).suspect, HasSubstr("not energised"));
  EXPECT_THAT(us().judge_one(us().reading(What::supply_voltage, 277)).warnings, Contains(HasSubstr("277")));
}

TEST(Current, TheExpectedBandWidenedByTheClampMeter) {
  Reading reading = us().reading(What::current, 0, Stage::energised);
  reading.cable_c = 46;
  reading.volts = 207;
  const auto now = plan::expect_current(us().job, us().plan, 0, {46, 207, {}}).now;
  const double most_a = now.most_a * 1.02 + 0.05, least_a = now.least_a * 0.98 - 0.05;
  for (const auto& [amps, grade] : {std::pair{now.current_a, Grade::pass},
                                    {most_a - 0.001, Grade::pass},
                                    {most_a + 0.001, Grade::doubt},
                                    {most_a + 0.06 * now.current_a, Grade::fail},
                                    {least_a + 0.001, Grade::pass},
                                    {least_a - 0.001, Grade::doubt},
                                    {least_a - 0.06 * now.current_a, Grade::fail},
                                    {0.0, Grade::fail}}) {
    reading.value = amps;
    expect_grade(grade, reading);
  }
  EXPECT_THAT(us().judge_one(reading).suspect, HasSubstr("Nothing is drawn"));
  reading.volts = 480;
  reading.value = now.current_a;
  EXPECT_THAT(us().judge_one(reading).to_do, HasSubstr("Switch off"));
}

TEST(Current, TakesPipeAndVoltageOfTheSameVisit) {
  Reading current = us().reading(What::current, 3, Stage::energised);
  Reading pipe = us().reading(What::pipe_temperature, 20, Stage::energised);
  Reading volts = us().reading(What::supply_voltage, 200, Stage::energised);
  const double usual_a = us().judge({current, pipe, volts})[0].expected.usual;
  EXPECT_NEAR(usual_a, plan::expect_current(us().job, us().plan, 0, {20, 200, {}}).now.current_a, 1e-12);
  pipe.stage = volts.stage = Stage::periodic;
  EXPECT_LT(us().judge({current, pipe, volts})[0].expected.usual, usual_a);
}

TEST(PipeTemperature, SettledAndWarmingUp) {
  const plan::RunPlan& run = us().plan.runs[1];
  expect_grade(Grade::pass, us().reading(What::pipe_temperature, run.at_maintain_c, Stage::energised));
  // The band is the plan's worst cases and the run's own insulation, ±15 % of a rise of some 25 K at most.
  const Expected band =
      us().judge_one(us().reading(What::pipe_temperature, run.at_maintain_c, Stage::energised)).expected;
  const auto [low, high] = std::minmax({run.worst_cold_c, run.at_maintain_c, run.worst_hot_c});
  EXPECT_LT(band.least, low);
  EXPECT_GT(band.least, low - 0.15 * 26);
  EXPECT_GT(band.most, high);
  EXPECT_LT(band.most, high + 0.15 * 26);
  for (const auto& [temp_c, grade] : {std::pair{band.least + 0.1, Grade::pass},
                                      {band.least - 0.1, Grade::doubt},
                                      {band.least - 1.9, Grade::doubt},
                                      {band.least - 2.1, Grade::fail},
                                      {band.most + 1.9, Grade::doubt},
                                      {band.most + 2.1, Grade::fail}})
    expect_grade(grade, us().reading(What::pipe_temperature, temp_c, Stage::energised));
  Reading cold = us().reading(What::pipe_temperature, 21, Stage::energised);
  expect_grade(Grade::fail, cold);
  cold.minutes = 5;  // just switched on
  expect_grade(Grade::pass, cold);
  cold.minutes = 60 * 48;
  expect_grade(Grade::fail, cold);
  expect_grade(Grade::pass, us().reading(What::pipe_temperature, 10, Stage::fixed));  // nothing expected
}

// Room hold's time to the maintain temperature, whose loss is not taken as a straight line, turned round.
TEST(PipeTemperature, WarmsUpAsRoomHoldSays) {
  for (int each = 0; each < 4; ++each) {
    const plan::RunPlan& run = us().plan.runs[static_cast<std::size_t>(each)];
    if (!std::isfinite(run.warm_up_s)) continue;
    Reading start = us().reading(What::pipe_temperature, us().job.requirements.start_c, Stage::energised);
    start.run = us().job.runs[static_cast<std::size_t>(each)].id;
    start.minutes = 0;
    Reading then = start;
    then.value = 46;
    then.minutes = run.warm_up_s / 60;
    const Verdict verdict = us().judge({start, then})[1];
    EXPECT_NEAR(verdict.expected.usual, std::min(46.0, run.at_maintain_c), 1) << start.run;
    EXPECT_LT(verdict.expected.least, verdict.expected.usual);
    EXPECT_GT(verdict.expected.most, verdict.expected.usual);
  }
}

TEST(Tap, HotScaldsAndSaysSo) {
  const FieldJob& field = us();
  const Verdict hot = field.judge_one(field.reading(What::tap_temperature, 70, Stage::energised));
  if (std::isfinite(hot.expected.most)) {
    EXPECT_EQ(hot.grade, Grade::fail);
    EXPECT_THAT(hot.to_do, HasSubstr("burns skin"));
  } else {
    EXPECT_THAT(hot.warnings, Contains(HasSubstr("burns skin")));
  }
}

TEST(Control, SetPointAmbientAndDuty) {
  expect_grade(Grade::pass, us().reading(What::set_point, 46));
  expect_grade(Grade::doubt, us().reading(What::set_point, 46.5));
  expect_grade(Grade::fail, us().reading(What::set_point, 60));
  EXPECT_THAT(us().judge_one(us().reading(What::set_point, 60)).to_do, HasSubstr("scald"));
  expect_grade(Grade::pass, us().reading(What::entered_ambient, 21));
  expect_grade(Grade::fail, us().reading(What::entered_ambient, 30));
  const double duty = us().plan.groups[0].duty;
  expect_grade(Grade::pass, us().reading(What::duty, duty));
  expect_grade(Grade::fail, us().reading(What::duty, 0.01));
  expect_grade(Grade::pass, us().reading(What::sensor_reading, 46, Stage::energised));
  expect_grade(Grade::fail, us().reading(What::sensor_reading, 30, Stage::energised));
}

TEST(States, ContactorBreakerInsulationMarking) {
  Reading contactor = us().reading(What::contactor, 1);
  expect_grade(Grade::doubt, contactor);
  contactor.called = true;
  expect_grade(Grade::pass, contactor);
  contactor.called = false;
  expect_grade(Grade::fail, contactor);
  EXPECT_THAT(us().judge_one(contactor).to_do, HasSubstr("scald"));
  expect_grade(Grade::fail, us().reading(What::breaker, 0, Stage::energised));
  expect_grade(Grade::doubt, us().reading(What::breaker, 1, Stage::before_energising));
  expect_grade(Grade::fail, us().reading(What::insulation_seen, 0));
  expect_grade(Grade::fail, us().reading(What::insulation_walked, 0));
  expect_grade(Grade::pass, us().reading(What::insulation_walked, 1));
  Reading sensor = us().reading(What::sensor_position, 0);
  sensor.text = "as planned";
  expect_grade(Grade::pass, sensor);
  sensor.text = "off pipe";
  expect_grade(Grade::fail, sensor);
  EXPECT_THAT(us().judge_one(sensor).suspect, HasSubstr("scald"));
  Reading marking = us().reading(What::cable_marking, 0);
  marking.text = "LARKSPUR " + us().sheet().id + " 208 V";
  expect_grade(Grade::pass, marking);
  marking.text = us().sheet().id == "mild" ? "STRONG 208V" : "MILD 208V";
  expect_grade(Grade::fail, marking);
  marking.text = "unreadable";
  expect_grade(Grade::doubt, marking);
}

// By hand: R2 at 46 °C (115 °F) in air of 21 °C (70 °F) loses some 7 W/m through a jacket of 0.24 m round,
// and 9 W/(m2 K) of film leave it 3 K above the air; 40 °C (104 °F) is no dry insulation, 25 °C (77 °F) is.
TEST(Temperature, AJacketIsLittleWarmerThanItsAir) {
  Reading jacket = us().reading(What::surface_temperature, 25);
  expect_grade(Grade::pass, jacket);
  jacket.value = 40;
  expect_grade(Grade::fail, jacket);
  EXPECT_THAT(us().judge_one(jacket).suspect, HasSubstr("wet"));
}

TEST(Instruments, OverdueCalibrationMissingSerialAndUsualErrorAreSaid) {
  Reading reading = us().reading(What::supply_voltage, 207);
  EXPECT_THAT(us().judge_one(reading).warnings, IsEmpty());
  EXPECT_THAT(us().judge_one(reading).assumed, IsEmpty());
  reading.instrument = {"voltmeter", "", "2026-11-28", {}};
  reading.at = "2026-11-29T08:00";
  const Verdict verdict = us().judge_one(reading);
  EXPECT_THAT(verdict.warnings, AllOf(Contains(HasSubstr("serial")), Contains(HasSubstr("overdue"))));
  EXPECT_THAT(verdict.assumed, Contains(HasSubstr("common practice, no source")));
  reading.at = "2026-11-28T23:00";
  EXPECT_THAT(us().judge_one(reading).warnings, Not(Contains(HasSubstr("overdue"))));
}

TEST(Judge, AReadingOfAnEarlierPlanIsADoubt) {
  for (const WhatHelp& help : what_help()) {
    Reading reading = us().reading(help.what, 1);
    for (std::string* id : {&reading.circuit, &reading.group, &reading.run})
      if (!id->empty()) *id = "gone";
    EXPECT_EQ(us().grade(reading), Grade::doubt) << help.name;
  }
}

TEST(Judge, AnyFigureIsJudgedWithoutTrouble) {
  for (const WhatHelp& help : what_help())
    for (const double value : {0.0, 1.0, 1e9})
      for (const bool at_least : {false, true})
        for (const auto& minutes : {std::optional<double>(), std::optional(30.0)}) {
          if (is_yes_no(help.what) && value != 0 && value != 1) continue;
          Reading reading = us().reading(help.what, value, Stage::energised);
          reading.at_least = at_least;
          reading.minutes = minutes;
          EXPECT_FALSE(us().judge_one(reading).said.empty()) << help.name << value;
        }
}

// A regression, no evidence: readings made from the plan's own nominal state pass.
TEST(Regression, TheNominalStatePassesATimesThousand) {
  const FieldJob& field = us();
  std::vector<Reading> all;
  const double length_m = field.circuit().cable_length_m;
  for (int each = 0; each < 1000; ++each) {
    const double share = each / 999.0;
    Reading reading;
    switch (each % 8) {
      case 0:
        reading = field.reading(What::insulation_resistance, (100 + 900 * share) * 1e6);
        break;
      case 1:
        reading = field.reading(What::capacitance, 300e-12 * length_m * (0.97 + 0.06 * share));
        break;
      case 2:
        reading = field.reading(What::supply_voltage, 200 + 16 * share, Stage::before_energising);
        break;
      case 3:
        reading = field.reading(What::pipe_temperature, 0, Stage::energised);
        reading.run = field.job.runs[static_cast<std::size_t>(each / 8 % 4)].id;
        reading.value = field.plan.runs[static_cast<std::size_t>(each / 8 % 4)].at_maintain_c;
        break;
      case 4:
        reading = field.reading(What::duty, field.plan.groups[0].duty, Stage::periodic);
        break;
      case 5:
        reading = field.reading(What::leakage_current, field.circuit().leakage_a * share);
        break;
      case 6:
        reading = field.reading(What::trip_current, 0.012 + 0.015 * share);
        break;
      default:
        reading = field.reading(What::current, 0, Stage::energised);
        reading.cable_c = 10 + 45 * share;
        reading.volts = 200 + 16 * share;
        reading.value = plan::expect_current(field.job, field.plan, 0, {reading.cable_c, reading.volts, {}})
                            .now.current_a;
    }
    all.push_back(reading);
  }
  for (const Verdict& verdict : field.judge(all)) EXPECT_EQ(verdict.grade, Grade::pass) << verdict.said;
}

}  // namespace
}  // namespace firstdraw::prove
