// A CSV file whose cells can be changed while everything else in it stays, byte for byte: comments, blank
// lines, quotes, separators, line ends.
#pragma once

#include <expected>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tables/csv.hpp"

namespace firstdraw::desk {

class CsvSheet {
 public:
  /// As strict about form as tables::read_csv.
  static std::expected<CsvSheet, tables::CsvError> parse(std::string_view text);
  /// A file that has only these headings.
  static CsvSheet with_headings(const std::vector<std::string>& headings);

  std::string text() const;

  const std::vector<std::string>& headings() const { return headings_; }
  /// Adds a heading at the end, and an empty cell to every row.
  void add_heading(const std::string& heading);

  std::size_t rows() const { return rows_.size() - 1; }
  /// What stands in a cell; empty where the row is too short.
  std::string_view cell(std::size_t row, std::size_t column) const;
  void set(std::size_t row, std::size_t column, const std::string& text);
  /// Empty cells as a row before the row `at`; at rows(): as the last.
  void insert(std::size_t at);
  void erase(std::size_t row);
  /// First and last line of the file as it was read; none of a row that is new.
  struct Lines {
    int first = 0, last = 0;
  };
  Lines lines(std::size_t row) const { return at(row).lines; }

 private:
  struct Cell {
    std::string text, raw;  // raw: with its quotes
  };
  struct Line {
    std::string before;  // everything since the line before: its end, comments, blank lines
    std::vector<Cell> cells;
    std::vector<std::string> gaps;  // between the cells: the separator and blanks around it
    Lines lines{};
  };
  const Line& at(std::size_t row) const { return rows_[row + 1]; }
  Line& at(std::size_t row) { return rows_[row + 1]; }
  static Line line_of(const std::vector<tables::CsvCell>& cells, std::string_view text, std::size_t from);
  void put(Line& line, std::size_t column, const std::string& text);
  void widen(Line& line, std::size_t cells);

  std::vector<Line> rows_;  // the header line first
  std::vector<std::string> headings_;
  std::string after_;  // the last row
  std::string newline_ = "\n";
  char separator_ = ',';
};

}  // namespace firstdraw::desk
