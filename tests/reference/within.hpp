// Relative tolerance with both numbers in the message.
#pragma once

#include <gtest/gtest.h>

#include <cmath>

namespace firstdraw::reference {

/// |value / expected - 1| <= tolerance_frac
inline ::testing::AssertionResult within_frac(double value, double expected, double tolerance_frac) {
  const double off = std::abs(value / expected - 1);
  if (off <= tolerance_frac) return ::testing::AssertionSuccess();
  return ::testing::AssertionFailure()
         << value << " against " << expected << ": off by " << 100 * off << " %";
}

}  // namespace firstdraw::reference
