#include "watch/log_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstring>

namespace firstdraw::watch {
namespace {

constexpr std::size_t piece = 1U << 18U;

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r'; }

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

std::size_t find_from(std::string_view text, char letter, std::size_t from) {
  if (from >= text.size()) return std::string_view::npos;
  const void* found = std::memchr(text.data() + from, letter, text.size() - from);
  return found == nullptr ? std::string_view::npos
                          : static_cast<std::size_t>(static_cast<const char*>(found) - text.data());
}

/// Several blanks part two cells as one does.
void split_at_blanks(std::string_view line, std::vector<std::string_view>& cells) {
  for (std::string_view rest = trimmed(line); !rest.empty();) {
    const std::size_t end = std::min(rest.find_first_of(" \t"), rest.size());
    cells.push_back(rest.substr(0, end));
    rest = trimmed(rest.substr(end));
  }
}

void split_plain(std::string_view line, char delimiter, std::vector<std::string_view>& cells) {
  std::size_t from = 0;
  for (std::size_t end = find_from(line, delimiter, 0); end != std::string_view::npos;
       end = find_from(line, delimiter, from)) {
    cells.push_back(trimmed(line.substr(from, end - from)));
    from = end + 1;
  }
  cells.push_back(trimmed(line.substr(from)));
}

/// The quoted cell that begins at `at`, its quotes taken off; `at` comes to stand behind it. false: it does
/// not close.
bool take_quoted(std::string_view line, std::size_t& at, std::string& unquoted, std::string_view& cell) {
  const std::size_t begin = unquoted.size();
  for (++at;; ++at) {
    if (at >= line.size()) return false;
    if (line[at] == '"' && (at + 1 >= line.size() || line[at + 1] != '"')) break;
    at += line[at] == '"' ? 1 : 0;
    unquoted += line[at];
  }
  ++at;
  cell = std::string_view(unquoted).substr(begin);
  return true;
}

bool split_quoted(std::string_view line, char delimiter, std::vector<std::string_view>& cells,
                  std::string& unquoted) {
  if (delimiter == ' ') line = trimmed(line);
  unquoted.clear();
  unquoted.reserve(line.size());  // so that what was handed out stays where it is
  for (std::size_t at = 0;; ++at) {
    while (at < line.size() && is_blank(line[at]) && (line[at] != delimiter || delimiter == ' ')) ++at;
    std::string_view cell;
    const bool quoted = at < line.size() && line[at] == '"';
    if (quoted && !take_quoted(line, at, unquoted, cell)) return false;
    const std::size_t end = std::min(find_from(line, delimiter, at), line.size());
    cells.push_back(trimmed(quoted ? cell : line.substr(at, end - at)));
    if (end == line.size()) return true;
    at = end;
  }
}

}  // namespace

ReadBytes bytes_of(std::string_view text) {
  return [text](char* buffer, std::size_t size) mutable {
    const std::size_t taken = std::min(size, text.size());
    std::memcpy(buffer, text.data(), taken);
    text.remove_prefix(taken);
    return taken;
  };
}

bool split_cells(std::string_view line, char delimiter, std::vector<std::string_view>& cells,
                 std::string& unquoted) {
  cells.clear();
  if (find_from(line, '"', 0) != std::string_view::npos)
    return split_quoted(line, delimiter, cells, unquoted);
  if (delimiter == ' ') {
    split_at_blanks(line, cells);
  } else {
    split_plain(line, delimiter, cells);
  }
  return true;
}

LogRows::LogRows(ReadBytes read, std::string_view encoding, char delimiter)
    : read_(std::move(read)), bytes_(encoding), delimiter_(delimiter) {}

bool LogRows::stop(std::string why) {
  trouble_ = std::move(why);
  return false;
}

bool LogRows::fill() {
  text_.erase(0, at_);
  at_ = 0;
  std::string buffer(piece, '\0');
  const std::size_t size = read_(buffer.data(), buffer.size());
  ended_ = size == 0;
  const auto added = bytes_.add(std::string_view(buffer).substr(0, size), ended_, text_);
  if (!added) {
    line_number_ = lines_taken_ + 1;
    return stop(added.error());
  }
  // Old loggers end their lines with CR alone.
  if (line_end_ == '\0' && (ended_ || text_.size() > longest_line || text_.find('\n') != std::string::npos))
    line_end_ = text_.find('\n') == std::string::npos ? '\r' : '\n';
  return true;
}

/// The next line into line_, read on where it is not whole yet.
bool LogRows::take_line() {
  for (std::size_t looked = 0;;) {
    const std::size_t end = line_end_ == '\0' ? std::string::npos : find_from(text_, line_end_, at_ + looked);
    if (end != std::string::npos || (ended_ && at_ < text_.size())) {
      const std::size_t to = std::min(end, text_.size());
      line_ = std::string_view(text_).substr(at_, to - at_);
      at_ = std::min(to + 1, text_.size());
      line_number_ = ++lines_taken_;
      return line_.size() <= longest_line || stop("this line is longer than 1 MB: no logger wrote it");
    }
    if (ended_) return false;
    looked = line_end_ == '\0' ? 0 : text_.size() - at_;
    if (text_.size() - at_ > longest_line) {
      line_number_ = lines_taken_ + 1;
      return stop("this line is longer than 1 MB: no logger wrote it");
    }
    if (!fill()) return false;
  }
}

/// A quoted cell goes on over the end of the line: takes lines until it closes.
bool LogRows::close_quotes() {
  const std::int64_t first = line_number_;
  constexpr std::int64_t most_lines = 20;
  joined_ = line_;
  while (lines_taken_ - first < most_lines && take_line()) {
    joined_ += ' ';
    joined_ += line_;
    if (!split_cells(joined_, delimiter_, cells_, unquoted_)) continue;
    line_ = joined_;
    line_number_ = first;
    return true;
  }
  if (!trouble_.empty()) return false;
  line_number_ = first;
  return stop("a quote that opens on this line does not close");
}

bool LogRows::next() {
  while (trouble_.empty() && take_line()) {
    const std::string_view seen = trimmed(line_);
    if (seen.empty() || (seen.front() == '#' && line_number_ > comments_to_)) continue;
    if (split_cells(line_, delimiter_, cells_, unquoted_)) return true;
    return close_quotes();
  }
  return false;
}

}  // namespace firstdraw::watch
