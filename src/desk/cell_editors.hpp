// Who last changed which cell, for the words of a conflict.
#pragma once

#include <compare>
#include <map>
#include <string>
#include <vector>

#include "desk/sheet.hpp"

namespace firstdraw::desk {

/// A cell's table, row and column.
struct CellName {
  std::string table, row, column;
  auto operator<=>(const CellName&) const = default;
};

/// Cells of `after` that read otherwise in `before`.
std::vector<CellName> changed_cells(const JobText& before, const JobText& after);

class CellEditors {
 public:
  void note(const std::vector<CellName>& cells, const std::string& by);
  /// Empty: nobody that is known of.
  std::string of(const std::string& table, const std::string& row, const std::string& column) const;

 private:
  std::map<CellName, std::string> by_;
};

}  // namespace firstdraw::desk
