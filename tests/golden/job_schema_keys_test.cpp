// The schemas in schemas/ name the same keys, the same needs and the same choices as the descriptions that
// the reader walks.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <set>

#include "job/describe_week.hpp"
#include "job/key_lister.hpp"
#include "places.hpp"

namespace firstdraw::job {
namespace {

using Json = nlohmann::json;

Json schema(const std::string& name) {
  std::ifstream file(places::sources() + "/schemas/" + name);
  return Json::parse(file);
}

void expect_same(const KeyLister& lister, const Json& object, const std::string& where) {
  std::set<std::string> keys, required, schema_keys, schema_required;
  for (const auto& key : lister.keys) {
    keys.insert(key.name);
    if (key.required) required.insert(key.name);
  }
  for (const auto& [key, value] : object.at("properties").items()) schema_keys.insert(key);
  for (const auto& key : object.at("required")) schema_required.insert(key.get<std::string>());
  EXPECT_EQ(keys, schema_keys) << where;
  EXPECT_EQ(required, schema_required) << where;
  EXPECT_EQ(object.at("additionalProperties"), false) << where;
}

template <class T>
KeyLister keys_of() {
  KeyLister lister;
  T sample{};
  describe(lister, sample);
  return lister;
}

TEST(JobSchema, SectionsHaveTheKeysOfTheReader) {
  const Json sections = schema("job.schema.json").at("properties");
  expect_same(keys_of<Site>(), sections.at("site"), "site");
  expect_same(keys_of<UnitsSection>(), sections.at("units"), "units");
  KeyLister rules, design, wiring, economics, supply;
  Job job;
  describe_rules(rules, job.requirements);
  describe_design(design, job.requirements, job.design, System::us);
  describe(wiring, job.wiring, rules::RuleSet::us);
  describe(economics, job.economics, System::us);
  describe(supply, job.supply, "1");
  expect_same(rules, sections.at("rules"), "rules");
  expect_same(design, sections.at("design"), "design");
  expect_same(wiring, sections.at("wiring"), "wiring");
  expect_same(economics, sections.at("economics"), "economics");
  expect_same(supply, sections.at("supply"), "supply");
  KeyLister controller;
  describe(controller, job.controller, System::us);
  expect_same(controller, sections.at("controller"), "controller");
  expect_same(keys_of<Tariff>(), sections.at("tariff"), "tariff");
  expect_same(keys_of<WeekWishes>(), sections.at("week"), "week");
}

TEST(JobSchema, ListsHaveTheKeysOfTheReader) {
  const Json defs = schema("job.schema.json").at("$defs");
  expect_same(keys_of<Level>(), defs.at("level"), "level");
  expect_same(keys_of<Space>(), defs.at("space"), "space");
  expect_same(keys_of<ControlGroup>(), defs.at("group"), "group");
  expect_same(keys_of<Period>(), defs.at("period"), "period");
  expect_same(keys_of<UseProfile>(), defs.at("use"), "use");
  expect_same(keys_of<FixtureUse>(), defs.at("draws"), "draws");
  expect_same(keys_of<Season>(), defs.at("season"), "season");
  expect_same(keys_of<ComfortTarget>(), defs.at("comfort"), "comfort");
  expect_same(keys_of<Acceptance>(), defs.at("accept"), "accept");
  expect_same(keys_of<Assumption>(), defs.at("assumption"), "assumption");
  KeyLister panel;
  Panel sample;
  describe(panel, sample, System::us, rules::RuleSet::us);
  expect_same(panel, defs.at("panel"), "panel");
  expect_same(keys_of<Pin>(), defs.at("pin"), "pin");
  KeyLister by_user;
  RuleOverride rule;
  std::string value;
  describe(by_user, rule, value, rules::RuleSet::us);
  expect_same(by_user, defs.at("override"), "override");
}

TEST(JobSchema, OffersTheChoicesOfTheRules) {
  const Json rules = schema("job.schema.json").at("properties").at("rules").at("properties");
  const auto choices = [&](const char* key) { return rules.at(key).at("enum").get<std::set<std::string>>(); };
  const auto set_of = [](const std::vector<std::string>& names) {
    return std::set<std::string>(names.begin(), names.end());
  };
  EXPECT_EQ(choices("building"), set_of(known_buildings()));
  EXPECT_EQ(choices("hygiene"), set_of(known_guidelines()));
  EXPECT_EQ(choices("energy_code"), set_of(known_energy_codes()));
  EXPECT_EQ(choices("runout"), set_of(known_runout_rules()));
}

/// The schema does not know which rule set is in force: it offers the names of both.
TEST(JobSchema, OffersTheNamesOfBothRuleSets) {
  const Json all = schema("job.schema.json");
  const Json wiring = all.at("properties").at("wiring").at("properties");
  const auto same = [](auto known, const Json& offered) {
    std::set<std::string> names;
    for (const auto set : {rules::RuleSet::us, rules::RuleSet::intl})
      names.insert(known(set).begin(), known(set).end());
    EXPECT_EQ(names, offered.at("enum").get<std::set<std::string>>());
  };
  same(known_wire_insulations, wiring.at("insulation"));
  same(known_methods, wiring.at("method"));
  same(known_makes, wiring.at("make"));
  same(known_conduits, wiring.at("conduit"));
  same(known_breakers, wiring.at("breaker"));
  const Json defs = all.at("$defs");
  same(known_sizes, defs.at("panel").at("properties").at("supply_size"));
  same(known_rules, defs.at("override").at("properties").at("rule"));
}

TEST(JobSchema, OffersTheFixturesAndPublishedProfiles) {
  const Json defs = schema("job.schema.json").at("$defs");
  const auto choices = [&](const char* list, const char* key) {
    return defs.at(list).at("properties").at(key).at("enum").get<std::vector<std::string>>();
  };
  EXPECT_EQ(choices("draws", "fixture"), known_fixtures());
  EXPECT_EQ(choices("use", "like"), known_profiles());
  EXPECT_EQ(choices("comfort", "fixture"), known_comfort_fixtures());
}

TEST(JobSchema, OffersTheKindsOfController) {
  const Json keys = schema("job.schema.json").at("properties").at("controller").at("properties");
  const auto choices = [&](const char* key) {
    return keys.at(key).at("enum").get<std::vector<std::string>>();
  };
  EXPECT_EQ(choices("clock"), names_of(controller_clocks));
  EXPECT_EQ(choices("programs"), names_of(controller_programs));
}

TEST(CableSchema, HasTheKeysOfTheReader) {
  const Json sheet = schema("cable.schema.json");
  expect_same(keys_of<physics::CableSheet>(), sheet, "sheet");
  const auto row = [&](const char* key) { return sheet.at("properties").at(key).at("items"); };
  expect_same(keys_of<physics::OutputPoint>(), row("output"), "output");
  expect_same(keys_of<physics::VoltagePoint>(), row("voltage"), "voltage");
  expect_same(keys_of<physics::ColdStartPoint>(), row("cold_start"), "cold_start");
  expect_same(keys_of<physics::MaxLengthPoint>(), row("max_length"), "max_length");
}

}  // namespace
}  // namespace firstdraw::job
