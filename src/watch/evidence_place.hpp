// One logged temperature through a month: how long it was where. docs/logs.md.
#pragma once

#include <optional>

#include "watch/evidence.hpp"

namespace firstdraw::watch {

struct Month {
  std::int64_t begin_ms = 0, end_ms = 0;
  std::vector<std::int64_t> day_begin_ms;  // one a local day, and the end
};
Month month_of(const week::Zone& zone, int year, int month);

struct PlaceLimits {
  std::string what;                // "sensor of group mains"
  double least_c = 0, most_c = 0;  // NaN: none
  std::string basis;
  plan::Finding::PlaceKind kind{};
  bool at_outlet = false;
};
/// Where a series belongs; none for a place that is no group, run or outlet.
std::optional<PlaceLimits> limits_of(const job::Job& job, const std::string& place,
                                     std::vector<rules::Citation>& sources);

/// `samples`: rising, also beyond the month.
PlaceEvidence place_evidence(const store::SeriesInfo& info, const std::vector<store::Sample>& samples,
                             const Month& month, const PlaceLimits& limits);

}  // namespace firstdraw::watch
