// One figure a local day of a logged series: what changes for good are looked for in.
#pragma once

#include <string>
#include <vector>

#include "watch/logged.hpp"
#include "week/zone.hpp"

namespace firstdraw::watch {

struct DailyRow {
  enum class Figure { mean, on_share, night_cooling } figure{};
  std::vector<double> values;          // days without enough readings are left out
  std::vector<std::int64_t> begin_ms;  // of each day
};
/// Mean (temperature, set-point, voltage, power), share on (current, on, duty), and for temperatures the
/// fastest steady cooling between 00:00 and 05:00, K/h. Days with fewer than a quarter of the usual readings
/// count as not logged. `zone` null: days of UTC.
std::vector<DailyRow> daily_rows(const LoggedSeries& series, const week::Zone* zone);

}  // namespace firstdraw::watch
