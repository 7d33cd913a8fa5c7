// The lines of a log cut into cells, one after another, however long the file is.
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "watch/log_bytes.hpp"

namespace firstdraw::watch {

/// Fills a buffer and returns how many bytes there were, 0 at the end.
using ReadBytes = std::function<std::size_t(char* buffer, std::size_t size)>;
ReadBytes bytes_of(std::string_view text);

/// A line longer than that is no reading of a log.
inline constexpr std::size_t longest_line = 1'000'000;

/// Cells of one line, trimmed and without quotes. What cannot stand in place is kept in `unquoted`.
/// false: a quote that was opened does not close.
bool split_cells(std::string_view line, char delimiter, std::vector<std::string_view>& cells,
                 std::string& unquoted);

class LogRows {
 public:
  LogRows(ReadBytes read, std::string_view encoding, char delimiter);

  /// Lines that begin with '#' up to this one are handed out too: some loggers begin their header with it.
  void keep_comments_to(std::int64_t line) { comments_to_ = line; }
  /// The next line that is neither blank nor begins with '#'; false at the end and on trouble.
  bool next();
  const std::vector<std::string_view>& cells() const { return cells_; }
  /// The line as it stands.
  std::string_view text() const { return line_; }
  std::int64_t line() const { return line_number_; }  // 1-based, where the row begins
  /// What made it stop, at line(); empty: the end of the file.
  const std::string& trouble() const { return trouble_; }

 private:
  bool take_line();
  bool close_quotes();
  bool fill();
  bool stop(std::string why);

  ReadBytes read_;
  LogBytes bytes_;
  char delimiter_;
  char line_end_ = '\0';  // not known yet
  std::string text_, unquoted_;
  std::size_t at_ = 0;
  bool ended_ = false;
  std::int64_t line_number_ = 0, lines_taken_ = 0, comments_to_ = 0;
  std::string_view line_;
  std::string joined_;  // a row of several lines
  std::vector<std::string_view> cells_;
  std::string trouble_;
};

}  // namespace firstdraw::watch
