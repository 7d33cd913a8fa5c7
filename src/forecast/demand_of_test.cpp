// Which tap is used how: the job's word first, published figures where it is silent, and that is said.
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "forecast/test_building.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;
using testing::HasSubstr;

class DemandOfTest : public testing::Test {
 protected:
  Planned building_;
  draw::Scene scene_ = make_scene(building_.job, building_.plan, {});

  Demand demand() const { return demand_of(building_.job, scene_); }
  job::UseProfile& use(const std::string& id) {
    building_.job.profiles.push_back({});
    building_.job.profiles.back().id = id;
    return building_.job.profiles.back();
  }
};

std::string all_values(const Demand& demand) {
  std::string text;
  for (const job::Assumption& assumed : demand.assumptions)
    text += assumed.field + ": " + assumed.value + " (" + assumed.why + ")\n";
  return text;
}

TEST_F(DemandOfTest, EveryTapIsUsedOnceWithAKeyOfItsOwn) {
  const Demand all = demand();
  ASSERT_EQ(all.taps.size(), scene_.taps.size());
  std::set<std::uint64_t> keys;
  for (std::size_t t = 0; t < all.taps.size(); ++t) {
    EXPECT_EQ(all.taps[t].tap, static_cast<int>(t));
    EXPECT_EQ(all.taps[t].kind.fixture, building_.job.outlets[at(scene_.taps[t].outlet)].fixture);
    keys.insert(all.taps[t].key);
  }
  EXPECT_EQ(keys.size(), all.taps.size());
}

TEST_F(DemandOfTest, KeysComeFromIdsNotFromOrder) {
  const Demand before = demand();
  std::swap(building_.job.outlets[0], building_.job.outlets[2]);
  building_.plan = plan::make_plan(building_.job, quick());
  const draw::Scene swapped = make_scene(building_.job, building_.plan, {});
  const Demand after = demand_of(building_.job, swapped);
  ASSERT_EQ(swapped.taps.back().id, scene_.taps[1].id);
  EXPECT_EQ(after.taps.back().key, before.taps[1].key);
}

TEST_F(DemandOfTest, BuildingsKindWhereTheJobIsSilentAndItSaysSo) {
  const Demand usual = demand();
  for (const draw::TapUse& tap : usual.taps)
    EXPECT_EQ(tap.profile->id, draw::published_profile_for("clinic"));
  EXPECT_THAT(all_values(usual), HasSubstr("(3 outlets)"));
  EXPECT_THAT(all_values(usual), HasSubstr("draws.shower: "));
  EXPECT_THAT(all_values(usual), HasSubstr("draws.kitchen-sink: "));
  EXPECT_THAT(all_values(usual), testing::Not(HasSubstr("draws.bath")));
}

TEST_F(DemandOfTest, RunoutsOfNoLengthAreSaid) {
  EXPECT_THAT(all_values(demand()), HasSubstr("outlets.runout_length: "));
  building_.job.outlets[2].runout_length_m = 1;
  EXPECT_THAT(all_values(demand()), testing::Not(HasSubstr("runout_length")));
}

TEST_F(DemandOfTest, EveryBuildingKindHasAUse) {
  for (const std::string& kind : rules::building_kinds()) {
    building_.job.requirements.building_kind = kind;
    EXPECT_NO_THROW(demand()) << kind;
  }
}

TEST_F(DemandOfTest, EveryFixtureHasDraws) {
  for (const std::string& fixture : rules::fixtures()) {
    building_.job.outlets[0].fixture = fixture;
    EXPECT_EQ(demand().taps[0].kind.fixture, fixture);
  }
}

TEST_F(DemandOfTest, OwnHoursAddUpToOneWhateverTheirScale) {
  job::UseProfile& ward = use("ward");
  ward.weekday_hours.assign(24, 0);
  ward.weekday_hours[6] = 3;
  ward.weekday_hours[18] = 1;
  ward.weekend_hours.assign(24, 5);
  ward.weekday_frac = {1, 1, 1, 1, 1, 0.5, 0.25};
  ward.draws_frac = 0.6;
  building_.job.outlets[0].profile = "ward";
  const Demand own = demand();
  const draw::UseProfile& profile = *own.taps[0].profile;
  EXPECT_EQ(profile.id, "ward");
  EXPECT_EQ(profile.weekday_hours[6], 0.75);
  EXPECT_EQ(profile.weekday_hours[18], 0.25);
  EXPECT_DOUBLE_EQ(profile.weekend_hours[3], 1.0 / 24);
  EXPECT_EQ(profile.weekday_frac[6], 0.25);
  EXPECT_EQ(profile.draws_frac, 0.6);
  EXPECT_NE(own.taps[2].profile->id, "ward");
  EXPECT_THAT(all_values(own), HasSubstr("(2 outlets)"));
}

TEST_F(DemandOfTest, LikeFillsWhatTheJobLeavesOut) {
  job::UseProfile& flats = use("flats");
  flats.like = "apartment";
  flats.draws_frac = 0.5;
  flats.weekday_frac = {1, 1, 1, 1, 1, 2, 2};
  for (job::Outlet& outlet : building_.job.outlets) outlet.profile = "flats";
  const Demand own = demand();
  const draw::UseProfile &profile = *own.taps[0].profile, &like = *draw::published_profile("apartment");
  for (std::size_t h = 0; h < 24; ++h)
    EXPECT_NEAR(profile.weekday_hours[h], like.weekday_hours[h], 1e-12) << h;
  EXPECT_EQ(profile.weekday_frac[5], 2);
  EXPECT_EQ(profile.draws_frac, 0.5 * like.draws_frac);
  EXPECT_THAT(all_values(own), testing::Not(HasSubstr("outlets.profile")));
}

TEST_F(DemandOfTest, OwnDrawsReplaceThePublishedOnes) {
  job::UseProfile& ward = use("ward");
  ward.like = "hospital";
  for (job::Outlet& outlet : building_.job.outlets) outlet.profile = "ward";
  building_.job.fixture_uses = {{"ward", "shower", 4, 300, 0.00012, 39.0},
                                {"ward", "lavatory", 9, 20, 0.00005, {}}};
  const Demand own = demand();
  EXPECT_EQ(own.taps[0].kind.per_day, 4);
  EXPECT_EQ(own.taps[0].kind.mean_duration_s, 300);
  EXPECT_EQ(own.taps[0].kind.mean_flow_m3_per_s, 0.00012);
  EXPECT_EQ(own.taps[0].kind.use_c, 39);
  EXPECT_GT(own.taps[0].kind.duration_cv, 0);
  EXPECT_TRUE(std::isnan(own.taps[3].kind.use_c)) << "all hot";
  EXPECT_THAT(all_values(own), testing::Not(HasSubstr("draws.shower")));
  EXPECT_THAT(all_values(own), HasSubstr("draws.kitchen-sink"));
}

TEST_F(DemandOfTest, DrawsOfOneProfileAreNotThoseOfAnother) {
  use("ward").like = "hospital";
  use("flat").like = "apartment";
  building_.job.outlets[0].profile = "flat";
  building_.job.fixture_uses = {{"ward", "shower", 4, 300, 0.00012, 39.0}};
  EXPECT_NE(demand().taps[0].kind.per_day, 4);
}

/// Of outlets in a space: their own profile first, then the space's, then that of the building's kind.
TEST_F(DemandOfTest, ASpaceSaysHowItsOutletsAreUsed) {
  use("ward").like = "hospital";
  use("flat").like = "apartment";
  building_.job.spaces.push_back({"baths", "Baths", {18, 22, 26}, "ward"});
  for (job::Outlet& outlet : building_.job.outlets) outlet.space = "baths";
  building_.job.outlets[1].profile = "flat";
  building_.job.outlets[2].space.clear();
  building_.job.fixture_uses = {{"ward", "shower", 4, 300, 0.00012, 39.0}};
  const Demand own = demand();
  for (const draw::TapUse& tap : own.taps) {
    const int outlet = scene_.taps[at(tap.tap)].outlet;
    const std::string expected = outlet == 0   ? "ward"
                                 : outlet == 1 ? "flat"
                                               : draw::published_profile_for("clinic");
    EXPECT_EQ(tap.profile->id, expected) << outlet;
  }
  EXPECT_EQ(own.taps[0].kind.per_day, 4);
  EXPECT_THAT(all_values(own), HasSubstr("(1 outlet)"));
}

TEST_F(DemandOfTest, PublishedProfilesCanBeNamed) {
  building_.job.spaces.push_back({"kitchen", "Kitchen", {18, 22, 26}, "restaurant"});
  building_.job.outlets[0].space = "kitchen";
  building_.job.outlets[1].profile = "hospital";
  const Demand own = demand();
  for (const draw::TapUse& tap : own.taps) {
    const int outlet = scene_.taps[at(tap.tap)].outlet;
    const std::string expected = outlet == 0   ? "restaurant"
                                 : outlet == 1 ? "hospital"
                                               : draw::published_profile_for("clinic");
    EXPECT_EQ(tap.profile->id, expected) << outlet;
  }
  EXPECT_THAT(all_values(own), HasSubstr("(1 outlet)"));
}

TEST_F(DemandOfTest, ProfilesStayWhereTapsPointWhenMoved) {
  Demand first = demand();
  const Demand moved = std::move(first);
  for (const draw::TapUse& tap : moved.taps) {
    EXPECT_GE(tap.profile, moved.profiles.data());
    EXPECT_LT(tap.profile, moved.profiles.data() + moved.profiles.size());
  }
}

}  // namespace
}  // namespace firstdraw::forecast
