// Which hours are busy, by hand on a tiny profile.
#include "settings/use_hours.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

namespace firstdraw::settings {
namespace {

/// Ten draws a weekday: 5 at seven, 3 at eight, 2 at eighteen. At weekends half as many, all at nine.
draw::UseProfile tiny() {
  draw::UseProfile profile;
  profile.weekday_hours[7] = 0.5;
  profile.weekday_hours[8] = 0.3;
  profile.weekday_hours[18] = 0.2;
  profile.weekend_hours[9] = 1;
  profile.weekday_frac = {1, 1, 1, 1, 1, 0.5, 0.5};
  return profile;
}

struct Use {
  draw::UseProfile profile = tiny();
  draw::TapUse tap;
  Use() {
    tap.kind.per_day = 10;
    tap.profile = &profile;
  }
  HoursOfWeek by_hour() const {
    const draw::TapUse* taps[] = {&tap};
    return draws_by_hour(taps);
  }
};

long count(const std::vector<bool>& hours) { return std::ranges::count(hours, true); }

TEST(DrawsByHour, ShapesTimesWeekdaysTimesCount) {
  Use use;
  use.profile.draws_frac = 0.8;
  const HoursOfWeek draws = use.by_hour();
  EXPECT_DOUBLE_EQ(draws[7], 4);
  EXPECT_DOUBLE_EQ(draws[24 + 18], 1.6);
  EXPECT_DOUBLE_EQ(draws[5 * 24 + 9], 4);
  EXPECT_EQ(draws[5 * 24 + 7], 0);
  EXPECT_NEAR(std::accumulate(draws.begin(), draws.end(), 0.0), 48, 1e-12);
}

TEST(DrawsByHour, TapsAddUp) {
  const Use use;
  const draw::TapUse* taps[] = {&use.tap, &use.tap, &use.tap};
  EXPECT_DOUBLE_EQ(draws_by_hour(taps)[8], 9);
}

// 60 draws a week: 5 at 7 on five days and at 9 on two (35), 3 at 8 on five days (15), 2 at 18 (10).
TEST(BusiestHours, TheFewestThatCarryTheShare) {
  const Use use;
  const HoursOfWeek draws = use.by_hour();
  EXPECT_EQ(count(busiest_hours(draws, 35.0 / 60)), 7);
  EXPECT_EQ(count(busiest_hours(draws, 36.0 / 60)), 8);
  EXPECT_EQ(count(busiest_hours(draws, 0.9)), 14);  // 54: 35 + 15 + 2 of two evenings
  EXPECT_EQ(count(busiest_hours(draws, 1)), 17);
  EXPECT_EQ(count(busiest_hours(draws, 0)), 0);
}

TEST(BusiestHours, OfEqualOnesTheEarlierInTheDayThenTheEarlierDay) {
  const Use use;
  const std::vector<bool> chosen = busiest_hours(use.by_hour(), 10.0 / 60);
  EXPECT_EQ(count(chosen), 2);
  EXPECT_TRUE(chosen[7] && chosen[24 + 7]) << "seven on Monday and Tuesday";
  const std::vector<bool> more = busiest_hours(use.by_hour(), 41.0 / 60);
  EXPECT_TRUE(more[8] && more[24 + 8]) << "eight on the first two days";
  EXPECT_FALSE(more[2 * 24 + 8]);
}

TEST(BusiestHours, WithoutDrawsThereAreNone) { EXPECT_EQ(count(busiest_hours(HoursOfWeek{}, 0.9)), 0); }

}  // namespace
}  // namespace firstdraw::settings
