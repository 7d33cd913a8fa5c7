// A strict reader of comma-separated text (RFC 4180) that keeps the place of every cell, so that messages
// can point at it. Semicolons or tabs as separators are recognised from the header line.
#pragma once

#include <cstddef>
#include <expected>
#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::tables {

struct CsvCell {
  std::string text;                // unquoted, outer blanks trimmed
  int line = 0;                    // 1-based line of the file where the cell starts
  int column = 0;                  // 1-based character column where the cell starts
  std::size_t begin = 0, end = 0;  // its bytes of the file, quotes included, outer blanks not
};

struct CsvText {
  std::vector<CsvCell> header;
  std::vector<std::vector<CsvCell>> rows;  // blank lines and lines that start with '#' are left out
  char separator = ',';                    // or ';' or tab: whichever the header line uses
};

struct CsvError {
  std::string message;
  int line = 0;
  int column = 0;
};

/// "length (ft)": length, ft. Without brackets at its end a heading has no unit.
struct CsvHeading {
  std::string_view name, unit;  // parts of the text
};
CsvHeading split_heading(std::string_view text);

/// Rows may be ragged: the caller judges them, having the field names. Fails on a quote that never closes,
/// text after a closing quote, NUL bytes, and text that is not UTF-8. A byte-order mark is skipped.
std::expected<CsvText, CsvError> read_csv(std::string_view text);

/// One line of CSV, quoted where needed, with '\n'.
std::string csv_line(const std::vector<std::string>& cells);

}  // namespace firstdraw::tables
