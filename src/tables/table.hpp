// The published tables in data/*.csv, built into the program. Every row carries its source and a basis:
// "read" (seen in the document or a transcription), "memory" (recalled, to be confirmed), "computed".
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "tables/csv.hpp"

namespace firstdraw::tables {

/// One row of a built-in table. A missing column or a cell that is no number throws std::logic_error:
/// built-in tables are part of the program and are checked by its tests.
class Row {
 public:
  Row(const std::vector<std::string>* header, const std::vector<std::string>* cells)
      : header_(header), cells_(cells) {}
  const std::string& text(std::string_view column) const;
  double number(std::string_view column) const;
  /// NaN for an empty cell.
  double number_or_nan(std::string_view column) const;

 private:
  const std::vector<std::string>* header_;
  const std::vector<std::string>* cells_;
};

class Table {
 public:
  explicit Table(CsvText csv);
  std::vector<Row> rows() const;

 private:
  std::vector<std::string> header_;
  std::vector<std::vector<std::string>> cells_;
};

/// The table `data/<name>.csv`; read once, then kept. Throws std::logic_error for an unknown name.
const Table& table(std::string_view name);
std::vector<std::string> table_names();

}  // namespace firstdraw::tables
