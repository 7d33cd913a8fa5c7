#include <gtest/gtest.h>

#include "draw/simulate.hpp"

namespace firstdraw::draw {
namespace {

TEST(TempCounts, QuantilesAndSharesOfAnEvenSpread) {
  TempCounts counts;
  for (int i = 0; i < 1000; ++i) counts.add(40 + 0.01 * i);  // 40 to 50, even
  EXPECT_EQ(counts.total(), 1000u);
  EXPECT_NEAR(counts.quantile(0.05), 40.5, 0.02);
  EXPECT_NEAR(counts.quantile(0.5), 45, 0.02);
  EXPECT_NEAR(counts.quantile(0.95), 49.5, 0.02);
  EXPECT_NEAR(counts.share_at_least(47.25), 0.275, 0.002);
}

TEST(TempCounts, EmptyHasNoQuantile) {
  EXPECT_TRUE(std::isnan(TempCounts{}.quantile(0.5)));
  EXPECT_TRUE(std::isnan(TempCounts{}.share_at_least(40)));
}

TEST(TempCounts, WhatIsOutsideStaysInTheEndBins) {
  TempCounts counts;
  counts.add(-5);
  counts.add(140);
  EXPECT_EQ(counts.count.front(), 1u);
  EXPECT_EQ(counts.count.back(), 1u);
}

TEST(TempSeconds, AStretchIsSpreadEvenlyOverWhatItPassed) {
  TempSeconds time;
  time.add(40, 50, 1000);
  EXPECT_DOUBLE_EQ(time.total(), 1000);
  EXPECT_NEAR(time.between(20, 45), 500, 1e-9);
  EXPECT_NEAR(time.between(41.2, 41.3), 10, 1e-9);
  EXPECT_NEAR(time.mean_c(), 45, 1e-9);
  TempSeconds falling;
  falling.add(50, 40, 1000);
  EXPECT_EQ(falling.seconds, time.seconds);
}

}  // namespace
}  // namespace firstdraw::draw
