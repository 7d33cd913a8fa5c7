#include "power/panel_places.hpp"

#include <gtest/gtest.h>

#include <random>
#include <set>
#include <stdexcept>

#include "power/phases.hpp"

namespace firstdraw::power {
namespace {

using Places = std::vector<std::vector<int>>;

job::Panel panel(bool line_to_line, int phases) {
  job::Panel made;
  made.line_to_line = line_to_line;
  made.phases = phases;
  return made;
}

// The rows of a three-phase panel: 1 and 2 on L1, 3 and 4 on L2, 5 and 6 on L3 (common practice, no source).
TEST(PanelPlaces, PhasesFollowEachOtherDownThePanel) {
  const int expected[] = {0, 0, 1, 1, 2, 2, 0, 0};
  for (int place = 1; place <= 8; ++place)
    EXPECT_EQ(phase_of_place(panel(true, 3), place), expected[place - 1]);
}

// A panel of 120/240 V has two lines, though it counts as one phase.
TEST(PanelPlaces, OnePhaseFedLineToLineHasTwoLines) {
  const int expected[] = {0, 0, 1, 1, 0, 0};
  for (int place = 1; place <= 6; ++place)
    EXPECT_EQ(phase_of_place(panel(true, 1), place), expected[place - 1]);
  EXPECT_EQ(phase_of_place(panel(false, 1), 3), 0);
}

// By hand: L1-L2 takes 1 and 3; L2-L3 finds 3 taken and goes to 4 and 6; L3-L1 to 5 and 7; the second L1-L2
// finds 2 free but 4 taken, so 8 and 10.
TEST(PanelPlaces, TwoPoleBreakersOneBelowTheOther) {
  const std::vector<std::string> phases{"L1-L2", "L2-L3", "L3-L1", "L1-L2"};
  EXPECT_EQ(panel_places(panel(true, 3), phases), (Places{{1, 3}, {4, 6}, {5, 7}, {8, 10}}));
}

TEST(PanelPlaces, SinglePolesFillTheRows) {
  const std::vector<std::string> phases{"L1", "L1", "L1", "L3", "L2"};
  EXPECT_EQ(panel_places(panel(false, 3), phases), (Places{{1}, {2}, {7}, {5}, {3}}));
}

TEST(PanelPlaces, TwoLinesMayBeTakenEitherWayRound) {
  const std::vector<std::string> phases{"L1-L2", "L1-L2", "L1-L2"};
  EXPECT_EQ(panel_places(panel(true, 1), phases), (Places{{1, 3}, {2, 4}, {5, 7}}));
}

TEST(PanelPlaces, RefusesAPhaseThatNoPanelHas) {
  const std::vector<std::string> phases{"N"};
  EXPECT_THROW(panel_places(panel(true, 3), phases), std::logic_error);
}

// Whatever the order: no place twice, every pole on a line of its own among those asked for.
TEST(PanelPlaces, NeverTakesAPlaceTwice) {
  std::mt19937 random(8);
  for (int trial = 0; trial < 200; ++trial) {
    const job::Panel on = panel(random() % 2 == 0, random() % 2 == 0 ? 1 : 3);
    const auto slots = phase_slots(on);
    std::vector<std::string> phases;
    for (std::size_t i = 0; i < 1 + random() % 40; ++i) phases.push_back(slots[random() % slots.size()]);
    std::set<int> taken;
    const Places all = panel_places(on, phases);
    ASSERT_EQ(all.size(), phases.size());
    for (std::size_t i = 0; i < all.size(); ++i) {
      EXPECT_EQ(all[i].size(), on.line_to_line ? 2U : 1U);
      std::set<std::string> lines;
      for (const int place : all[i]) {
        EXPECT_TRUE(taken.insert(place).second);
        const std::string line = "L" + std::to_string(phase_of_place(on, place) + 1);
        EXPECT_NE(phases[i].find(line), std::string::npos);
        lines.insert(line);
      }
      EXPECT_EQ(lines.size(), all[i].size());
    }
  }
}

}  // namespace
}  // namespace firstdraw::power
