#include "draw/series.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

namespace firstdraw::draw {
namespace {

const Series ramp({0, 10, 30}, {0, 10, 50});

TEST(Series, RunsStraightBetweenPointsAndHoldsBeyond) {
  EXPECT_DOUBLE_EQ(ramp.at(-5), 0);
  EXPECT_DOUBLE_EQ(ramp.at(5), 5);
  EXPECT_DOUBLE_EQ(ramp.at(10), 10);
  EXPECT_DOUBLE_EQ(ramp.at(20), 30);
  EXPECT_DOUBLE_EQ(ramp.at(31), 50);
}

TEST(Series, MeansAreAreasOfTrapezia) {
  EXPECT_DOUBLE_EQ(ramp.mean(0, 30), (50.0 + 600) / 30);
  EXPECT_DOUBLE_EQ(ramp.mean(5, 20), (37.5 + 200) / 15);  // (5+10)/2*5 and (10+30)/2*10
  EXPECT_DOUBLE_EQ(ramp.mean(-10, 10), 50.0 / 20);
  EXPECT_DOUBLE_EQ(ramp.mean(20, 50), (400.0 + 1000) / 30);
  EXPECT_DOUBLE_EQ(ramp.mean(7, 7), 7);
  EXPECT_DOUBLE_EQ(ramp.mean(40, 50), 50);
}

TEST(Series, MeansOfPartsAddUp) {
  double sum = 0;
  for (int i = 0; i < 70; ++i) sum += ramp.mean(-3 + 0.5 * i, -2.5 + 0.5 * i) * 0.5;
  EXPECT_NEAR(sum, ramp.mean(-3, 32) * 35, 1e-9);
}

TEST(Series, OneValueIsTheSameAlways) {
  const Series fixed = 20.0;
  EXPECT_TRUE(fixed.constant());
  EXPECT_DOUBLE_EQ(fixed.mean(1, 2), 20);
  EXPECT_DOUBLE_EQ(Series({100}, {7}).at(0), 7);
}

TEST(Series, BrokenPromisesThrow) {
  EXPECT_THROW(Series({0, 0}, {1, 2}), std::logic_error);
  EXPECT_THROW(Series({0, 1}, {1}), std::logic_error);
  EXPECT_THROW(Series().at(0), std::logic_error);
}

}  // namespace
}  // namespace firstdraw::draw
