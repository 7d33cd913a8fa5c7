// The JSON of an invented week: keys others build on, what is not finite, and the schema.
#include <gmock/gmock.h>

#include <sys/wait.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "places.hpp"
#include "settings/invented_week.hpp"

namespace firstdraw::settings {
namespace {

using Json = nlohmann::json;
using testing::DoubleNear;
using testing::ElementsAre;

Json invented_json() { return to_json(invented_week_job(), invented_week()); }

/// What the schema has to say, through Debian's python3-jsonschema; 0: nothing.
int validate(const Json& json) {
  std::string name = (std::filesystem::temp_directory_path() / "firstdraw-XXXXXX").string();
  const int made = mkstemp(name.data());
  EXPECT_GE(made, 0);
  std::ofstream(name) << json.dump();
  const int status =
      std::system(("/usr/bin/python3 " + places::sources() + "/tests/golden/plan_validate.py " +
                   places::sources() + "/schemas " + name + " week")
                      .c_str());
  std::filesystem::remove(name);
  return WEXITSTATUS(status);
}

TEST(WeekJson, CostsNameWhatTheyAreComparedWith) {
  const Json json = invented_json();
  EXPECT_EQ(json.at("cost_per_year"), 900);
  EXPECT_EQ(json.at("cost_per_year_always_on"), 1200);
  EXPECT_EQ(json.at("cost_per_year_return"), 850);
  EXPECT_EQ(json.at("cost_per_year_as_described"), 1100);
  EXPECT_EQ(json.at("demand_cost_per_year"), 80);
  EXPECT_EQ(json.at("energy_kwh_per_year_always_on"), 9000);
  EXPECT_THAT(json.at("saving_frac").get<double>(), DoubleNear(0.25, 1e-12)) << "1 - 900 / 1200";
  EXPECT_THAT(json.at("gap_frac").get<double>(), DoubleNear(0.01, 1e-9)) << "1 - 871.2 / 880";
  EXPECT_EQ(json.at("currency"), "USD");
}

TEST(WeekJson, EntriesAreDaysTimeAndSetPoint) {
  const Json season = invented_json().at("seasons").at(0);
  EXPECT_EQ(season.at("from"), "11-01");
  const Json& entries = season.at("groups").at(0).at("entries");
  ASSERT_EQ(entries.size(), 5U);
  EXPECT_THAT(entries[1].at("days"), ElementsAre("mon", "tue", "wed", "thu", "fri"));
  EXPECT_EQ(entries[1].at("from"), "05:30");
  EXPECT_EQ(entries[1].at("hold_c"), 50);
  EXPECT_TRUE(entries[2].at("hold_c").is_null()) << "off";
}

TEST(WeekJson, WhatIsNeverOrUnknownIsNull) {
  const Json json = invented_json();
  EXPECT_TRUE(json.at("comfort")[2].at("reached_frac").is_null());
  EXPECT_TRUE(json.at("comfort")[2].at("kept").is_null());
  EXPECT_TRUE(json.at("scald")[1].at("limit_c").is_null());
  EXPECT_TRUE(json.at("alarms")[0].at("planted")[1].at("after_s").is_null());
  EXPECT_TRUE(json.at("alarms")[0].at("planted")[1].at("caught_by").is_null());
}

TEST(WeekJson, KeptFollowsTheProof) {
  const Json json = invented_json();
  EXPECT_EQ(json.at("comfort")[0].at("kept"), true);
  EXPECT_EQ(json.at("comfort")[1].at("kept"), false);
  EXPECT_EQ(json.at("hygiene")[0].at("kept"), true);
  EXPECT_EQ(json.at("hygiene")[1].at("kept"), false) << "held in 80 % of the buildings, 95 % were asked";
  EXPECT_EQ(json.at("scald")[0].at("kept"), false);
  EXPECT_TRUE(json.at("scald")[1].at("kept").is_null()) << "the rules name no limit there";
  EXPECT_EQ(json.at("scald")[2].at("kept"), true) << "a safe-outlet valve";
}

TEST(WeekJson, TheUnitOfALimitIsInItsKey) {
  const Json alarms = invented_json().at("alarms")[0].at("alarms");
  EXPECT_EQ(alarms[0].at("limit_c"), 41);
  EXPECT_TRUE(alarms[0].at("limit_k").is_null());
  EXPECT_EQ(alarms[1].at("limit_k"), -4);
  EXPECT_TRUE(alarms[1].at("limit_c").is_null());
  EXPECT_EQ(alarms[2].at("limit_a"), 1.5);
  EXPECT_EQ(alarms[2].at("worst_ordinary_a"), 2.1);
}

TEST(WeekJson, WithoutAWeekThereAreNoFigures) {
  WeekAnswer none;
  none.unmet = {"nothing keeps it"};
  const Json json = to_json(invented_week_job(), none);
  EXPECT_TRUE(json.at("cost_per_year").is_null());
  EXPECT_TRUE(json.at("saving_frac").is_null());
  EXPECT_TRUE(json.at("gap_frac").is_null());
  EXPECT_EQ(json.at("unmet").size(), 1U);
  EXPECT_EQ(validate(json), 0);
}

TEST(WeekJson, KeepsItsSchema) {
  Json json = invented_json();
  EXPECT_EQ(validate(json), 0);
  json.at("hygiene")[0].erase("longest_below_s");
  EXPECT_NE(validate(json), 0) << "a schema that takes anything says nothing";
}

}  // namespace
}  // namespace firstdraw::settings
