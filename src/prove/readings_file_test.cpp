// Files as spreadsheets write them, and every slip a technician makes.
#include "prove/readings_file.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <random>

#include "prove/field_test_job.hpp"

namespace firstdraw::prove {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::SizeIs;

std::vector<Reading> read(std::string_view text) {
  auto readings = read_readings(text, "readings.csv", us().job, us().plan);
  if (readings) return *readings;
  for (const auto& problem : readings.error()) ADD_FAILURE() << problem.text();
  return {};
}

std::vector<std::string> complaints(std::string_view text) {
  const auto readings = read_readings(text, "readings.csv", us().job, us().plan);
  std::vector<std::string> texts;
  if (readings) return texts;
  for (const auto& problem : readings.error()) texts.push_back(problem.text());
  return texts;
}

TEST(ReadReadings, UnitsInTheCellInAnyOrderOfColumns) {
  const auto all = read(
      "Value,What,circuit,stage,test voltage,cable,note\n"
      ">2000 MΩ,insulation-resistance,C01,fixed,1000,68 °F,first\n"
      "> 2 GOhm,Insulation Resistance,C01,insulated,2500 V,20 °C,\n"
      "4.2 A,current,C01,energised,,,\n"
      "OL,loop-resistance,C01,,,,\n"
      "closed,continuity,C01,,,,\n");
  ASSERT_THAT(all, SizeIs(5));
  EXPECT_EQ(all[0].value, 2e9);
  EXPECT_TRUE(all[0].at_least);
  EXPECT_EQ(all[0].test_voltage_v, 1000);
  EXPECT_NEAR(*all[0].cable_c, 20, 1e-12);
  EXPECT_EQ(all[0].place.line, 2);
  EXPECT_EQ(all[1].value, 2e9);
  EXPECT_EQ(all[1].what, What::insulation_resistance);
  EXPECT_EQ(all[1].stage, Stage::insulated);
  EXPECT_EQ(all[2].value, 4.2);
  EXPECT_TRUE(all[3].at_least);
  EXPECT_EQ(all[4].value, 1);
}

TEST(ReadReadings, ASpreadsheetOfADecimalCommaCountry) {
  const auto all = read(
      "\xEF\xBB\xBFsep=;\r\nwhat;circuit;run;value [A];error;serial\r\n"
      "current;C01;;4,25;2,5 % + 0,05 A;A-1\r\n"
      ";;;;;\r\n\r\n"
      "pipe-temperature;;R2;118,4 °F;;\r\n");
  ASSERT_THAT(all, SizeIs(2));
  EXPECT_EQ(all[0].value, 4.25);
  EXPECT_EQ(all[0].instrument.error, (InstrumentError{0.025, 0.05}));
  EXPECT_EQ(all[0].instrument.serial, "A-1");
  EXPECT_NEAR(all[1].value, 48, 1e-12);
  EXPECT_EQ(all[1].place.line, 6);
}

TEST(ReadReadings, ABareNumberTakesTheJobsUnitOnlyWhereThereIsNoDoubt) {
  EXPECT_NEAR(read("what,run,value\npipe-temperature,R2,118.4\n").at(0).value, 48, 1e-12);
  EXPECT_EQ(read("what,circuit,value\nsupply-voltage,C01,207\n").at(0).value, 207);
  EXPECT_THAT(complaints("what,circuit,value\ninsulation-resistance,C01,200\n"),
              ElementsAre(HasSubstr("\"200\" has no unit")));
  EXPECT_THAT(complaints("what,circuit,value\nleakage-current,C01,3\n"), ElementsAre(HasSubstr("no unit")));
  EXPECT_EQ(read("what,circuit,value (mA)\nleakage-current,C01,3\n").at(0).value, 0.003);
}

TEST(ReadReadings, ARowWithoutValueIsSkipped) {
  EXPECT_THAT(read("what,circuit,value\ncurrent,C01,\ncurrent,C01,4 A\n"), SizeIs(1));
}

TEST(ReadReadings, EverySlipAtOnceWithPlaceAndNearestName) {
  EXPECT_THAT(complaints("what,circuit,run,value,stage,at,calibration_due\n"
                         "curent,C01,,4 A,,,\n"
                         "current,C1,,4 V,enrgised,,\n"
                         "pipe-temperature,,,48 °C,,11/29/2026,2026-02-30\n"
                         "duty,,,40 %,,,\n"),
              ElementsAre(AllOf(HasSubstr("readings.csv:2"), HasSubstr("what"), HasSubstr("\"current\"")),
                          AllOf(HasSubstr("readings.csv:3"), HasSubstr("value"), HasSubstr("V")),
                          AllOf(HasSubstr("readings.csv:3"), HasSubstr("circuit \"C1\""), HasSubstr("C01")),
                          AllOf(HasSubstr("readings.csv:3"), HasSubstr("stage"), HasSubstr("energised")),
                          AllOf(HasSubstr("readings.csv:4"), HasSubstr("run"), HasSubstr("is missing")),
                          AllOf(HasSubstr("readings.csv:4"), HasSubstr("at"), HasSubstr("2026-11-29T14:05")),
                          AllOf(HasSubstr("readings.csv:4"), HasSubstr("calibration_due")),
                          AllOf(HasSubstr("readings.csv:5"), HasSubstr("group"), HasSubstr("is missing"))));
}

TEST(ReadReadings, SlipsOfTheHeadingAreSaidBeforeAnyRow) {
  EXPECT_THAT(complaints("what,circut,value,value\ncurrent,C01,1 A,1 A\n"),
              ElementsAre(AllOf(HasSubstr("circut"), HasSubstr("circuit")), HasSubstr("two columns")));
  EXPECT_THAT(complaints("circuit,stage\nC01,fixed\n"), ElementsAre(HasSubstr("what"), HasSubstr("value")));
  EXPECT_THAT(complaints(""), SizeIs(2));
}

TEST(ReadReadings, WhatCannotBeMeantIsRefused) {
  const auto one = [](std::string_view what_and_value) {
    const auto all = complaints("what,circuit,value\n" + std::string(what_and_value) + "\n");
    return all.empty() ? std::string("accepted") : all.front();
  };
  EXPECT_THAT(one("insulation-resistance,C01,OL"), HasSubstr(">2000 MΩ"));
  EXPECT_THAT(one("leakage-current,C01,<1 mA"), HasSubstr("below the instrument's range"));
  EXPECT_THAT(one("current,C01,-2 A"), HasSubstr("zero or more"));
  EXPECT_THAT(one("continuity,C01,maybe"), HasSubstr("yes or no"));
  EXPECT_THAT(one("current,C01,\"4,2 A\""), HasSubstr("4,2 A"));
  EXPECT_THAT(one("current,C01,4,2 A"), HasSubstr("more cells"));
  EXPECT_THAT(one("sensor-resistance,C01,110 ohm"), HasSubstr("sensor"));
}

TEST(ReadReadings, AFileThatIsNoTextIsOneError) {
  EXPECT_THAT(complaints(std::string_view("what,value\n\0", 12)), ElementsAre(HasSubstr("NUL")));
  EXPECT_THAT(complaints("what,value\ncurrent,\"4 A\n"), ElementsAre(HasSubstr("never closes")));
}

/// Any reading that can be written: every field at random, figures of all sizes.
Reading any_reading(std::mt19937_64& random) {
  const auto below = [&](std::size_t n) {
    return std::uniform_int_distribution<std::size_t>(0, n - 1)(random);
  };
  const auto maybe = [&](double low, double high) {
    return below(2) ? std::optional(std::uniform_real_distribution<double>(low, high)(random)) : std::nullopt;
  };
  const auto word = [&] {
    constexpr std::array words{"", "a", "x, y; \"z\"", " blanks ", "#1", "Ω µ", "two\nlines", "0,5"};
    return std::string(words[below(words.size())]);
  };
  Reading reading = us().reading(what_help()[below(what_help().size())].what, 0);
  const auto kind = help_of(reading.what).kind;
  using units::Kind;
  if (reading.what == What::sensor_position) {
    reading.text = sensor_positions()[below(sensor_positions().size())];
  } else if (is_text(reading.what)) {
    reading.text = "MILD 208 V";
  } else if (is_yes_no(reading.what)) {
    reading.value = static_cast<double>(below(2));
  } else {
    const double decade = std::pow(10, static_cast<double>(below(16)) - 9);
    reading.value = *kind == Kind::temperature ? maybe(-50, 150).value_or(48)
                    : *kind == Kind::voltage   ? maybe(0, 1000).value_or(207)
                    : *kind == Kind::fraction  ? maybe(0, 1).value_or(0.4)
                    : *kind == Kind::duration  ? maybe(0, 3000).value_or(0.04)
                                               : decade * maybe(1, 10).value_or(4.2);
    reading.at_least = below(5) == 0;
  }
  if (below(2)) reading.stage = static_cast<Stage>(below(6));
  reading.test_voltage_v = maybe(100, 2500);
  reading.cable_c = maybe(-10, 60);
  reading.volts = maybe(100, 300);
  reading.minutes = maybe(0, 500);
  reading.times_rated = maybe(1, 5);
  if (below(2)) reading.called = below(2) == 1;
  if (below(2)) reading.sensor_kind = "ntc10k";
  constexpr std::array dates{"", "2026-11-29", "2026-11-29T14:05", "2026-11-29 14:05:30+02:00"};
  reading.at = dates[below(dates.size())];
  reading.who = word();
  reading.note = word();
  reading.instrument = {word(), word(), below(2) ? "2027-03-01" : "", {}};
  if (kind && below(2))
    reading.instrument.error = InstrumentError{maybe(0, 0.2).value_or(0), maybe(0, 0.5).value_or(0)};
  return reading;
}

TEST(WriteReadings, ReadsBackToTheSame) {
  std::mt19937_64 random(20261129);
  std::vector<Reading> all;
  for (int each = 0; each < 2000; ++each) all.push_back(any_reading(random));
  for (const units::System system : {units::System::us, units::System::metric}) {
    job::Job job = us().job;
    job.units = system;
    const auto back = read_readings(write_readings(all, job), "readings.csv", job, us().plan);
    ASSERT_TRUE(back) << back.error().front().text();
    ASSERT_EQ(back->size(), all.size());
    for (std::size_t each = 0; each < all.size(); ++each)
      ASSERT_TRUE((*back)[each] == all[each]) << write_readings({all[each], (*back)[each]}, job);
  }
}

TEST(Body, ReadsBackToTheSame) {
  std::mt19937_64 random(1);
  std::vector<Reading> all;
  for (int each = 0; each < 500; ++each) all.push_back(any_reading(random));
  const auto back = from_body(to_body(all));
  ASSERT_TRUE(back) << back.error();
  EXPECT_EQ(*back, all);
  EXPECT_EQ(to_body(*back), to_body(all));
}

TEST(Body, EveryFaultIsOneSentence) {
  const auto fault = [](std::string_view body) {
    const auto read = from_body(body);
    return read ? std::string("accepted") : read.error();
  };
  EXPECT_THAT(fault("{"), HasSubstr("no JSON"));
  EXPECT_THAT(fault("[]"), HasSubstr("no list"));
  EXPECT_THAT(fault(R"({"readings":[1]})"), HasSubstr("reading 1 must be an object"));
  EXPECT_THAT(fault(R"({"readings":[{"what":"curent","value":1}]})"), HasSubstr("curent"));
  EXPECT_THAT(fault(R"({"readings":[{"what":"current"}]})"), HasSubstr("value is missing"));
  EXPECT_THAT(fault(R"({"readings":[{"what":"current","value":"1"}]})"), HasSubstr("must be a number"));
  EXPECT_THAT(fault(R"({"readings":[{"what":"current","value":1e999}]})"), HasSubstr("JSON"));
  EXPECT_THAT(fault(R"({"readings":[{"what":"current","value":1,"volt":1}]})"), HasSubstr("volts"));
  EXPECT_THAT(fault(R"({"readings":[{"what":"breaker","value":2}]})"), HasSubstr("0 or 1"));
  EXPECT_THAT(fault(R"({"readings":[],"more":1})"), HasSubstr("other than"));
  EXPECT_EQ(fault(R"({"readings":[]})"), "accepted");
}

TEST(ReadReadings, WhereASensorSitsIsOneOfFourPlaces) {
  const auto all =
      read("what,group,value\nsensor-position,main,Beside the cable\nsensor position,main,off-pipe\n");
  ASSERT_THAT(all, SizeIs(2));
  EXPECT_EQ(all[0].text, "beside cable");
  EXPECT_EQ(all[1].text, "off pipe");
  EXPECT_THAT(complaints("what,group,value\nsensor-position,main,of pipe\n"),
              testing::ElementsAre(AllOf(HasSubstr("no place of a sensor"), HasSubstr("off pipe"))));
  EXPECT_FALSE(from_body(R"({"readings":[{"what":"sensor-position","text":"somewhere"}]})"));
  EXPECT_TRUE(from_body(R"({"readings":[{"what":"sensor-position","text":"off pipe"}]})"));
}

TEST(WhatHelp, NamesArePlainAndFoundAgain) {
  for (const WhatHelp& help : what_help()) {
    EXPECT_EQ(name_of(help.what), help.name);
    EXPECT_TRUE(help.place == "circuit" || help.place == "group" || help.place == "run" ||
                help.place == "outlet");
  }
  EXPECT_EQ(what_help().size(), static_cast<std::size_t>(What::breaker) + 1);
  EXPECT_EQ(stage_named("before-energizing"), Stage::before_energising);
  EXPECT_FALSE(stage_named("after"));
}

}  // namespace
}  // namespace firstdraw::prove
