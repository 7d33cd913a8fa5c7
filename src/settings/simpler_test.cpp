#include "settings/simpler.hpp"

#include <gtest/gtest.h>

#include "settings/cheapest_scenes.hpp"

namespace firstdraw::settings {
namespace {

/// One pipe that must be at 40 degC at least, and a timetable above that.
struct Kept {
  InventedWeek week;
  Timetable timetable{"all year", {}};

  explicit Kept(std::vector<Entry> entries) {
    week.add({LinearRun{.capacity_j_per_k = 50e3}});
    week.needs.front().always_c = 40;
    timetable.groups.push_back({"group 1", std::move(entries)});
  }
  std::vector<Entry> simplified() const {
    return simpler(week.models, week.needs, week.season.prices, {}, week.options.step_s, timetable)
        .groups.front()
        .entries;
  }
};

constexpr double hour_s = 3600;

TEST(Simpler, AnEntryThatChangesNothingGoes) {
  const Kept kept({{0x7f, 0, 45}, {0x7f, 8 * hour_s, 45}, {0x7f, 20 * hour_s, 45}});
  EXPECT_EQ(kept.simplified(), (std::vector<Entry>{{0x7f, 0, 45}}));
}

/// The pipe is hot for the taps from 8 to 9 and colder for the rest of the day: both entries are worth keying
/// in.
TEST(Simpler, ASetbackThatSavesStays) {
  const std::vector<Entry> entries{{0x7f, 6 * hour_s, 60}, {0x7f, 9 * hour_s, 40}};
  Kept kept(entries);
  kept.week.comfort(8, 9, 55);
  EXPECT_EQ(kept.simplified(), entries);
}

/// Taking out the entry that heats leaves the pipe off: cheaper, but not what is asked.
TEST(Simpler, WhatIsAskedStays) {
  const auto entries = Kept({{0x7f, 0, std::nullopt}, {0x7f, 1 * hour_s, 45}}).simplified();
  EXPECT_TRUE(std::ranges::any_of(entries, [](const Entry& entry) { return entry.hold_c == 45; }));
}

}  // namespace
}  // namespace firstdraw::settings
