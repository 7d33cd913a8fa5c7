#include "desk/csv_sheet.hpp"

#include <algorithm>

namespace firstdraw::desk {

namespace {

bool blank(char c) { return c == ' ' || c == '\t'; }

bool needs_quotes(std::string_view text, char separator) {
  if (text.empty()) return false;
  return text.find_first_of("\"\r\n") != std::string_view::npos || text.contains(separator) ||
         blank(text.front()) || blank(text.back()) || text.front() == '#';
}

std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  out += '"';
  return out;
}

/// A cell as it is written: in quotes when it must be or was.
std::string written(std::string_view text, bool was_quoted, char separator) {
  return was_quoted || needs_quotes(text, separator) ? quoted(text) : std::string(text);
}

std::string first_newline(std::string_view text) {
  const auto at = text.find_first_of("\r\n");
  if (at == std::string_view::npos || text[at] == '\n') return "\n";
  return text.substr(at, 2) == "\r\n" ? "\r\n" : "\r";
}

int line_breaks(std::string_view text) {
  int count = 0;
  for (std::size_t i = 0; i < text.size(); ++i)
    count += text[i] == '\n' || (text[i] == '\r' && (i + 1 == text.size() || text[i + 1] != '\n')) ? 1 : 0;
  return count;
}

/// Drops the line end that the text begins with, and blanks before it.
std::string_view without_line_end(std::string_view text) {
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  if (text.starts_with("\r\n")) return text.substr(2);
  return text.starts_with('\n') || text.starts_with('\r') ? text.substr(1) : text;
}

}  // namespace

CsvSheet::Line CsvSheet::line_of(const std::vector<tables::CsvCell>& cells, std::string_view text,
                                 std::size_t from) {
  Line line;
  line.before = text.substr(from, cells.front().begin - from);
  line.cells.reserve(cells.size());
  line.gaps.reserve(cells.size() - 1);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const auto& cell = cells[i];
    if (i > 0) line.gaps.emplace_back(text.substr(cells[i - 1].end, cell.begin - cells[i - 1].end));
    line.cells.push_back({cell.text, std::string(text.substr(cell.begin, cell.end - cell.begin))});
  }
  line.lines = {cells.front().line, cells.back().line + line_breaks(line.cells.back().raw)};
  return line;
}

std::expected<CsvSheet, tables::CsvError> CsvSheet::parse(std::string_view text) {
  const auto csv = tables::read_csv(text);
  if (!csv) return std::unexpected(csv.error());
  CsvSheet sheet;
  sheet.separator_ = csv->separator;
  sheet.newline_ = first_newline(text);
  std::size_t from = 0;
  const auto take = [&](const std::vector<tables::CsvCell>& cells) {
    sheet.rows_.push_back(line_of(cells, text, from));
    from = cells.back().end;
  };
  if (csv->header.empty()) {
    sheet.rows_.emplace_back().before = text;
    return sheet;
  }
  take(csv->header);
  for (const auto& cell : csv->header) sheet.headings_.push_back(cell.text);
  for (const auto& row : csv->rows) take(row);
  sheet.after_ = text.substr(from);
  return sheet;
}

CsvSheet CsvSheet::with_headings(const std::vector<std::string>& headings) {
  CsvSheet sheet;
  sheet.rows_.emplace_back();
  for (const auto& heading : headings) sheet.add_heading(heading);
  sheet.after_ = "\n";
  return sheet;
}

std::string CsvSheet::text() const {
  std::string out;
  for (const Line& line : rows_) {
    out += line.before;
    for (std::size_t i = 0; i < line.cells.size(); ++i) {
      if (i > 0) out += line.gaps[i - 1];
      out += line.cells[i].raw;
    }
  }
  return out + after_;
}

void CsvSheet::widen(Line& line, std::size_t cells) {
  while (line.cells.size() < cells) {
    if (!line.cells.empty()) line.gaps.emplace_back(1, separator_);
    line.cells.emplace_back();
  }
}

void CsvSheet::put(Line& line, std::size_t column, const std::string& text) {
  widen(line, column + 1);
  Cell& cell = line.cells[column];
  if (cell.text == text) return;
  cell.raw = written(text, cell.raw.starts_with('"'), separator_);
  cell.text = text;
  // A line of one empty cell would read as a blank line.
  if (line.cells.size() == 1 && text.empty()) cell.raw = "\"\"";
}

void CsvSheet::add_heading(const std::string& heading) {
  const std::size_t column = headings_.size();
  put(rows_.front(), column, heading);
  headings_.push_back(heading);
  for (std::size_t row = 1; row < rows_.size(); ++row) widen(rows_[row], column + 1);
}

std::string_view CsvSheet::cell(std::size_t row, std::size_t column) const {
  const Line& line = at(row);
  return column < line.cells.size() ? std::string_view(line.cells[column].text) : std::string_view();
}

void CsvSheet::set(std::size_t row, std::size_t column, const std::string& text) {
  put(at(row), column, text);
}

void CsvSheet::insert(std::size_t row) {
  Line line;
  line.before = newline_;
  widen(line, headings_.size());
  if (headings_.size() == 1) line.cells.front().raw = "\"\"";
  rows_.insert(rows_.begin() + static_cast<std::ptrdiff_t>(row) + 1, std::move(line));
}

void CsvSheet::erase(std::size_t row) {
  Line gone = std::move(at(row));
  rows_.erase(rows_.begin() + static_cast<std::ptrdiff_t>(row) + 1);
  std::string& next = row < rows() ? at(row).before : after_;
  while (!gone.before.empty() && blank(gone.before.back())) gone.before.pop_back();
  if (next.empty()) {  // the last line had no end: neither has the one before
    std::string_view kept = gone.before;
    if (kept.ends_with('\n')) kept.remove_suffix(1);
    if (kept.ends_with('\r')) kept.remove_suffix(1);
    next = std::string(kept);
    return;
  }
  next = gone.before + std::string(without_line_end(next));
}

}  // namespace firstdraw::desk
