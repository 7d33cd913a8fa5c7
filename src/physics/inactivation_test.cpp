#include "physics/inactivation.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

namespace firstdraw::physics {
namespace {

TEST(Inactivation, DefaultSetComesFirst) {
  const auto sets = inactivation_sets();
  ASSERT_FALSE(sets.empty());
  EXPECT_EQ(sets.front().id, "slower");
  EXPECT_DOUBLE_EQ(decimal_reduction_s(sets.front(), 50), 111 * 60.0);
  EXPECT_DOUBLE_EQ(decimal_reduction_s(sets.front(), 70), 1.25 * 60.0);
}

TEST(Inactivation, EverySetIsSourcedAndFalls) {
  std::set<std::string> ids;
  for (const InactivationSet& set : inactivation_sets()) {
    EXPECT_TRUE(ids.insert(set.id).second) << set.id;
    EXPECT_FALSE(set.source.empty());
    EXPECT_FALSE(set.basis.empty());
    ASSERT_EQ(set.temp_c.size(), set.decimal_reduction_s.size());
    double last = decimal_reduction_s(set, set.temp_c.front());
    for (double c = set.temp_c.front() + 0.25; c < 90; c += 0.25) {
      EXPECT_LT(decimal_reduction_s(set, c), last) << set.id << " " << c;
      last = decimal_reduction_s(set, c);
    }
  }
  EXPECT_EQ(ids.size(), 5u);
}

TEST(Inactivation, NoneIsCountedBelowTheFirstPoint) {
  for (const InactivationSet& set : inactivation_sets()) {
    EXPECT_TRUE(std::isinf(decimal_reduction_s(set, set.temp_c.front() - 1e-9)));
    EXPECT_TRUE(std::isinf(decimal_reduction_s(set, std::nan(""))));
  }
}

TEST(Inactivation, StraightInTheLogarithm) {
  const InactivationSet& set = inactivation_sets().front();
  const double middle = 0.5 * (set.temp_c[0] + set.temp_c[1]);
  EXPECT_NEAR(decimal_reduction_s(set, middle),
              std::sqrt(set.decimal_reduction_s[0] * set.decimal_reduction_s[1]), 1e-9);
  const double step = set.temp_c[4] - set.temp_c[3];
  EXPECT_NEAR(decimal_reduction_s(set, set.temp_c[4] + step),
              std::pow(set.decimal_reduction_s[4], 2) / set.decimal_reduction_s[3], 1e-9);
}

}  // namespace
}  // namespace firstdraw::physics
