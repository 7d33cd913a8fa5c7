#include "cli/text_table.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

namespace firstdraw::cli {
namespace {

constexpr int gap = 2;
constexpr int least_text_width = 14;  // a narrower column of prose is hard to read

using Lines = std::vector<std::string>;

std::string trim_right(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

/// Cells of one row side by side; `from_bottom` aligns headings to the rule below them.
std::string side_by_side(const std::vector<Lines>& cells, const std::vector<int>& widths,
                         const std::vector<bool>& right, const std::vector<Style>& styles, bool colour,
                         bool from_bottom) {
  std::size_t height = 0;
  for (const Lines& lines : cells) height = std::max(height, lines.size());
  std::string result;
  for (std::size_t row = 0; row < height; ++row) {
    std::string line;
    int owed = 0;  // blanks held back, so that no line ends in them
    for (std::size_t column = 0; column < cells.size(); ++column) {
      const Lines& lines = cells[column];
      const std::size_t skipped = from_bottom ? height - lines.size() : 0;
      const std::string text =
          row >= skipped && row - skipped < lines.size() ? lines[row - skipped] : std::string();
      const int missing = std::max(0, widths[column] - display_width(text));
      if (right[column]) owed += missing;
      if (!text.empty()) {
        line += std::string(static_cast<std::size_t>(owed), ' ') + paint(text, styles[column], colour);
        owed = 0;
      }
      owed += gap + (right[column] ? 0 : missing);
    }
    result += line + '\n';
  }
  return result;
}

}  // namespace

TextTable::TextTable(std::vector<Column> columns) : columns_(std::move(columns)) {}

void TextTable::add_row(std::vector<Cell> cells) {
  if (cells.size() != columns_.size()) throw std::logic_error("table row with the wrong number of cells");
  for (Cell& cell : cells) cell.text = printable(cell.text);
  rows_.push_back(std::move(cells));
}

int TextTable::heading_width(std::size_t column) const {
  return std::max(longest_word(columns_[column].heading), display_width(columns_[column].unit));
}

int TextTable::natural_width(std::size_t column) const {
  int width = heading_width(column);
  for (const auto& row : rows_) width = std::max(width, display_width(row[column].text));
  return width;
}

int TextTable::least_width(std::size_t column) const {
  if (columns_[column].kind != Column::Kind::wrapping_text) return natural_width(column);
  return std::min(natural_width(column), std::max(heading_width(column), least_text_width));
}

std::vector<int> TextTable::fit(const std::vector<std::size_t>& chosen, int width) const {
  std::vector<int> widths, least;
  for (const std::size_t column : chosen) {
    widths.push_back(natural_width(column));
    least.push_back(least_width(column));
  }
  int total = std::accumulate(widths.begin(), widths.end(), gap * (static_cast<int>(chosen.size()) - 1));
  while (total > width) {
    std::size_t widest = chosen.size();
    for (std::size_t i = 0; i < chosen.size(); ++i) {
      if (widths[i] > least[i] && (widest == chosen.size() || widths[i] > widths[widest])) widest = i;
    }
    if (widest == chosen.size()) break;
    --widths[widest];
    --total;
  }
  return widths;
}

std::vector<std::vector<std::size_t>> TextTable::deal_out(int width) const {
  std::vector<std::vector<std::size_t>> tables{{}};
  int used = -gap;
  for (std::size_t column = 0; column < columns_.size(); ++column) {
    const int needed = gap + least_width(column);
    if (used + needed > width && tables.back().size() > 1) {
      tables.push_back({0});
      used = least_width(0);
    }
    tables.back().push_back(column);
    used += needed;
  }
  return tables;
}

std::string TextTable::render_columns(const std::vector<std::size_t>& chosen, int width, bool colour) const {
  const std::vector<int> widths = fit(chosen, width);
  std::vector<Lines> headings;
  std::vector<bool> right;
  std::string rule;
  for (std::size_t i = 0; i < chosen.size(); ++i) {
    const Column& column = columns_[chosen[i]];
    headings.push_back(wrap(column.heading, widths[i]));
    if (!column.unit.empty()) headings.back().push_back(column.unit);
    right.push_back(column.kind == Column::Kind::number);
    for (int k = 0; k < widths[i]; ++k) rule += "─";
    if (i + 1 < chosen.size()) rule += std::string(gap, ' ');
  }
  std::string result =
      side_by_side(headings, widths, right, std::vector<Style>(chosen.size(), Style::bold), colour, true);
  result += paint(rule, Style::dim, colour) + '\n';
  for (const auto& row : rows_) {
    std::vector<Lines> cells;
    std::vector<Style> styles;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
      const Cell& cell = row[chosen[i]];
      const bool wraps = columns_[chosen[i]].kind == Column::Kind::wrapping_text;
      cells.push_back(wraps ? wrap(cell.text, widths[i]) : Lines{trim_right(cell.text)});
      styles.push_back(cell.style);
    }
    result += side_by_side(cells, widths, right, styles, colour, false);
  }
  return result;
}

std::string TextTable::render(int width, bool colour) const {
  std::string result;
  for (const auto& chosen : deal_out(width)) {
    if (!result.empty()) result += '\n';
    result += render_columns(chosen, width, colour);
  }
  return result;
}

}  // namespace firstdraw::cli
