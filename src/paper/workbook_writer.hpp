// Sheets of a workbook: headings, a frozen first row and column, a filter, numbers as numbers.
#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

struct lxw_workbook;
struct lxw_format;

namespace firstdraw::paper {

/// What is not finite stays empty: a spreadsheet has no word for "never".
using Cell = std::variant<std::string, double>;

struct Field {
  std::string title;
  double width = 12;        // characters
  const char* format = "";  // number format; "": text
};

/// "Length (ft)".
std::string headed(const std::string& title, const std::string& unit);

class WorkbookWriter {
 public:
  explicit WorkbookWriter(lxw_workbook* book);
  void sheet(const char* name, const std::vector<Field>& fields, const std::vector<std::vector<Cell>>& rows);

 private:
  lxw_format* number_format(const std::string& text);

  lxw_workbook* book_;
  lxw_format* head_;
  lxw_format* text_;
  std::vector<std::pair<std::string, lxw_format*>> numbers_;
};

}  // namespace firstdraw::paper
