// The field-test sheet prints limits as text, verdicts rest on numbers: both must be the same.
#include "rules/field_limits.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <stdexcept>

namespace firstdraw::rules {
namespace {

using testing::HasSubstr;

std::string printed_limit(RuleSet rules, std::string_view id) {
  const auto tests = field_tests(rules);
  return std::ranges::find(tests, id, &FieldTest::id)->limit;
}

TEST(FieldLimits, AreThoseThatTheSheetPrints) {
  EXPECT_THAT(printed_limit(RuleSet::us, "ready-insulation-resistance"), HasSubstr("20 MΩ"));
  EXPECT_EQ(field_limit(RuleSet::us, "heater-insulation").value, 20e6);
  EXPECT_THAT(printed_limit(RuleSet::us, "ready-supply-wiring-250"), HasSubstr("25 MΩ"));
  EXPECT_EQ(field_limit(RuleSet::us, "supply-insulation-250").value, 25e6);
  EXPECT_THAT(printed_limit(RuleSet::us, "ready-supply-wiring-600"), HasSubstr("100 MΩ"));
  EXPECT_EQ(field_limit(RuleSet::us, "supply-insulation-600").value, 100e6);
  EXPECT_THAT(printed_limit(RuleSet::intl, "ready-supply-wiring"), HasSubstr("1.0 MΩ"));
  EXPECT_EQ(field_limit(RuleSet::intl, "supply-insulation-250").value, 1e6);
  EXPECT_THAT(printed_limit(RuleSet::intl, "energised-rcd-time"), HasSubstr("300 ms at 1 x, 40 ms at 5 x"));
  EXPECT_EQ(field_limit(RuleSet::intl, "trip-time-1").value, 0.3);
  EXPECT_EQ(field_limit(RuleSet::intl, "trip-time-5").value, 0.04);
}

TEST(FieldLimits, WhatComesFromMemorySaysSo) {
  EXPECT_EQ(field_limit(RuleSet::us, "heater-insulation").citation.basis, "memory");
  EXPECT_EQ(field_limit(RuleSet::us, "trip-most").citation.basis, "memory");
  EXPECT_EQ(field_limit(RuleSet::intl, "supply-insulation-250").citation.basis, "read");
}

TEST(FieldLimits, AnUnknownNameThrows) {
  EXPECT_THROW(field_limit(RuleSet::us, "trip-band-most"), std::logic_error);
}

}  // namespace
}  // namespace firstdraw::rules
