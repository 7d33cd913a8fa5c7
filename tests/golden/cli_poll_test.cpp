// `firstdraw watch poll` as a user meets it, against a device of another make (tests/peers/modbus_peer.py, by
// pymodbus): what it prints, kept in tests/golden/cli/ with moments and the port masked, the same as JSON,
// what is stored, and that reading is all it asked for. What the registers hold is in the peer.
#include <gmock/gmock.h>

#include <cstdlib>
#include <nlohmann/json.hpp>
#include <regex>

#include "cli_program.hpp"
#include "places.hpp"
#include "watch/test_peer.hpp"

namespace firstdraw::golden {
namespace {

using testing::AllOf;
using testing::HasSubstr;
using testing::IsEmpty;
using Json = nlohmann::json;

std::string map_of(const std::string& address, int second_unit) {
  const std::string line = "tcp = \"" + address + "\"\nfirst_register = 0\n";
  return "every = \"1 s\"\n"
         "[[device]]\nname = \"panel meter\"\n" +
         line +
         "unit = 1\ntimeout = \"20 s\"\n"
         "[[device.value]]\nseries = \"main.water\"\nquantity = \"temperature\"\nplace = \"main\"\n"
         "table = \"holding\"\naddress = 22\ntype = \"f64\"\nwords = \"high-first\"\nbytes = \"high-first\"\n"
         "unit = \"°C\"\n"
         "[[device.value]]\nseries = \"outside\"\nquantity = \"temperature\"\ntable = \"holding\"\naddress = "
         "1\n"
         "type = \"i16\"\nbytes = \"high-first\"\nscale = 0.1\nunit = \"°C\"\n"
         "[[device.value]]\nseries = \"main.voltage\"\nquantity = \"voltage\"\nplace = \"C01\"\ntable = "
         "\"input\"\n"
         "address = 0\ntype = \"u16\"\nbytes = \"high-first\"\nunit = \"V\"\nvalid = [0, 400]\n"
         "[[device.value]]\nseries = \"main.on\"\nquantity = \"on\"\nplace = \"main\"\ntable = \"coil\"\n"
         "address = 3\ntype = \"bit\"\n"
         "[[device]]\nname = \"far controller\"\n" +
         line + "unit = " + std::to_string(second_unit) +
         (second_unit == 4 ? "\ntimeout = \"0.3 s\"\n" : "\ntimeout = \"20 s\"\n") +
         "[[device.value]]\nseries = \"far.water\"\nquantity = \"temperature\"\ntable = \"holding\"\naddress "
         "= 22\n"
         "type = \"f64\"\nwords = \"high-first\"\nbytes = \"high-first\"\nunit = \"°C\"\n";
}

/// Without what differs from one time to the next.
std::string masked(std::string text) {
  text = std::regex_replace(text, std::regex(R"(20\d\d-\d\d-\d\dT\d\d:\d\d:\d\dZ)"), "(moment, in UTC)    ");
  text = std::regex_replace(text, std::regex(R"(127\.0\.0\.1:\d{4,5} *)"), "127.0.0.1:(port) ");
  return std::regex_replace(text, std::regex(R"(/\S*/records\.db)"), "(folder)/records.db");
}

void expect_kept(const std::string& name, const Ran& ran) {
  std::string text = ran.out;
  if (!ran.err.empty()) text += "--- standard error\n" + ran.err;
  const std::string path = places::sources() + "/tests/golden/cli/" + name + ".txt";
  if (std::getenv("FIRSTDRAW_REFRESH") != nullptr) write_file(path, masked(text));
  EXPECT_EQ(masked(text), read_file(path));
}

class CliPoll : public testing::Test {
 protected:
  /// `unit` of the second device: 2 answers, 4 never does.
  Ran poll(std::vector<std::string> more, int unit = 2) const {
    write_file(map_, map_of(peer_.address(), unit));
    more.insert(more.begin(), {"watch", "poll", "examples/clinic", "--map", map_, "--store", store_});
    return firstdraw(more);
  }
  Folder folder_;
  watch::Peer peer_;
  std::string map_ = folder_.path("devices.toml"), store_ = folder_.path("records.db");
};

TEST_F(CliPoll, WhatWouldBeAskedIsShownAndNothingIsAsked) {
  const Ran ran = poll({"--check-map"});
  EXPECT_EQ(ran.code, 0);
  expect_kept("poll-check-map", ran);
  EXPECT_THAT(peer_.asked(), IsEmpty());
}

TEST_F(CliPoll, OneRoundShowsTheReadingsAndStoresThem) {
  const Ran ran = poll({"--once"});
  EXPECT_EQ(ran.code, 0);
  expect_kept("poll-once", ran);
  for (const auto& one : peer_.asked()) EXPECT_THAT(one.function, testing::AnyOf(1, 2, 3, 4));
  EXPECT_EQ(firstdraw({"verify", "examples/clinic", "--store", store_}).code, 0);
}

TEST_F(CliPoll, ADeviceThatNeverAnswersIsNamedAndTheOtherOneRead) {
  const Ran ran = poll({"--once", "--dry-run"}, 4);
  EXPECT_EQ(ran.code, 0);
  expect_kept("poll-silent-device", ran);
  EXPECT_FALSE(std::filesystem::exists(store_));
}

TEST_F(CliPoll, JsonKeepsItsSchemaAndHoldsWhatTheDeviceHolds) {
  const Ran ran = poll({"--once", "--json"});
  EXPECT_EQ(ran.code, 0) << ran.err;
  EXPECT_EQ(validate_text(ran.out, "poll"), "");
  const Json answer = Json::parse(ran.out);
  std::map<std::string, double> values;
  for (const Json& series : answer.at("series")) values[series.at("name")] = series.at("value_si");
  EXPECT_EQ(values, (std::map<std::string, double>{{"main.water", 55.5},
                                                   {"outside", -20},
                                                   {"main.voltage", 321},
                                                   {"main.on", 1},
                                                   {"far.water", 55.5}}));
  EXPECT_EQ(answer.at("counts").at("readings"), 5);
}

TEST_F(CliPoll, ARegisterMapWithSlipsIsRefused) {
  write_file(map_,
             "every = \"1 s\"\n[[device]]\nname = \"x\"\ntcp = \"127.0.0.1:1502\"\nunit = 1\nunits = 2\n");
  const Ran ran = firstdraw({"watch", "poll", "examples/clinic", "--map", map_, "--check-map"});
  EXPECT_EQ(ran.code, 3);
  EXPECT_THAT(ran.err, AllOf(HasSubstr("devices.toml:6"), HasSubstr("unit")));
}

}  // namespace
}  // namespace firstdraw::golden
