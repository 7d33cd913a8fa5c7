#include "rules/rules.hpp"
#include "rules/conductor_sizing.hpp"
#include "rules/conductor_tables.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>

namespace firstdraw::rules {
namespace {

using testing::Contains;
using testing::ElementsAre;
using testing::HasSubstr;

constexpr double kFtM = 0.3048;
constexpr double kInM = 0.0254;

TEST(CitationText, LeavesOutWhatIsEmpty) {
  EXPECT_EQ((Citation{"NFPA 70 (NEC)", "2023", "427.22", "read"}).text(), "NFPA 70 (NEC) 2023, 427.22");
  EXPECT_EQ((Citation{"EN 806-2", "", "", "read"}).text(), "EN 806-2");
  EXPECT_EQ((Citation{"OSHA", "", "hot water", "read"}).text(), "OSHA, hot water");
  EXPECT_EQ(Citation{}.text(), "");
}

TEST(Guidelines, HaveUniqueIdsAndPlausibleNumbers) {
  std::set<std::string> ids;
  for (const HygieneGuideline& g : hygiene_guidelines()) {
    EXPECT_TRUE(ids.insert(g.id).second) << g.id;
    if (g.id == "none") continue;
    EXPECT_FALSE(g.citation.document.empty()) << g.id;
    EXPECT_FALSE(std::isnan(g.stored_c) && std::isnan(g.distributed_c)) << g.id;
    EXPECT_FALSE(g.stored_c < g.distributed_c) << g.id;
  }
  for (const auto* id : {"hse-hsg274", "hse-hsg274-healthcare", "dvgw-w551", "ashrae-12", "osha", "cdc",
                         "en-806", "din-1988-200", "none"}) {
    EXPECT_THAT(ids, Contains(id));
  }
}

TEST(Guidelines, UnknownNamesTheNearest) {
  const auto found = find_guideline("dvgw-w55l");
  ASSERT_FALSE(found);
  EXPECT_THAT(found.error(), HasSubstr("did you mean \"dvgw-w551\"?"));
  EXPECT_TRUE(std::isnan(find_guideline("none")->distributed_c));
}

TEST(EnergyCodes, Listed) {
  EXPECT_THAT(std::vector(energy_codes().begin(), energy_codes().end()),
              ElementsAre("ashrae-90.1-2016", "iecc-2021", "title24-2022", "geg", "none"));
  EXPECT_FALSE(minimum_thickness("none", 0.03, 0.026, "1", 50, 0.036));
  try {
    minimum_thickness("ashrae-90.1", 0.03, 0.026, "1", 50, 0.036);
    ADD_FAILURE() << "an unknown code passed";
  } catch (const std::logic_error& e) {
    EXPECT_THAT(e.what(), HasSubstr("did you mean \"ashrae-90.1-2016\"?"));
  }
}

TEST(EnergyCodes, SayNothingOutsideTheirTemperatures) {
  const auto at = [](double water_c) {
    return minimum_thickness("ashrae-90.1-2016", 0.0286, 0.026, "1", water_c, 0.038);
  };
  EXPECT_FALSE(at(40));
  EXPECT_TRUE(at(365.0 / 9));                         // 105 °F
  EXPECT_NEAR(at(60)->thickness_m, 1 * kInM, 1e-12);  // 140 °F belongs to the lower row
  EXPECT_NEAR(at(60.1)->thickness_m, 1.5 * kInM, 1e-12);
  EXPECT_FALSE(at(94));
}

TEST(EnergyCodes, RateConductivityAtTheirMeanTemperature) {
  EXPECT_NEAR(rating_mean_c("ashrae-90.1-2016", 50), 340.0 / 9, 1e-9);  // 100 °F
  EXPECT_NEAR(rating_mean_c("ashrae-90.1-2016", 65), 465.0 / 9, 1e-9);  // 125 °F
  EXPECT_EQ(rating_mean_c("geg", 60), 40);
  EXPECT_TRUE(std::isnan(rating_mean_c("none", 50)));
  EXPECT_TRUE(std::isnan(rating_mean_c("iecc-2021", 20)));
}

TEST(EnergyCodes, MetricSizesTakeTheEqualTube) {
  const auto thickness = [](double od_mm, std::string_view size) {
    return minimum_thickness("title24-2022", od_mm / 1000, od_mm / 1000 - 0.002, size, 50, 0.036)
        ->thickness_m;
  };
  EXPECT_NEAR(thickness(22, "22x1"), 1.0 * kInM, 1e-12);  // as 3/4 in tube
  EXPECT_NEAR(thickness(22, "22"), 1.0 * kInM, 1e-12);    // not 22 inches
  EXPECT_NEAR(thickness(28, "28x1"), 1.5 * kInM, 1e-12);  // as 1 in tube
  EXPECT_NEAR(thickness(28.575, "1"), 1.5 * kInM, 1e-12);
  EXPECT_NEAR(thickness(28.575, "1 in"), 1.5 * kInM, 1e-12);
}

TEST(EnergyCodes, SayWhenTheyWereConverted) {
  const auto at = [](double k) {
    return minimum_thickness("ashrae-90.1-2016", 0.0286, 0.026, "1", 50, k)->citation;
  };
  EXPECT_EQ(at(0.036).basis, "read");
  EXPECT_EQ(at(0.045).basis, "read; conversion from memory");
  EXPECT_THAT(at(0.045).clause, HasSubstr("converted"));
}

TEST(EnergyCodes, PoorerInsulationMustBeThicker) {
  for (const std::string& code : energy_codes()) {
    if (code == "none") continue;
    double before = 0;
    for (const double k : {0.041, 0.045, 0.050}) {
      const double t = minimum_thickness(code, 0.0286, 0.026, "1", 50, k)->thickness_m;
      EXPECT_GT(t, before) << code << " " << k;
      before = t;
    }
  }
}

TEST(Runouts, SizesBetweenRowsTakeTheLargerOne) {
  EXPECT_NEAR(runout_limit("iecc-c404.5", "1/2", 0.0159, false)->length_m, 43 * kFtM, 1e-12);
  EXPECT_NEAR(runout_limit("iecc-c404.5", "15x1", 0.015, false)->length_m, 43 * kFtM, 1e-12);
  EXPECT_NEAR(runout_limit("iecc-c404.5", "18x1", 0.018, false)->length_m, 32 * kFtM, 1e-12);  // as 5/8 in
  EXPECT_NEAR(runout_limit("iecc-c404.5", "3", 0.0889, false)->length_m, 4 * kFtM, 1e-12);
  EXPECT_NEAR(runout_limit("iecc-c404.5", "1/2", 0.0159, true)->length_m, 2 * kFtM, 1e-12);
  EXPECT_TRUE(std::isnan(runout_limit("iecc-c404.5", "1/2", 0.0159, true)->volume_m3));
  EXPECT_NEAR(runout_limit("din-1988-200", "15x1", 0.015, false)->volume_m3, 0.003, 1e-15);
  EXPECT_FALSE(runout_limit("none", "1/2", 0.0159, false));
  EXPECT_THROW(runout_limit("iecc", "1/2", 0.0159, false), std::logic_error);
}

TEST(Outlets, EveryFixtureInEveryBuildingHasAnAnswer) {
  for (const RuleSet rules : {RuleSet::us, RuleSet::intl}) {
    for (const std::string& fixture : fixtures()) {
      for (const std::string& building : building_kinds()) {
        const OutletLimit limit = outlet_limit(rules, fixture, building);
        EXPECT_FALSE(limit.water_c < 35 || limit.water_c > 50) << fixture << " " << building;
        EXPECT_FALSE(limit.citation.basis.empty()) << fixture << " " << building;
      }
    }
  }
  EXPECT_TRUE(std::isnan(outlet_limit(RuleSet::us, "kitchen-sink", "hotel").water_c));
  EXPECT_THROW(outlet_limit(RuleSet::us, "showr", "hotel"), std::logic_error);
  EXPECT_THROW(outlet_limit(RuleSet::us, "shower", "castle"), std::logic_error);
}

ConductorCase fully_loaded(RuleSet rules, double device_a) {
  ConductorCase one;
  one.rules = rules;
  one.device_a = device_a;
  one.load_a = device_a * continuous_load(rules).max_frac;
  if (rules == RuleSet::us) return one;
  one.insulation = "PVC";
  one.method = "B2";
  one.make = "class 2";
  return one;
}

TEST(Breakers, RiseAndHaveConductors) {
  for (const RuleSet rules : {RuleSet::us, RuleSet::intl}) {
    double ohm_before = 1;
    const auto ratings = standard_ratings_a(rules, true);
    EXPECT_TRUE(std::ranges::is_sorted(ratings));
    for (const double rating : ratings) {
      const auto sizing = size_conductor(fully_loaded(rules, rating));
      ASSERT_TRUE(sizing) << sizing.error();
      EXPECT_LE(sizing->conductor_ohm_per_m, ohm_before) << rating;
      EXPECT_GT(sizing->conductor_ohm_per_m, 0) << rating;
      ohm_before = sizing->conductor_ohm_per_m;
    }
    EXPECT_FALSE(size_conductor(fully_loaded(rules, 1000)));
  }
}

TEST(ElectricalLimits, AreCited) {
  for (const RuleSet rules : {RuleSet::us, RuleSet::intl}) {
    EXPECT_DOUBLE_EQ(ground_fault(rules).trip_a, 0.03);
    EXPECT_LE(voltage_drop(rules).branch_frac, voltage_drop(rules).total_frac);
    for (const Citation& citation : {continuous_load(rules).citation, ground_fault(rules).citation,
                                     label_spacing(rules).citation, voltage_drop(rules).citation}) {
      EXPECT_FALSE(citation.text().empty());
      EXPECT_FALSE(citation.basis.empty());
    }
  }
}

TEST(FieldTests, CoverEveryStageInOrder) {
  const std::vector<std::string> stages{"on receipt",       "after fixing, before insulation",
                                        "after insulation", "before energising",
                                        "energised",        "periodic"};
  for (const RuleSet rules : {RuleSet::us, RuleSet::intl}) {
    std::size_t stage = 0;
    std::set<std::string> ids;
    for (const FieldTest& test : field_tests(rules)) {
      const auto at = std::ranges::find(stages, test.stage) - stages.begin();
      ASSERT_LT(static_cast<std::size_t>(at), stages.size()) << test.stage;
      EXPECT_GE(static_cast<std::size_t>(at), stage) << test.id;
      EXPECT_LE(static_cast<std::size_t>(at), stage + 1) << test.id;
      stage = static_cast<std::size_t>(at);
      EXPECT_TRUE(ids.insert(test.id).second) << test.id;
      EXPECT_FALSE(test.how.empty() || test.limit.empty() || test.citation.basis.empty()) << test.id;
    }
    EXPECT_EQ(stage, stages.size() - 1);
  }
}

TEST(BurnTimes, FallAsWaterGetsHotter) {
  const auto times = burn_times();
  ASSERT_GE(times.size(), 2U);
  for (std::size_t i = 0; i < times.size(); ++i) {
    EXPECT_LT(times[i].second_degree_s, times[i].third_degree_s);
    if (i == 0) continue;
    EXPECT_GT(times[i].water_c, times[i - 1].water_c);
    EXPECT_LT(times[i].second_degree_s, times[i - 1].second_degree_s);
  }
}

}  // namespace
}  // namespace firstdraw::rules
