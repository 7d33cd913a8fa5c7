#include "tables/csv.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <utility>

namespace firstdraw::tables {

namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

bool continues(unsigned char byte) { return (byte & 0xC0U) == 0x80U; }

/// Length of the UTF-8 character at `at`; 0 if the bytes are no character (overlong forms, surrogates
/// and values above U+10FFFF included: RFC 3629).
std::size_t character_length(std::string_view text, std::size_t at) {
  const auto first = static_cast<unsigned char>(text[at]);
  if (first < 0x80) return 1;
  const std::size_t length = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || at + length > text.size()) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if (!continues(static_cast<unsigned char>(text[at + i]))) return 0;
  }
  const auto second = static_cast<unsigned char>(text[at + 1]);
  const bool overlong = (first == 0xE0 && second < 0xA0) || (first == 0xF0 && second < 0x90);
  const bool surrogate = first == 0xED && second >= 0xA0;
  const bool too_large = first == 0xF4 && second >= 0x90;
  return overlong || surrogate || too_large ? 0 : length;
}

bool blank(char c) { return c == ' ' || c == '\t'; }

/// Walks the text and keeps line and column; columns count characters, not bytes.
class Cursor {
 public:
  explicit Cursor(std::string_view text, std::size_t skipped = 0) : text_(text), skipped_(skipped) {}

  bool at_end() const { return at_ >= text_.size(); }
  char peek() const { return text_[at_]; }
  bool at_newline() const { return !at_end() && (peek() == '\n' || peek() == '\r'); }
  int line() const { return line_; }
  int column() const { return column_; }
  /// Bytes of the file before here.
  std::size_t offset() const { return skipped_ + at_; }

  char next() {
    const char c = text_[at_++];
    if (c == '\n' || (c == '\r' && (at_end() || peek() != '\n'))) {
      ++line_;
      column_ = 1;
    } else if (!continues(static_cast<unsigned char>(c)) && c != '\r') {
      ++column_;
    }
    return c;
  }
  /// "\n", "\r\n" or "\r".
  void skip_newline() {
    if (next() == '\r' && !at_end() && peek() == '\n') next();
  }
  void skip_line() {
    while (!at_end() && !at_newline()) next();
    if (!at_end()) skip_newline();
  }
  CsvError error(std::string message) const { return {std::move(message), line_, column_}; }

 private:
  std::string_view text_;
  std::size_t skipped_;
  std::size_t at_ = 0;
  int line_ = 1, column_ = 1;
};

std::optional<CsvError> find_bad_bytes(std::string_view text) {
  Cursor cursor(text);
  for (std::size_t at = 0; at < text.size();) {
    if (text[at] == '\0') return cursor.error("a NUL byte; this is not a text file");
    const std::size_t length = character_length(text, at);
    if (length == 0) return cursor.error("a byte that is not UTF-8; save the file as UTF-8");
    for (std::size_t i = 0; i < length; ++i) cursor.next();
    at += length;
  }
  return std::nullopt;
}

/// The separator the first line with text uses: the most frequent of , ; and tab outside quotes.
char find_separator(std::string_view text) {
  constexpr std::array<char, 3> kSeparators{',', ';', '\t'};
  std::array<int, 3> counts{};
  bool inside = false, comment = false, line_has_text = false;
  for (const char c : text) {
    if (c == '"') inside = !inside;
    if ((c == '\n' || c == '\r') && !inside) {
      if (line_has_text && !comment) break;
      counts = {};
      comment = line_has_text = false;
      continue;
    }
    if (!line_has_text && c == '#') comment = true;
    if (!blank(c)) line_has_text = true;
    for (std::size_t i = 0; i < kSeparators.size() && !inside; ++i) counts[i] += c == kSeparators[i] ? 1 : 0;
  }
  std::size_t best = 0;
  for (std::size_t i = 1; i < counts.size(); ++i) best = counts[i] > counts[best] ? i : best;
  return kSeparators[best];
}

class Reader {
 public:
  Reader(std::string_view text, std::size_t skipped, char separator)
      : cursor_(text, skipped), separator_(separator) {}

  std::expected<CsvText, CsvError> read() {
    CsvText csv;
    csv.separator = separator_;
    bool have_header = false;
    while (!cursor_.at_end()) {
      if (cursor_.peek() == '#') {
        cursor_.skip_line();
        continue;
      }
      auto row = read_row();
      if (!row) return std::unexpected(row.error());
      if (is_blank(*row)) continue;
      if (!have_header) {
        csv.header = *std::move(row);
        have_header = true;
      } else {
        csv.rows.push_back(*std::move(row));
      }
    }
    return csv;
  }

 private:
  /// A line without any text or separator.
  bool is_blank(const std::vector<CsvCell>& row) const {
    return row.size() == 1 && row[0].text.empty() && !quoted_;
  }

  bool at_separator() const { return !cursor_.at_end() && cursor_.peek() == separator_; }

  void skip_blanks() {
    while (!cursor_.at_end() && blank(cursor_.peek()) && !at_separator()) cursor_.next();
  }

  std::expected<std::vector<CsvCell>, CsvError> read_row() {
    std::vector<CsvCell> row;
    quoted_ = false;
    while (true) {
      auto cell = read_cell();
      if (!cell) return std::unexpected(cell.error());
      row.push_back(*std::move(cell));
      if (!at_separator()) break;
      cursor_.next();
    }
    if (!cursor_.at_end()) cursor_.skip_newline();
    return row;
  }

  std::expected<CsvCell, CsvError> read_cell() {
    skip_blanks();
    CsvCell cell{{}, cursor_.line(), cursor_.column(), cursor_.offset()};
    if (!cursor_.at_end() && cursor_.peek() == '"') return read_quoted(std::move(cell));
    while (!cursor_.at_end() && !at_separator() && !cursor_.at_newline()) cell.text += cursor_.next();
    while (!cell.text.empty() && blank(cell.text.back())) cell.text.pop_back();
    cell.end = cell.begin + cell.text.size();
    return cell;
  }

  std::expected<CsvCell, CsvError> read_quoted(CsvCell cell) {
    quoted_ = true;
    cursor_.next();
    while (true) {
      if (cursor_.at_end())
        return std::unexpected(CsvError{"a quote opens here and never closes", cell.line, cell.column});
      const char c = cursor_.next();
      if (c != '"') {
        cell.text += c;
      } else if (!cursor_.at_end() && cursor_.peek() == '"') {
        cell.text += cursor_.next();
      } else {
        break;
      }
    }
    cell.end = cursor_.offset();
    skip_blanks();
    if (cursor_.at_end() || at_separator() || cursor_.at_newline()) return cell;
    return std::unexpected(
        cursor_.error("text after a closing quote; a quote inside a quoted cell is written twice"));
  }

  Cursor cursor_;
  char separator_;
  bool quoted_ = false;
};

bool needs_quotes(const std::string& cell) {
  if (cell.empty()) return false;
  return cell.find_first_of(",;\t\"\r\n") != std::string::npos || blank(cell.front()) || blank(cell.back()) ||
         cell.front() == '#';
}

}  // namespace

CsvHeading split_heading(std::string_view text) {
  const auto open = text.rfind('(');
  if (open == std::string_view::npos || !text.ends_with(')')) return {text, {}};
  std::string_view name = text.substr(0, open);
  while (name.ends_with(' ')) name.remove_suffix(1);
  return {name, text.substr(open + 1, text.size() - open - 2)};
}

std::expected<CsvText, CsvError> read_csv(std::string_view text) {
  const std::size_t skipped = text.starts_with(kByteOrderMark) ? kByteOrderMark.size() : 0;
  text.remove_prefix(skipped);
  if (auto bad = find_bad_bytes(text)) return std::unexpected(*std::move(bad));
  return Reader(text, skipped, find_separator(text)).read();
}

std::string csv_line(const std::vector<std::string>& cells) {
  std::string line;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) line += ',';
    // A line of one empty cell would read as a blank line.
    if (!needs_quotes(cells[i]) && !(cells.size() == 1 && cells[i].empty())) {
      line += cells[i];
      continue;
    }
    line += '"';
    for (const char c : cells[i]) {
      if (c == '"') line += '"';
      line += c;
    }
    line += '"';
  }
  return line + '\n';
}

}  // namespace firstdraw::tables
