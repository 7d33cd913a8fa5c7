#include "units/quantity.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace firstdraw::units {
namespace {

using testing::HasSubstr;

double read(std::string_view text, Kind kind, std::optional<std::string_view> bare = std::nullopt) {
  const auto value = parse(text, kind, bare);
  EXPECT_TRUE(value.has_value()) << text << ": " << (value ? "" : value.error());
  return value.value_or(std::numeric_limits<double>::quiet_NaN());
}

std::string complaint(std::string_view text, Kind kind) {
  const auto value = parse(text, kind);
  EXPECT_FALSE(value.has_value()) << text << " read as " << value.value_or(0);
  return value ? "" : value.error();
}

struct Reading {
  std::string_view text;
  Kind kind;
  double si;
};
void PrintTo(const Reading& r, std::ostream* out) { *out << r.text; }

class Readings : public testing::TestWithParam<Reading> {};

TEST_P(Readings, AsWritten) {
  const auto& [text, kind, si] = GetParam();
  EXPECT_NEAR(read(text, kind), si, std::abs(si) * 1e-14);
}

INSTANTIATE_TEST_SUITE_P(
    Lengths, Readings,
    testing::Values(Reading{"12", Kind::fraction, 12}, Reading{"3.5 m", Kind::length, 3.5},
                    Reading{"3.5m", Kind::length, 3.5}, Reading{"22 mm", Kind::size, 0.022},
                    Reading{"2.2 cm", Kind::size, 0.022}, Reading{"12 ft", Kind::length, 3.6576},
                    Reading{"12'", Kind::length, 3.6576}, Reading{"12′", Kind::length, 3.6576},
                    Reading{"3 feet", Kind::length, 0.9144}, Reading{"1 yd", Kind::length, 0.9144},
                    Reading{"1 in", Kind::size, 0.0254}, Reading{"1\"", Kind::size, 0.0254},
                    Reading{"1 in.", Kind::size, 0.0254}, Reading{"1 Inch", Kind::size, 0.0254},
                    Reading{"3/4in", Kind::size, 0.01905}, Reading{"3/4-in", Kind::size, 0.01905},
                    Reading{"1-1/2 in", Kind::size, 0.0381}, Reading{"1 1/2 in", Kind::size, 0.0381},
                    Reading{"1½ in", Kind::size, 0.0381}, Reading{"1½″", Kind::size, 0.0381},
                    Reading{"12' 6\"", Kind::length, 3.81}, Reading{"12'-6\"", Kind::length, 3.81},
                    Reading{"12 ft 6 in", Kind::length, 3.81}, Reading{"12'6\"", Kind::length, 3.81},
                    Reading{"12' 6-1/2\"", Kind::length, 3.8227}, Reading{"-1' 6\"", Kind::length, -0.4572},
                    Reading{"25 METRES", Kind::length, 25}, Reading{"1e-3 km", Kind::length, 1},
                    Reading{".5 m", Kind::length, 0.5}, Reading{"−2 m", Kind::length, -2}));

INSTANTIATE_TEST_SUITE_P(
    Heat, Readings,
    testing::Values(
        Reading{"115F", Kind::temperature, 415.0 / 9}, Reading{"115 °F", Kind::temperature, 415.0 / 9},
        Reading{"115 degF", Kind::temperature, 415.0 / 9},
        Reading{"115 deg. F", Kind::temperature, 415.0 / 9},
        Reading{"115 degrees Fahrenheit", Kind::temperature, 415.0 / 9},
        Reading{"115 f", Kind::temperature, 415.0 / 9}, Reading{"32 °F", Kind::temperature, 0},
        Reading{"212 ºF", Kind::temperature, 100}, Reading{"46 °C", Kind::temperature, 46},
        Reading{"46C", Kind::temperature, 46}, Reading{"46 ℃", Kind::temperature, 46},
        Reading{"-5 celsius", Kind::temperature, -5}, Reading{"9 °F", Kind::temperature_difference, 5},
        Reading{"9 F°", Kind::temperature_difference, 5}, Reading{"9 degF", Kind::temperature_difference, 5},
        Reading{"5 K", Kind::temperature_difference, 5}, Reading{"5 °C", Kind::temperature_difference, 5},
        Reading{"8 W/m", Kind::power_per_length, 8}, Reading{"8 watts per metre", Kind::power_per_length, 8},
        Reading{"3 W/ft", Kind::power_per_length, 3 / 0.3048},
        Reading{"3 w/ft", Kind::power_per_length, 3 / 0.3048}, Reading{"0.8 kW", Kind::power, 800},
        Reading{"5 MW", Kind::power, 5e6}, Reading{"5 mW", Kind::power, 5e-3},
        Reading{"2 kWh", Kind::energy, 7.2e6}, Reading{"90 min", Kind::duration, 5400},
        Reading{"2 hours", Kind::duration, 7200}, Reading{"1 day", Kind::duration, 86400},
        Reading{"180 deg", Kind::angle, std::numbers::pi}, Reading{"180°", Kind::angle, std::numbers::pi},
        Reading{"80 %", Kind::fraction, 0.8}, Reading{"80 percent", Kind::fraction, 0.8}));

INSTANTIATE_TEST_SUITE_P(
    Electricity, Readings,
    testing::Values(
        Reading{"208 V", Kind::voltage, 208}, Reading{"208V", Kind::voltage, 208},
        Reading{"230 V ac", Kind::voltage, 230}, Reading{"1 kV", Kind::voltage, 1000},
        Reading{"30 mA", Kind::current, 0.03}, Reading{"16 amps", Kind::current, 16},
        Reading{"0.1 A/ft", Kind::current_per_length, 0.1 / 0.3048},
        Reading{"0.1 A/m", Kind::current_per_length, 0.1}, Reading{"10 Ω", Kind::resistance, 10},
        Reading{"10 ohms", Kind::resistance, 10}, Reading{"20 MΩ", Kind::resistance, 2e7},
        Reading{"20 Mohm", Kind::resistance, 2e7}, Reading{"20 megohms", Kind::resistance, 2e7},
        Reading{"20 mΩ", Kind::resistance, 0.02}, Reading{"27 ohm/km", Kind::resistance_per_length, 0.027},
        Reading{"27 mΩ/m", Kind::resistance_per_length, 0.027},
        Reading{"1.98 ohm/kft", Kind::resistance_per_length, 1.98 / 304.8},
        Reading{"1.98 Ω/1000 ft", Kind::resistance_per_length, 1.98 / 304.8},
        Reading{"0.45 nF/m", Kind::capacitance_per_length, 0.45e-9},
        Reading{"450 pF/m", Kind::capacitance_per_length, 0.45e-9},
        Reading{"0.3048 nF/ft", Kind::capacitance_per_length, 1e-9},
        Reading{"304.8 pF/ft", Kind::capacitance_per_length, 1e-9}, Reading{"60 Hz", Kind::frequency, 60},
        Reading{"2 GΩ", Kind::resistance, 2e9}, Reading{"2 GOhm", Kind::resistance, 2e9},
        Reading{"2 gigohms", Kind::resistance, 2e9}, Reading{"1.2 kΩ", Kind::resistance, 1200},
        Reading{"0.1 TΩ", Kind::resistance, 1e11}, Reading{"80 µA", Kind::current, 80e-6},
        Reading{"45 nF", Kind::capacitance, 45e-9}, Reading{"0.045 µF", Kind::capacitance, 45e-9},
        Reading{"0.045 uF", Kind::capacitance, 45e-9}, Reading{"450 pF", Kind::capacitance, 0.45e-9}));

INSTANTIATE_TEST_SUITE_P(
    Water, Readings,
    testing::Values(
        Reading{"3 L", Kind::volume, 0.003}, Reading{"3 litres", Kind::volume, 0.003},
        Reading{"1 gal", Kind::volume, 3.785411784e-3}, Reading{"128 fl oz", Kind::volume, 3.785411784e-3},
        Reading{"1 ft3", Kind::volume, 0.028316846592}, Reading{"1 cu ft", Kind::volume, 0.028316846592},
        Reading{"6 L/min", Kind::volume_flow, 1e-4}, Reading{"6 l/min", Kind::volume_flow, 1e-4},
        Reading{"1 gpm", Kind::volume_flow, 3.785411784e-3 / 60},
        Reading{"2 gallons per minute", Kind::volume_flow, 2 * 3.785411784e-3 / 60},
        Reading{"0.1 L/s", Kind::volume_flow, 1e-4}, Reading{"0.36 m3/h", Kind::volume_flow, 1e-4},
        Reading{"100 mL/s", Kind::volume_flow, 1e-4}, Reading{"10 kg", Kind::mass, 10},
        Reading{"1 lb", Kind::mass, 0.45359237}, Reading{"2 sq ft", Kind::area, 2 * 0.09290304},
        Reading{"2 ft²", Kind::area, 2 * 0.09290304}, Reading{"2 ft^2", Kind::area, 2 * 0.09290304}));

// Factors of NIST SP 811 (2008) Appendix B.8, seven digits, from memory: Btu(IT)·ft/(h·ft2·F) 1.730735
// W/(m·K), Btu(IT)·in/(h·ft2·F) 0.1442279 W/(m·K), Btu(IT)/(h·ft2·F) 5.678263 W/(m2·K), Btu(IT)/h 0.2930711
// W.
TEST(Factors, AgreeWithNist) {
  for (const auto* text : {"1 Btu/(h ft F)", "1 Btu/h·ft·°F", "1 BTU/hr-ft-F", "1 btu/h.ft.degF"}) {
    EXPECT_NEAR(read(text, Kind::conductivity), 1.730735, 5e-7) << text;
  }
  for (const auto* text :
       {"1 Btu in/(h ft2 F)", "1 Btu.in/h.ft2.F", "1 Btu·in/(h·ft²·°F)", "1 BTU-in/hr-sq ft-F"}) {
    EXPECT_NEAR(read(text, Kind::conductivity), 0.1442279, 5e-8) << text;
  }
  EXPECT_NEAR(read("1 Btu/(h·ft²·°F)", Kind::film_coefficient), 5.678263, 5e-7);
  EXPECT_NEAR(read("1 Btu/h", Kind::power), 0.2930711, 5e-8);
  for (const auto* text :
       {"1 Btu/h·ft", "1 Btu/(h ft)", "1 BTU/hr-ft", "1 btu/h.ft", "1 Btu/h/ft", "1 Btuh/ft"}) {
    EXPECT_NEAR(read(text, Kind::power_per_length), 0.2930711 / 0.3048, 5e-7) << text;
  }
  for (const auto* text :
       {"0.036 W/(m K)", "0.036 W/mK", "0.036 W/m·K", "0.036 W/m/K", "36 mW/(m K)", "0.036 W/m°C"}) {
    EXPECT_DOUBLE_EQ(read(text, Kind::conductivity), 0.036) << text;
  }
}

TEST(Parse, DecimalsInCommonUnitsGiveTheSameDoubleAsInSi) {
  EXPECT_EQ(read("22 mm", Kind::size), 0.022);
  EXPECT_EQ(read("3/4 in", Kind::size), 0.01905);
  EXPECT_EQ(read("12 ft", Kind::length), 3.6576);
  EXPECT_EQ(read("80 %", Kind::fraction), 0.8);
  EXPECT_EQ(read("30 mA", Kind::current), 0.03);
}

TEST(Parse, BareNumberTakesTheUnitOfItsColumn) {
  EXPECT_DOUBLE_EQ(read("12", Kind::length, "ft"), 3.6576);
  EXPECT_DOUBLE_EQ(read("12 m", Kind::length, "ft"), 12);
  EXPECT_THAT(complaint("12", Kind::length), HasSubstr("no unit"));
  EXPECT_DOUBLE_EQ(read("80", Kind::fraction, "%"), 0.8);
}

TEST(Parse, CommaIsAnError) {
  EXPECT_THAT(complaint("1,5 m", Kind::length), HasSubstr("comma"));
  EXPECT_THAT(complaint("1,500 ft", Kind::length), HasSubstr("comma"));
}

TEST(Parse, NamesTheNearestUnit) {
  EXPECT_THAT(complaint("3 fot", Kind::length), HasSubstr("did you mean \"ft\"?"));
  EXPECT_THAT(complaint("3 W/mm", Kind::power_per_length), HasSubstr("did you mean \"W/m\"?"));
  EXPECT_THAT(complaint("3 furlong", Kind::length), HasSubstr("known: m, mm, cm, km, ft, in, yd"));
  EXPECT_THAT(complaint("3 kWh", Kind::length), HasSubstr("measures an energy"));
}

TEST(Parse, PrefixesKeepTheirCase) {
  EXPECT_THAT(complaint("30 MA", Kind::current), HasSubstr("unknown unit"));
  EXPECT_THAT(complaint("30 MV", Kind::voltage), HasSubstr("unknown unit"));
  EXPECT_DOUBLE_EQ(read("30 MM", Kind::size), 0.03);
}

TEST(Parse, RejectsWhatIsNoQuantity) {
  for (const auto* text :
       {"", " ", "m", "nan m", "inf m", "0x10 m", "--3 m", "3 (m", "1/0 in", "1 3/0 in", "1e999 m", "5' 14\"",
        "5' 6 m", "5' 6", "5 m 6 in", "3 m m m", "1.2.3 m", "3 / m", "\xff m"}) {
    complaint(text, Kind::length);
  }
  EXPECT_THAT(complaint("300 K", Kind::temperature), HasSubstr("temperature difference"));
  complaint("5", Kind::temperature_difference);
}

TEST(Show, DecimalsSuitTheUnit) {
  EXPECT_EQ(show(415.0 / 9, Kind::temperature, System::us), "115 °F");
  EXPECT_EQ(show(46, Kind::temperature, System::metric), "46 °C");
  EXPECT_EQ(show(46.06, Kind::temperature, System::metric), "46.1 °C");
  EXPECT_EQ(show(3.81, Kind::length, System::us), "12.5 ft");
  EXPECT_EQ(show(6.3, Kind::power_per_length, System::metric), "6.3 W/m");
  EXPECT_EQ(show(6.3, Kind::power_per_length, System::us), "1.92 W/ft");
  EXPECT_EQ(show(2 * 3.785411784e-3 / 60, Kind::volume_flow, System::us), "2 gpm");
  EXPECT_EQ(show(7e-3 / 60, Kind::volume_flow, System::metric), "7 L/min");
  EXPECT_EQ(show(0.0381, Kind::size, System::us), "1.5 in");
  EXPECT_EQ(show(0.8, Kind::fraction, System::us), "80 %");
  EXPECT_EQ(show(-0.001, Kind::temperature, System::metric), "-0.001 °C");
  EXPECT_EQ(show(0.0, Kind::power, System::metric), "0 W");
  EXPECT_EQ(show(-0.0, Kind::power, System::metric), "0 W");
  EXPECT_EQ(show(12345.6, Kind::power_per_length, System::metric), "12346 W/m");
  EXPECT_EQ(show(std::numbers::pi, Kind::angle, System::us), "180 °");
  EXPECT_EQ(show_number(415.0 / 9, Kind::temperature, System::us), "115.0");
  EXPECT_EQ(show_number(0.0381, Kind::size, System::us), "1.5");
}

TEST(Show, DurationsInTheUnitThatSuits) {
  EXPECT_EQ(show(60, Kind::duration, System::us), "60 s");
  EXPECT_EQ(show(600, Kind::duration, System::us), "10 min");
  EXPECT_EQ(show(9000, Kind::duration, System::us), "2.5 h");
  EXPECT_EQ(show(259200, Kind::duration, System::us), "3 d");
}

TEST(Show, ResistancesInTheUnitThatSuits) {
  EXPECT_EQ(show(2.58, Kind::resistance, System::us), "2.58 Ω");
  EXPECT_EQ(show(12.5e3, Kind::resistance, System::us), "12.5 kΩ");
  EXPECT_EQ(show(20e6, Kind::resistance, System::us), "20 MΩ");
  EXPECT_EQ(show(2e9, Kind::resistance, System::us), "2000 MΩ");
  EXPECT_EQ(show(20e9, Kind::resistance, System::us), "20 GΩ");
  EXPECT_EQ(show(45e-9, Kind::capacitance, System::us), "45 nF");
}

TEST(Show, ADashWhereThereIsNoNumber) {
  EXPECT_EQ(show(std::numeric_limits<double>::quiet_NaN(), Kind::length, System::us), "–");
  EXPECT_EQ(show_number(std::numeric_limits<double>::infinity(), Kind::length, System::us), "–");
}

TEST(ExactText, ShortInTheDisplayUnitElseSi) {
  EXPECT_EQ(exact_text(3.6576, Kind::length, System::us), "12 ft");
  EXPECT_EQ(exact_text(0.0381, Kind::size, System::us), "1.5 in");
  EXPECT_EQ(exact_text(0.022, Kind::size, System::metric), "22 mm");
  EXPECT_EQ(exact_text(0.8, Kind::fraction, System::us), "80 %");
  EXPECT_EQ(exact_text(600, Kind::duration, System::us), "10 min");
  EXPECT_EQ(exact_text(45, Kind::duration, System::us), "45 s");
  EXPECT_EQ(exact_text(1.0 / 3, Kind::length, System::us), "0.3333333333333333 m");
  EXPECT_EQ(exact_text(1.0 / 3, Kind::fraction, System::us), "0.3333333333333333");
  EXPECT_THROW(exact_text(std::numeric_limits<double>::quiet_NaN(), Kind::length, System::us),
               std::logic_error);
}

TEST(Convert, ThereAndBack) {
  EXPECT_DOUBLE_EQ(to_si(12, "ft", Kind::length).value(), 3.6576);
  EXPECT_DOUBLE_EQ(from_si(3.6576, "ft", Kind::length), 12);
  EXPECT_DOUBLE_EQ(from_si(100, "°F", Kind::temperature), 212);
  EXPECT_FALSE(to_si(12, "volt", Kind::length));
  EXPECT_THROW(from_si(12, "volt", Kind::length), std::logic_error);
}

TEST(Nearest, OnlyLikelySlips) {
  const std::vector<std::string> known{"copper", "steel", "stainless"};
  EXPECT_EQ(nearest("coper", known), "copper");
  EXPECT_EQ(nearest("STEEL", known), "steel");
  EXPECT_EQ(nearest("setel", known), "steel");
  EXPECT_EQ(nearest("cast iron", known), std::nullopt);
  EXPECT_EQ(nearest("STAIN", known), "stainless");
  EXPECT_EQ(nearest("st", known), std::nullopt);
  EXPECT_EQ(nearest("", known), std::nullopt);
}

}  // namespace
}  // namespace firstdraw::units
