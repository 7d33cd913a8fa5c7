// Who last changed which cell and what it held before: what an edit that comes late is held against.
#pragma once

#include <compare>
#include <cstdint>
#include <deque>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "desk/sheet.hpp"

namespace firstdraw::desk {

/// A cell's table, row and column.
struct CellName {
  std::string table, row, column;
  auto operator<=>(const CellName&) const = default;
};
struct ChangedCell {
  CellName cell;
  std::string was;
};

/// Cells of `after` that read otherwise in `before`; without a column, rows that are gone. Both as of
/// tables_of.
std::vector<ChangedCell> changed_cells(const std::vector<Table>& before, const std::vector<Table>& after);

class CellEditors {
 public:
  void note(const std::vector<ChangedCell>& cells, const std::string& by, std::int64_t revision);
  /// Empty: nobody that is known of.
  std::string of(const std::string& table, const std::string& row, const std::string& column) const;
  /// What the cell held at `base`, when it was changed since.
  std::optional<std::string> held_at(std::int64_t base, const CellName& cell) const;
  /// Rows of the table that are gone since `base`, of the last thousand.
  std::vector<std::string> gone_since(std::int64_t base, const std::string& table) const;

 private:
  struct Past {
    std::int64_t revision = 0;  // that changed it
    std::string by, was;
  };
  struct Gone {
    std::int64_t revision = 0;
    std::string table, row;
  };
  std::map<CellName, std::deque<Past>> past_;  // the last few of each, latest last
  std::deque<Gone> gone_;
};

}  // namespace firstdraw::desk
