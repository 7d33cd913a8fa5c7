// A log's rows by column, before its times are judged.
#pragma once

#include <cstdint>
#include <expected>
#include <map>
#include <string>
#include <vector>

#include "job/diagnostic.hpp"
#include "watch/log_format.hpp"
#include "watch/log_rows.hpp"

namespace firstdraw::watch {

/// A text that is no reading, by where it first stood.
struct Unreadable {
  std::int64_t line = 0, count = 0, row = 0;
  std::string text;
};

struct LogTable {
  std::vector<std::int64_t> clock_ms;  // as the clock showed it; UTC where `in_utc`
  std::vector<std::int64_t> line;
  std::vector<std::vector<double>> columns;  // of the format's, those that are read; SI; NaN: no reading
  std::vector<std::size_t> column_of;        // their places in LogFormat::columns
  bool in_utc = false;
  std::int64_t shown_offset_ms = 0;  // of a clock with a fixed offset: what it showed is that much later
  std::int64_t rows = 0;             // with what could be no row of readings
  std::vector<Unreadable> no_time;   // lines without a time, alike ones together
  std::vector<std::vector<Unreadable>> no_number;  // by column

  /// What the clock of the file showed, for messages.
  std::int64_t shown_ms(std::size_t row) const { return clock_ms[row] + shown_offset_ms; }
};

/// Reads everything. What cannot be read at all: no row, no time, a column that is not there or is called
/// otherwise, bytes that are no text.
std::expected<LogTable, std::vector<job::Diagnostic>> read_table(const ReadBytes& read,
                                                                 std::string_view file_name,
                                                                 const LogFormat& format);

/// Where the values of a row stand among its cells.
std::vector<std::size_t> value_cells(const LogFormat& format);

}  // namespace firstdraw::watch
