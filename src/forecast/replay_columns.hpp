// The first line of a recorded log: which column is what, in which unit, of which place.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "forecast/replay.hpp"
#include "tables/csv.hpp"
#include "units/quantity.hpp"

namespace firstdraw::forecast {

struct LogColumn {
  std::size_t cell = 0;  // in each row
  std::string heading;   // without unit
  std::string unit;      // as written; empty: each cell has its own
  std::string what;      // "at:P1"
  LogUse use{};
  std::string place;
  int index = draw::none;  // of the place: tap, run or group
  bool tap = false;
  double kg_per_s = 0;  // of one unit, when the unit is one of mass flow; else 0
};

bool drives(LogUse use);
units::Kind kind_of(LogUse use);

/// What the columns are; `problems` gets what is wrong with them. `unused` gets the headings of the others.
std::vector<LogColumn> match_columns(const std::vector<tables::CsvCell>& header, std::string_view file,
                                     const std::vector<ColumnUse>& uses, const job::Job& job,
                                     const draw::Scene& scene, std::vector<std::string>& unused,
                                     std::vector<job::Diagnostic>& problems);

/// "2026-03-02T06:30" or "2026-03-02 06:30:12.5", local time; seconds since 1970. Empty: it is no such thing.
std::optional<double> date_time_s(std::string_view text);
/// Monday 00:00 of the week that holds it, as above.
double week_begin_s(double date_s);

}  // namespace firstdraw::forecast
