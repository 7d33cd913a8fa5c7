// Tables that fit the terminal: text columns wrap, numbers never do, and when even that is too wide the
// columns are dealt out to several tables that repeat the first column.
#pragma once

#include <string>
#include <vector>

#include "cli/text.hpp"

namespace firstdraw::cli {

struct Column {
  std::string heading, unit;  // the unit stands under the heading
  enum class Kind { text, wrapping_text, number } kind = Kind::text;
};

struct Cell {
  std::string text;
  Style style = Style::plain;
};

class TextTable {
 public:
  explicit TextTable(std::vector<Column> columns);
  /// One cell per column; throws std::logic_error otherwise.
  void add_row(std::vector<Cell> cells);
  bool empty() const { return rows_.empty(); }
  /// Lines end in '\n' and have no trailing blanks.
  std::string render(int width, bool colour) const;

 private:
  std::string render_columns(const std::vector<std::size_t>& chosen, int width, bool colour) const;
  std::vector<int> fit(const std::vector<std::size_t>& chosen, int width) const;
  std::vector<std::vector<std::size_t>> deal_out(int width) const;
  int natural_width(std::size_t column) const;
  int least_width(std::size_t column) const;
  int heading_width(std::size_t column) const;

  std::vector<Column> columns_;
  std::vector<std::vector<Cell>> rows_;
};

}  // namespace firstdraw::cli
