// How a logger wrote its file: guessed from the text, told to the user, confirmed or corrected by a small
// TOML text before anything is read. docs/logs.md.
#pragma once

#include <expected>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "job/diagnostic.hpp"
#include "job/job.hpp"

namespace firstdraw::watch {

enum class DateOrder { year_month_day, day_month_year, month_day_year };
enum class ClockKind {
  local,   // of the zone, daylight saving followed: the hour that comes twice is told by order
  fixed,   // a fixed offset from UTC
  unix_s,  // a number
  unix_ms,
  spreadsheet,  // days since 1899-12-30, local
  with_offset,  // every stamp carries its own
};

struct LogColumn {
  std::string header;    // as in the file; "column 3" where there is no header line
  std::string series;    // name to store under; empty: not read
  std::string quantity;  // "temperature", "current", "voltage", "power", "duty", "on", "set-point"
  std::string place;     // id of group, circuit, run, outlet or space; empty: not known
  std::string unit;      // "°F", "A"; empty: of SI
  bool operator==(const LogColumn&) const = default;
};

struct LogFormat {
  char delimiter = ',';               // ',', ';', tab, '|', ' '
  char decimal = '.';                 // or ','
  int header_line = 1;                // 1-based; 0: none
  int first_line = 2;                 // of data
  std::string encoding = "utf-8";     // "utf-8", "utf-16le", "utf-16be", "latin-1"
  int time_column = 1;                // 1-based
  std::optional<int> clock_column{};  // where date and time stand apart
  DateOrder order = DateOrder::year_month_day;
  ClockKind clock = ClockKind::local;
  std::string zone;                  // with local, spreadsheet; of the job's tariff where it has one
  int utc_offset_s = 0;              // with fixed
  std::vector<std::string> missing;  // cells that say there is no reading: "", "NaN", "---", "-999"
  std::vector<LogColumn> columns;    // without the time columns, in the file's order
  bool operator==(const LogFormat&) const = default;
};

/// A guess, and what speaks for and against it.
struct Guess {
  LogFormat format;
  double sure_frac = 0;             // of the whole
  std::vector<std::string> doubts;  // "day and month cannot be told apart: 03/04 could be 3 April or 4 March"
  std::vector<std::vector<std::string>> preview;  // first rows as they would be read: UTC time, then values
};
/// `start` of the file, at most 1 MB needed. The job's names and those of the plan's circuits are looked for
/// in the headers.
std::expected<Guess, job::Diagnostic> guess_format(std::string_view start, std::string_view file_name,
                                                   const job::Job& job,
                                                   std::span<const std::string> circuits = {});

/// The format as a TOML text a user can correct, and back (file, line, field in every complaint).
std::string format_text(const LogFormat& format);
std::expected<LogFormat, std::vector<job::Diagnostic>> read_format(
    std::string_view toml, std::string_view file_name, const job::Job& job,
    std::span<const std::string> circuits = {});

}  // namespace firstdraw::watch
