#include "plan/finding.hpp"
#include "places.hpp"

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "plan/checks.hpp"
#include "plan/finding_catalogue.hpp"
#include "plan/sound_building.hpp"

namespace firstdraw::plan {
namespace {

Finding finding(const char* id, const char* place, Finding::PlaceKind kind = Finding::PlaceKind::run) {
  Finding made;
  made.id = id;
  made.severity = catalogue_entry(id).severity;
  made.place_kind = kind;
  made.place = place;
  return made;
}

std::vector<std::string> places(const std::vector<Finding>& findings) {
  std::vector<std::string> all;
  for (const Finding& f : findings) all.push_back(f.place);
  return all;
}

TEST(FindingCatalogue, IdsAreUniqueAndTextsComplete) {
  std::set<std::string_view> seen;
  for (const CatalogueEntry& entry : finding_catalogue()) {
    EXPECT_TRUE(seen.insert(entry.id).second) << entry.id;
    EXPECT_FALSE(entry.title.empty() || entry.why.empty() || entry.fix.empty() || entry.subject.empty())
        << entry.id;
    EXPECT_TRUE(entry.why.ends_with('.') && entry.fix.ends_with('.')) << entry.id;
    EXPECT_FALSE(entry.title.ends_with('.')) << entry.id;
  }
  EXPECT_EQ(finding_kinds().size(), seen.size());
  EXPECT_GE(seen.size(), 30u);
}

TEST(FindingCatalogue, UnknownIdIsABrokenPromise) {
  EXPECT_THROW(catalogue_entry("hold-warm"), std::logic_error);
}

// Refresh with FIRSTDRAW_REFRESH=1 build/release/test_plan --gtest_filter='FindingCatalogue.*'
TEST(FindingCatalogue, IsWhatThePageSays) {
  const std::string path = places::sources() + "/docs/findings.md";
  if (std::getenv("FIRSTDRAW_REFRESH")) std::ofstream(path) << catalogue_markdown();
  std::ostringstream page;
  page << std::ifstream(path).rdbuf();
  EXPECT_EQ(page.str(), catalogue_markdown());
}

TEST(Findings, StandStopsFirstThenByPlaceInNaturalOrder) {
  std::vector<Finding> all{
      finding("run-very-long", "R1"), finding("hold-cold", "R10"),
      finding("hold-cold", "R2"),     finding("length-zero", "R2"),
      finding("size-grows", "R3"),    finding("over-length", "C01", Finding::PlaceKind::circuit)};
  sort_findings(all);
  EXPECT_EQ(places(all), (std::vector<std::string>{"R2", "R2", "R10", "C01", "R3", "R1"}));
  EXPECT_EQ(all[0].id, "length-zero");  // catalogue order at one place
}

TEST(Findings, NaturalOrderIsStrictForPaddedNumbers) {
  std::vector<Finding> all{finding("hold-cold", "R01"), finding("hold-cold", "R1"), finding("hold-cold", "R"),
                           finding("hold-cold", "R1a")};
  sort_findings(all);
  EXPECT_EQ(places(all), (std::vector<std::string>{"R", "R01", "R1", "R1a"}));
}

TEST(Findings, AcceptedAtAPlaceOrEverywhere) {
  job::Job job;
  job.accepted = {{"hold-cold", "R2", "measured", "A. Example", "2026-03-01"},
                  {"size-grows", "*", "reused pipe", "B. Example", ""}};
  std::vector<Finding> all{finding("hold-cold", "R2"), finding("hold-cold", "R3"),
                           finding("size-grows", "R4")};
  apply_acceptances(job, all);
  EXPECT_TRUE(all[0].accepted);
  EXPECT_EQ(all[0].accepted_reason, "measured");
  EXPECT_EQ(all[0].accepted_by, "A. Example");
  EXPECT_EQ(all[0].accepted_date, "2026-03-01");
  EXPECT_FALSE(all[1].accepted);
  EXPECT_TRUE(all[2].accepted);

  Totals totals;
  count_findings(all, totals);
  EXPECT_EQ(totals.stops, 1);
  EXPECT_EQ(totals.fixes, 0);
  EXPECT_EQ(totals.notes, 0);
  EXPECT_EQ(totals.accepted, 2);
}

TEST(Findings, AcceptanceOfAJobIsApplied) {
  SoundBuilding building;
  building.run_plan(3).spare_frac = -0.1;
  building.job.accepted = {{"hold-cold", "R4", "kitchen closed in winter", "A. Example", ""}};
  const auto all = all_findings(building.job, building.plan);
  ASSERT_EQ(all.size(), 1u);
  EXPECT_TRUE(all[0].accepted);
}

TEST(Findings, JsonHasEveryKeyOfTheSchema) {
  SoundBuilding building;
  building.run_plan(3).spare_frac = -0.1;
  const auto all = to_json(all_findings(building.job, building.plan));
  std::ifstream file(places::sources() + "/schemas/findings.schema.json");
  const auto schema = nlohmann::json::parse(file);
  ASSERT_EQ(all.size(), 1u);
  for (const auto& key : schema["items"]["required"]) EXPECT_TRUE(all[0].contains(key)) << key;
  for (const auto& [key, value] : all[0].items())
    EXPECT_TRUE(schema["items"]["properties"].contains(key)) << key;
  EXPECT_EQ(all[0]["severity"], "stop");
  EXPECT_EQ(all[0]["place_kind"], "run");
  EXPECT_TRUE(all[0]["accepted"].is_null());
}

TEST(Findings, SchemaListsEveryIdSeverityAndPlaceKind) {
  std::ifstream file(places::sources() + "/schemas/findings.schema.json");
  const auto properties = nlohmann::json::parse(file)["items"]["properties"];
  std::set<std::string> listed, known;
  for (const auto& id : properties["id"]["enum"]) listed.insert(id);
  for (const CatalogueEntry& entry : finding_catalogue()) known.emplace(entry.id);
  EXPECT_EQ(listed, known);
  EXPECT_EQ(properties["severity"]["enum"], (nlohmann::json{"stop", "fix", "note"}));
  std::set<std::string> kinds;
  for (const auto& kind : properties["place_kind"]["enum"]) kinds.insert(kind);
  for (int kind = 0; kind <= static_cast<int>(Finding::PlaceKind::cable); ++kind)
    EXPECT_TRUE(kinds.contains(to_string(static_cast<Finding::PlaceKind>(kind))));
}

}  // namespace
}  // namespace firstdraw::plan
