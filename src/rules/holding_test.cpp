// How long guidelines let pipes stand colder: against the requirements as quoted in the sources of the table.
#include "rules/holding.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "rules/rules.hpp"
#include "tables/table.hpp"

namespace firstdraw::rules {
namespace {

// Read: trade pages on DVGW W 551: the pump may stand at most 8 h a day, i.e. pipes are held at least 16 h.
TEST(Holding, W551LetsTheCirculationStandEightHours) {
  const Holding found = holding("dvgw-w551");
  EXPECT_TRUE(found.given);
  EXPECT_EQ(found.colder_h_per_day, 8);
  EXPECT_EQ(found.citation.document, "DVGW W 551");
  EXPECT_EQ(found.citation.basis, "read");
}

// Read: OSHA Technical Manual, section III: pumps run continuously.
TEST(Holding, OshaWantsItContinuous) {
  const Holding found = holding("osha");
  EXPECT_TRUE(found.given);
  EXPECT_EQ(found.colder_h_per_day, 0);
}

TEST(Holding, WhatGivesNoHoursMeansAllOfThemAndSaysThatThisIsOurReading) {
  for (const HygieneGuideline& guideline : hygiene_guidelines()) {
    const Holding found = holding(guideline.id);
    if (guideline.id == "dvgw-w551" || guideline.id == "osha") continue;
    EXPECT_FALSE(found.given) << guideline.id;
    EXPECT_EQ(found.colder_h_per_day, 0) << guideline.id;
    EXPECT_EQ(found.citation.basis, "common practice, no source") << guideline.id;
  }
}

TEST(Holding, TableNamesKnownGuidelinesThatGiveATemperatureWithSources) {
  for (const tables::Row& row : tables::table("rules_hygiene_hours").rows()) {
    const auto guideline = find_guideline(row.text("guideline"));
    ASSERT_TRUE(guideline) << row.text("guideline");
    EXPECT_FALSE(std::isnan(guideline->distributed_c)) << row.text("guideline");
    EXPECT_FALSE(row.text("source").empty());
    EXPECT_FALSE(row.text("basis").empty());
    EXPECT_GE(row.number("colder_h_per_day"), 0);
    EXPECT_LT(row.number("colder_h_per_day"), 24);
  }
}

TEST(Holding, AnUnknownNameIsABrokenPromise) { EXPECT_THROW(holding("dvgw-w55"), std::logic_error); }

}  // namespace
}  // namespace firstdraw::rules
