#include "watch/register_map.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

namespace firstdraw::watch {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

job::Job small_job() {
  job::Job job;
  job.groups.push_back({});
  job.groups.back().id = "riser-a";
  job.runs.push_back({});
  job.runs.back().id = "R-01";
  return job;
}

constexpr const char* whole = R"(every = "30 s"
[[device]]
name = "panel meter"
tcp = "192.0.2.7:1502"
unit = 17
timeout = "500 ms"
first_register = 40001
[[device.value]]
series = "riser-a.sensor"
quantity = "temperature"
place = "riser-a"
table = "holding"
address = 40101
type = "f32"
words = "low-first"
scale = 0.1
offset = -5
unit = "°F"
valid = [-20, 250]
[[device]]
name = "relay"
serial = "/dev/ttyUSB0"
baud = 19200
parity = "even"
stop_bits = 1
unit = 3
first_register = 0
[[device.value]]
series = "riser-a.on"
quantity = "on"
table = "input"
address = 7
type = "bit"
bit = 3
[[device.value]]
series = "riser-a.amps"
quantity = "current"
place = "R-01"
table = "input"
address = 8
type = "u16"
scale = 0.01
unit = "A"
)";

auto read(const std::string& text, std::span<const std::string> circuits = {}) {
  return read_register_map(text, "map.toml", small_job(), circuits);
}

/// One device with these lines of one value; the device's line can be given too.
std::string with_value(const std::string& lines, const std::string& device = "tcp = \"192.0.2.7:502\"") {
  return fmt::format(
      "every = \"60 s\"\n[[device]]\nname = \"m\"\n{}\nunit = 1\ntimeout = \"1 s\"\nfirst_register = 0\n"
      "[[device.value]]\nseries = \"a\"\n{}\n",
      device, lines);
}
const std::string usual =
    "quantity = \"temperature\"\ntable = \"holding\"\naddress = 1\ntype = \"i16\"\nunit = \"°C\"\n";

std::string complaints(const std::string& text) {
  const auto map = read(text);
  if (map) return "";
  std::string all;
  for (const auto& problem : map.error()) all += problem.text() + "\n";
  return all;
}

TEST(RegisterMap, ReadsEverythingAsWritten) {
  const auto map = read(whole);
  ASSERT_TRUE(map) << complaints(whole);
  EXPECT_EQ(map->every_s, 30);
  ASSERT_EQ(map->devices.size(), 2);
  const Device& meter = map->devices[0];
  EXPECT_EQ(meter.name, "panel meter");
  EXPECT_EQ(meter.host, "192.0.2.7");
  EXPECT_EQ(meter.port, 1502);
  EXPECT_EQ(meter.unit, 17);
  EXPECT_EQ(meter.timeout_s, 0.5);
  const RegisterValue& value = meter.values.at(0);
  EXPECT_EQ(wire_address(meter, value), 100);
  EXPECT_EQ(value.type, RegisterType::f32);
  EXPECT_FALSE(value.high_word_first);
  EXPECT_TRUE(value.high_byte_first);
  EXPECT_EQ(value.offset, -5);
  EXPECT_EQ(value.least, -20);
  EXPECT_EQ(value.where.line, 8);
  const Device& relay = map->devices[1];
  EXPECT_EQ(relay.serial, "/dev/ttyUSB0");
  EXPECT_EQ(relay.baud, 19200);
  EXPECT_EQ(relay.parity, 'E');
  EXPECT_EQ(relay.values.at(0).bit, 3);
  ASSERT_EQ(map->assumptions.size(), 1);  // the relay's time-out
  EXPECT_EQ(map->assumptions[0].field, "device.relay.timeout");
}

TEST(RegisterMap, WhatIsLeftOutIsSaid) {
  const auto map = read(
      "[[device]]\nname = \"m\"\ntcp = \"meter.example\"\nunit = 1\n[[device.value]]\nseries = \"a\"\n"
      "quantity = \"temperature\"\ntable = \"input\"\naddress = 1\ntype = \"f32\"\n");
  ASSERT_TRUE(map);
  std::vector<std::string> fields;
  for (const auto& assumption : map->assumptions) fields.push_back(assumption.field);
  EXPECT_THAT(fields, ElementsAre("every", "device.m.tcp", "device.m.timeout", "device.m.first_register",
                                  "device.m.value[1].words", "device.m.value[1].unit"));
  EXPECT_EQ(map->devices[0].port, 502);
}

struct Slip {
  const char* what;
  std::string text;
  const char* said;
};

TEST(RegisterMap, EverySlipIsNamedWithItsLineAndWhatWasExpected) {
  const std::vector<Slip> slips{
      {"no TOML", "every = \n", "map.toml:1"},
      {"nothing", "", "needs at least one [[device]]"},
      {"a device that is none", "device = [1]", "a [[device]] was expected"},
      {"a text instead of devices", "device = \"x\"", "a list of sections"},
      {"misspelt key", with_value(usual + "scael = 2"), "did you mean \"scale\"?"},
      {"misspelt quantity",
       with_value("quantity = \"temprature\"\ntable = \"holding\"\naddress = 1\ntype = \"i16\""),
       "did you mean \"temperature\"?"},
      {"misspelt place", with_value(usual + "place = \"riser-b\""), "did you mean \"riser-a\"?"},
      {"a unit of something else", with_value(usual.substr(0, usual.find("unit")) + "unit = \"A\""), "unit"},
      {"coil of two bytes", with_value("quantity = \"on\"\ntable = \"coil\"\naddress = 1\ntype = \"u16\""),
       "one bit wide"},
      {"bit without number",
       with_value("quantity = \"on\"\ntable = \"holding\"\naddress = 1\ntype = \"bit\""),
       "device.m.value[1].bit: is missing"},
      {"bit 16", with_value("quantity = \"on\"\ntable = \"holding\"\naddress = 1\ntype = \"bit\"\nbit = 16"),
       "between 0 (lowest) and 15"},
      {"number of a bit of an integer", with_value(usual + "bit = 1"), "leave it out"},
      {"words of one register", with_value(usual + "words = \"low-first\""), "this value has one"},
      {"scale zero", with_value(usual + "scale = 0"), "must not be zero"},
      {"valid upside down", with_value(usual + "valid = [5, 1]"), "two plain numbers"},
      {"valid without end", with_value(usual + "valid = [nan, inf]"), "two plain numbers"},
      {"neither line", with_value(usual, ""), "and so is serial"},
      {"both lines",
       with_value(usual, "tcp = \"a\"\nserial = \"/dev/x\"\nbaud = 9600\nparity = \"none\"\nstop_bits = 1"),
       "not on both"},
      {"serial without its settings", with_value(usual, "serial = \"/dev/x\"\nstop_bits = 1"),
       "device.m.baud: is missing"},
      {"an odd baud", with_value(usual, "serial = \"/dev/x\"\nbaud = 9601\nparity = \"none\"\nstop_bits = 1"),
       "9600, 19200"},
      {"baud of a network", with_value(usual, "tcp = \"a:1\"\nbaud = 9600"), "this device has none"},
      {"port too large", with_value(usual, "tcp = \"a:70000\""), "between 1 and 65535"},
      {"no host", with_value(usual, "tcp = \":502\""), "is no address"},
      {"half a bracket", with_value(usual, "tcp = \"[::1\""), "is no address"},
      {"address beyond", with_value("quantity = \"on\"\ntable = \"coil\"\naddress = 65536"),
       "expected 0 to 65535"},
      {"the second half beyond",
       with_value("quantity = \"current\"\nunit = \"A\"\ntable = \"input\"\naddress = 65535\ntype = \"f32\"\n"
                  "words = \"high-first\""),
       "expected 0 to 65534 for f32"},
      {"series twice", with_value(usual + "[[device.value]]\nseries = \"a\"\n" + usual), "first on line 9"},
      {"series that begins with a blank",
       with_value("") + usual + "[[device.value]]\nseries = \" b\"\n" + usual, "blank"},
      {"every fortnight", "every = \"14 d\"\n", "between 1 s and 24 h"},
      {"a number for a time", "every = 60\n", "has no unit"}};
  for (const Slip& slip : slips) EXPECT_THAT(complaints(slip.text), HasSubstr(slip.said)) << slip.what;
}

TEST(RegisterMap, OverlapIsNamedWithBothLines) {
  const std::string wide =
      "quantity = \"current\"\nunit = \"A\"\ntable = \"holding\"\naddress = 1\ntype = \"u32\"\n"
      "words = \"high-first\"\n";
  const std::string inside =
      "[[device.value]]\nseries = \"b\"\nquantity = \"current\"\nunit = \"A\"\n"
      "table = \"holding\"\naddress = 2\ntype = \"u16\"\n";
  const std::string said = complaints(with_value(wide + inside));
  EXPECT_THAT(said, HasSubstr("map.toml:16: device.m.b.address: 2 is read already, as \"a\" on line 8"));
  const auto other_table =
      with_value(wide +
                 "[[device.value]]\nseries = \"b\"\nquantity = \"current\"\nunit = \"A\"\n"
                 "table = \"input\"\naddress = 2\ntype = \"u16\"\n");
  EXPECT_EQ(complaints(other_table), "");
}

TEST(RegisterMap, BitsOfOneRegisterMayStandSideBySideButNotTwice) {
  const auto bit = [](int number) {
    return fmt::format("quantity = \"on\"\ntable = \"holding\"\naddress = 1\ntype = \"bit\"\nbit = {}\n",
                       number);
  };
  const std::string next = "[[device.value]]\nseries = \"b\"\n";
  EXPECT_EQ(complaints(with_value(bit(0) + next + bit(1))), "");
  EXPECT_THAT(complaints(with_value(bit(4) + next + bit(4))), HasSubstr("is read already"));
}

TEST(RegisterMap, OneSerialLineIsDescribedInOneWay) {
  std::string text = whole;
  const std::string relay = text.substr(text.find("[[device]]\nname = \"relay\""));
  std::string other = relay;
  other.replace(other.find("relay"), 5, "other");
  other.replace(other.find("riser-a.on"), 10, "x");
  other.replace(other.find("riser-a.amps"), 12, "y");
  other.replace(other.find("unit = 3"), 8, "unit = 4");
  EXPECT_EQ(complaints(text + other), "");
  other.replace(other.find("19200"), 5, "9600");
  EXPECT_THAT(complaints(text + other),
              HasSubstr("has another baud, parity or stop_bits at \"relay\", line 20"));
}

TEST(RegisterMap, PlacesMayBeCircuitsOfThePlan) {
  const std::string text = with_value(usual + "place = \"C07\"");
  EXPECT_NE(complaints(text), "");
  const std::vector<std::string> circuits{"C07"};
  EXPECT_TRUE(read(text, circuits));
}

TEST(RegisterMap, SixthVersionAddressesStandInBrackets) {
  const auto map = read(with_value(usual, "tcp = \"[2001:db8::7]:1502\""));
  ASSERT_TRUE(map);
  EXPECT_EQ(map->devices[0].host, "2001:db8::7");
  EXPECT_EQ(map->devices[0].port, 1502);
}

RegisterValue of(RegisterType type, bool high_word_first = true, bool high_byte_first = true) {
  RegisterValue value;
  value.quantity = "current";
  value.type = type;
  value.high_word_first = high_word_first;
  value.high_byte_first = high_byte_first;
  return value;
}

TEST(Decode, IntegersOfEveryWidth) {
  EXPECT_EQ(decode(of(RegisterType::i16), {0xFF38}), -200);
  EXPECT_EQ(decode(of(RegisterType::u16), {0xFF38}), 65336);
  EXPECT_EQ(decode(of(RegisterType::u16, true, false), {0x38FF}), 65336);
  EXPECT_EQ(decode(of(RegisterType::i32), {0xFFFE, 0x1DC0}), -123456);
  EXPECT_EQ(decode(of(RegisterType::u64), {0, 2, 0x540B, 0xE3EA}), 9999999978.0);
  EXPECT_EQ(decode(of(RegisterType::i64), {0xFFFF, 0xFFFF, 0xFFFF, 0xFFFF}), -1);
  EXPECT_EQ(decode(of(RegisterType::u64, false), {0xE3EA, 0x540B, 2, 0}), 9999999978.0);
}

TEST(Decode, BitsOfARegisterAndCoils) {
  RegisterValue bit = of(RegisterType::bit);
  bit.quantity = "on";
  bit.bit = 3;
  EXPECT_EQ(decode(bit, {0b1010}), 1);
  bit.bit = 2;
  EXPECT_EQ(decode(bit, {0b1010}), 0);
  bit.bit.reset();
  bit.table = RegisterTable::coil;
  EXPECT_EQ(decode(bit, {1}), 1);
  bit.scale = -1;  // a contact that opens
  bit.offset = 1;
  EXPECT_EQ(decode(bit, {1}), 0);
}

TEST(Decode, ScaleOffsetAndUnitComeOutInSi) {
  RegisterValue value = of(RegisterType::i16);
  value.quantity = "temperature";
  value.scale = 0.1;
  value.unit = "°F";
  EXPECT_NEAR(*decode(value, {1150}), (115 - 32) / 1.8, 1e-9);
  value.quantity = "duty";
  value.unit = "%";
  EXPECT_NEAR(*decode(value, {455}), 0.455, 1e-12);
  value.quantity = "power";
  value.unit = "kW";
  value.offset = 1;
  EXPECT_NEAR(*decode(value, {25}), 3500, 1e-9);
}

TEST(Decode, WhatIsNoNumberOrOutsideOfValidIsDropped) {
  EXPECT_FALSE(decode(of(RegisterType::f32), {0x7FC0, 0}));
  EXPECT_FALSE(decode(of(RegisterType::f32), {0x7F80, 0}));
  EXPECT_FALSE(decode(of(RegisterType::f64), {0xFFF0, 0, 0, 0}));
  EXPECT_FALSE(decode(of(RegisterType::f32), {0x47F1}));
  EXPECT_FALSE(decode(of(RegisterType::u16), {}));
  RegisterValue value = of(RegisterType::i16);
  value.quantity = "temperature";
  value.unit = "°F";
  value.least = -20;
  value.most = 120;
  EXPECT_FALSE(decode(value, {121}));
  EXPECT_TRUE(decode(value, {120}));
  EXPECT_FALSE(decode(value, {static_cast<std::uint16_t>(-21)}));
}

}  // namespace
}  // namespace firstdraw::watch
