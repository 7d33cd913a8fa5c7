#include "draw/demand.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "draw/control.hpp"

namespace firstdraw::draw {
namespace {

std::vector<TapUse> busy_taps() {
  std::vector<TapUse> taps;
  DrawKind kind = published_kinds()[0];
  kind.per_day = 200;
  for (int i = 0; i < 5; ++i)
    taps.push_back({i, 1000 + static_cast<std::uint64_t>(i), kind, published_profile("hotel")});
  return taps;
}

TEST(HotShare, MixesByHeat) {
  EXPECT_DOUBLE_EQ(hot_share(40, 60, 10), 0.6);
  EXPECT_EQ(hot_share(60, 60, 10), 1);
  EXPECT_EQ(hot_share(70, 60, 10), 1);
  EXPECT_EQ(hot_share(5, 60, 10), 0);
  EXPECT_EQ(hot_share(std::nan(""), 60, 10), 1);
}

TEST(PeakFlow, OfDrawsThatMeet) {
  const std::vector<Draw> draws{{0, 0, 100, 1}, {1, 50, 10, 2}, {2, 60, 10, 2.5}, {3, 500, 10, 3}};
  const PeakFlow peak = peak_flow(draws);
  EXPECT_DOUBLE_EQ(peak.largest_m3_per_s, 3.5);  // the second closes as the third opens
  EXPECT_EQ(peak.at_s, 60);
  EXPECT_DOUBLE_EQ(peak.p99_m3_per_s, 3.5);  // 10 of 110 s
  EXPECT_EQ(peak_flow({}).largest_m3_per_s, 0);
}

TEST(PeakFlow, AMomentIsBeyondTheNinetyNinth) {
  const std::vector<Draw> draws{{0, 0, 1000, 1}, {1, 10, 5, 1}};
  EXPECT_DOUBLE_EQ(peak_flow(draws).largest_m3_per_s, 2);
  EXPECT_DOUBLE_EQ(peak_flow(draws).p99_m3_per_s, 1);
}

TEST(StochasticDraws, OrderOfTapsDoesNotMatterAndSeedsDo) {
  auto taps = busy_taps();
  const auto draws = stochastic_draws(taps, {0, 3 * day_s, 1});
  std::ranges::reverse(taps);
  EXPECT_EQ(stochastic_draws(taps, {0, 3 * day_s, 1}), draws);
  EXPECT_NE(stochastic_draws(taps, {0, 3 * day_s, 2}), draws);
  EXPECT_GT(draws.size(), 1000U);
}

TEST(StochasticDraws, ADayIsTheSameInALongerStretch) {
  const auto tap = std::vector{busy_taps()[0]};
  const auto shorter = stochastic_draws(tap, {0, day_s, 1}),
             longer = stochastic_draws(tap, {0, 9 * day_s, 1});
  ASSERT_LT(shorter.size(), longer.size());
  EXPECT_TRUE(std::equal(shorter.begin(), shorter.end(), longer.begin()));
}

TEST(StochasticDraws, ATapOpensOnlyOnceClosed) {
  std::vector<double> closes(5, -1e9);
  int waited = 0;
  const auto draws = stochastic_draws(busy_taps(), {-day_s, 3 * day_s, 1});
  for (const Draw& draw : draws) {
    double& closed = closes[static_cast<std::size_t>(draw.tap)];
    EXPECT_GE(draw.open_s, closed);
    waited += draw.open_s == closed ? 1 : 0;
    closed = draw.open_s + draw.duration_s;
  }
  EXPECT_GT(waited, 0);
  EXPECT_TRUE(std::ranges::is_sorted(draws, {}, &Draw::open_s));
}

TEST(StochasticDraws, WithoutProfileIsABrokenPromise) {
  auto taps = busy_taps();
  taps[0].profile = nullptr;
  EXPECT_THROW(stochastic_draws(taps, {0, day_s, 1}), std::logic_error);
}

TEST(PublishedProfiles, AddUpToOne) {
  for (const std::string& id : published_profile_ids()) {
    const UseProfile& profile = *published_profile(id);
    EXPECT_NEAR(std::accumulate(profile.weekday_hours.begin(), profile.weekday_hours.end(), 0.0), 1, 1e-12);
    EXPECT_NEAR(std::accumulate(profile.weekend_hours.begin(), profile.weekend_hours.end(), 0.0), 1, 1e-12);
    EXPECT_FALSE(profile.source.empty()) << id;
  }
  EXPECT_EQ(published_profile("moon"), nullptr);
  EXPECT_EQ(published_profile_for("moon"), "");
  EXPECT_NEAR(published_profile("office")->weekday_frac[6], 1.58 / 5.04, 0.002);  // sums as published
}

}  // namespace
}  // namespace firstdraw::draw
