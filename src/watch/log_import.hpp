// A log read by a confirmed format, and what is odd about it. docs/logs.md.
#pragma once

#include <cstdint>
#include <expected>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "job/diagnostic.hpp"
#include "store/series.hpp"
#include "units/quantity.hpp"
#include "watch/log_format.hpp"

namespace firstdraw::watch {

struct LogSeries {
  LogColumn column;
  std::vector<store::Sample> samples;  // rising, one a moment
};

struct Oddity {
  enum class Kind {
    gap,           // longer than three usual intervals
    duplicate,     // the same moment twice
    clock_jump,    // time runs backwards or leaps, and the leap is no gap: readings go on as before it
    stuck,         // the same value for so long that a working sensor would not (noise of the series itself)
    out_of_range,  // a temperature no water pipe has, a negative current…
    unreadable,    // a cell that is no number; the row is kept without it
  } kind{};
  std::string series;  // empty: of the whole file
  std::int64_t from_ms = 0, to_ms = 0;
  std::int64_t line = 0, count = 1;
  std::string said;
};
std::string_view name_of(Oddity::Kind kind);

struct LogImport {
  std::vector<LogSeries> series;
  std::vector<Oddity> oddities;
  std::int64_t rows = 0, bad_rows = 0;
  double interval_s = 0;  // the usual one
};

/// Streams: `read` fills a buffer and returns how many bytes there were, 0 at the end. Fails only where
/// nothing can be read at all: no row, no time, a column that is not there. What is said of oddities is in
/// the units of `shown`.
std::expected<LogImport, std::vector<job::Diagnostic>> import_log(
    const std::function<std::size_t(char* buffer, std::size_t size)>& read, std::string_view file_name,
    const LogFormat& format, units::System shown = units::System::metric);
std::expected<LogImport, std::vector<job::Diagnostic>> import_log(
    std::string_view text, std::string_view file_name, const LogFormat& format,
    units::System shown = units::System::metric);

/// Oddities of samples that are there already (gaps, stuck, out of range).
std::vector<Oddity> oddities_of(const LogColumn& column, const std::vector<store::Sample>& samples,
                                units::System shown);

}  // namespace firstdraw::watch
