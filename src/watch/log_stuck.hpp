// Stretches in which a sensor said the same for so long that a working one would not.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "store/series.hpp"

namespace firstdraw::watch {

struct StuckRun {
  std::size_t begin = 0, end = 0;  // of the samples
  std::int64_t longest_expected_ms = 0;
  bool whole = false;  // nothing else was ever read
};

/// How long a series stays at one value by itself is told from the series: from the lengths of all its
/// constant stretches (their tail, robustly), from how often neighbours are equal in the hours around, and
/// from the longest stretches of other days. A stretch counts as stuck when it is half as long again as each
/// of the three lets expect, the first two of one series in a thousand. A coarse or quiet sensor has long
/// stretches of its own and is believed.
std::vector<StuckRun> stuck_runs(std::span<const store::Sample> samples);

/// A value that this quantity can have.
bool is_possible(std::string_view quantity, double value);

}  // namespace firstdraw::watch
