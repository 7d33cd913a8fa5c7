// What was logged of one job over a stretch of time: what estimates, checks and the evidence page read.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "store/series.hpp"

namespace firstdraw::watch {

struct LoggedSeries {
  store::SeriesInfo info;
  std::vector<store::Sample> samples;  // rising
};
struct Logged {
  std::int64_t from_ms = 0, to_ms = 0;
  std::vector<LoggedSeries> series;
  /// Of that quantity at that place; null: none.
  const LoggedSeries* find(std::string_view quantity, std::string_view place) const;
};

}  // namespace firstdraw::watch
