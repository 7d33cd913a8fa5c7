// Logged readings: a series is what one sensor or meter says over time. Stored by the UTC day, packed, with
// one row of figures a day, so that a year of minutes of a whole portfolio stays usable. docs/archive.md.
#pragma once

#include <cstdint>
#include <span>
#include <string>

namespace firstdraw::store {

struct Sample {
  std::int64_t at_ms = 0;  // since 1970-01-01T00:00Z
  double value = 0;        // SI: degC, A, V, W, share; never NaN
  bool operator==(const Sample&) const = default;
};

struct SeriesInfo {
  std::int64_t id = 0;   // given by the store
  std::string name;      // unique in its book: "riser-a.sensor"
  std::string quantity;  // "temperature", "current", "voltage", "power", "duty", "on" (0 or 1), "set-point"
  std::string place;     // id of the group, circuit, run or outlet it belongs to; may be empty
  bool operator==(const SeriesInfo&) const = default;
};

/// What one series is to take in.
struct SeriesBatch {
  std::int64_t series = 0;
  std::span<const Sample> samples;
};

/// Of the moments that were given, each counted once.
struct WriteCount {
  std::int64_t added = 0, replaced = 0, same = 0;
};

struct DayFigures {
  std::int64_t day = 0;  // days since 1970-01-01, UTC
  std::int64_t count = 0;
  double least = 0, most = 0, mean = 0;  // mean of the readings, unweighted
  Sample first, last;
};

}  // namespace firstdraw::store
