// Tables that flow over pages: headings repeated, rows kept whole, columns sized by what is in them.
#pragma once

#include <string>
#include <vector>

#include "paper/page.hpp"

namespace firstdraw::paper {

struct Column {
  std::string title;
  std::string unit;               // shown under the title
  Anchor anchor = Anchor::start;  // numbers: end
  double least_mm = 0;            // never narrower, for columns to write in
};

struct Row {
  enum class Kind { plain, group, total } kind = Kind::plain;
  std::vector<std::string> cells;  // group rows: one cell over the whole width
};

struct Table {
  std::vector<Column> columns;
  std::vector<Row> rows;
  double size_pt = 7.5;
  double least_row_mm = 0;  // taller rows to write in
  double pad_y_mm = 0.75;   // above and below the text of a row
  bool full_width = true;   // otherwise only as wide as its text
};

/// Column widths in mm that fit `width_mm`: natural widths when there is room, otherwise what is longest
/// gives way first, never below its longest word as long as that is possible.
std::vector<double> column_widths_mm(Typesetter& type, const Table& table, double width_mm);

/// Sets the table at the cursor.
void flow(Book& book, const Table& table);

}  // namespace firstdraw::paper
