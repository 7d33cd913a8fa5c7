#include "power/phases.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace firstdraw::power {
namespace {

job::Panel panel(bool line_to_line, int phases) {
  job::Panel made;
  made.line_to_line = line_to_line;
  made.phases = phases;
  return made;
}

TEST(Phases, SlotsArePhasesOrPairs) {
  EXPECT_EQ(phase_slots(panel(false, 3)), (std::vector<std::string>{"L1", "L2", "L3"}));
  EXPECT_EQ(phase_slots(panel(false, 1)), (std::vector<std::string>{"L1"}));
  EXPECT_EQ(phase_slots(panel(true, 3)), (std::vector<std::string>{"L1-L2", "L2-L3", "L3-L1"}));
  EXPECT_EQ(phase_slots(panel(true, 1)), (std::vector<std::string>{"L1-L2"}));
}

TEST(Phases, HeaviestFirstToTheLightest) {
  const std::vector<double> settled_a{2, 10, 8, 9};
  EXPECT_EQ(balance(settled_a, 3), (std::vector<int>{2, 0, 2, 1}));
}

TEST(Phases, BalancedPairsLoadEachLineBySquareRootOfThree) {
  const std::vector<double> pairs_a{10, 10, 10};
  for (const double line_a : line_currents_a(panel(true, 3), pairs_a))
    EXPECT_NEAR(line_a, 10 * std::sqrt(3.0), 1e-12);
}

TEST(Phases, OnePairLoadsItsTwoLinesAlone) {
  const std::vector<double> pairs_a{7, 0, 0};
  const auto lines_a = line_currents_a(panel(true, 3), pairs_a);
  EXPECT_EQ(lines_a, (std::vector<double>{7, 7, 0}));
}

TEST(Phases, LineToNeutralLoadsItsOwnPhase) {
  const std::vector<double> slots_a{3, 4, 5};
  EXPECT_EQ(line_currents_a(panel(false, 3), slots_a), slots_a);
}

}  // namespace
}  // namespace firstdraw::power
