// Tapping profiles against sums over Regulation (EU) 812/2013, Annex VII, Table 3 (computed from its rows).
#include <gtest/gtest.h>

#include "draw/control.hpp"
#include "draw/demand.hpp"
#include "published.hpp"

namespace firstdraw::draw {
namespace {

struct Sums {
  double energy_kwh = 0, hot_l = 0, open_min = 0;
};

Sums sums(const std::string& name, double hot_c) {
  Sums all;
  for (const TappingDraw& row : tapping_profile(name)) all.energy_kwh += row.energy_j / 3.6e6;
  for (const Draw& draw : tapping_draws(name, 0, 0, day_s, hot_c, 10)) {
    all.hot_l += draw.flow_m3_per_s * draw.duration_s * 1000;
    all.open_min += draw.duration_s / 60;
  }
  return all;
}

TEST(TappingProfiles, EnergyVolumeAndTimeAsPublished) {
  EXPECT_EQ(tapping_profile_names().size(), reference::published("eu_tapping_totals").rows().size());
  for (const tables::Row& row : reference::published("eu_tapping_totals").rows()) {
    const std::string& name = row.text("profile");
    const Sums day = sums(name, 60);
    EXPECT_EQ(tapping_profile(name).size(), static_cast<std::size_t>(row.number("draws"))) << name;
    EXPECT_NEAR(day.energy_kwh, row.number("Qref_kWh_per_day"), 1e-9) << name;
    // Half the last digit printed.
    EXPECT_NEAR(day.hot_l, row.number("litres_at_60C_per_day"), 0.05 + 1e-9) << name;
    EXPECT_NEAR(day.open_min, row.number("open_minutes_per_day"), 0.05 + 1e-9) << name;
  }
}

TEST(TappingProfiles, ColderWaterStillCarriesTheEnergy) {
  EXPECT_NEAR(sums("L", 35).hot_l * (35 - 10), sums("L", 60).hot_l * (60 - 10), 1e-6);
}

TEST(TappingProfiles, RepeatDailyFromWhereverTheyBegin) {
  EXPECT_EQ(tapping_draws("M", 3, -day_s, 2 * day_s, 60, 10).size(), 3 * 23U);
  const auto part = tapping_draws("M", 3, 7.05 * hour_s, 7.2 * hour_s, 60, 10);  // 07:03 to 07:12
  ASSERT_EQ(part.size(), 1U);
  EXPECT_EQ(part[0].open_s, 7 * hour_s + 5 * minute_s);
  EXPECT_EQ(part[0].tap, 3);
  EXPECT_TRUE(tapping_profile("5XL").empty());
}

}  // namespace
}  // namespace firstdraw::draw
