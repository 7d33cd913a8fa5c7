// Who last changed which cell, for the words of a conflict.
#pragma once

#include <map>
#include <string>

#include "desk/sheet.hpp"

namespace firstdraw::desk {

class CellEditors {
 public:
  /// Looks at the tables of files that differ only.
  void note(const JobText& before, const JobText& after, const std::string& by);
  /// Empty: nobody that is known of.
  std::string of(const std::string& table, const std::string& row, const std::string& column) const;

 private:
  std::map<std::string, std::string> by_;  // table, row and column with line ends between
};

}  // namespace firstdraw::desk
