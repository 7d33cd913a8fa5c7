#include "paper/workbook_writer.hpp"

#include <xlsxwriter.h>

#include <cmath>

#include "paper/type.hpp"

namespace firstdraw::paper {
namespace {

constexpr std::size_t longest_cell = 32000;  // letters a cell can hold, rounded down

void write(lxw_worksheet* sheet, lxw_row_t row, lxw_col_t column, const Cell& cell, lxw_format* format) {
  if (const double* number = std::get_if<double>(&cell)) {
    if (std::isfinite(*number)) worksheet_write_number(sheet, row, column, *number, format);
    return;
  }
  std::string text = clean_text(std::get<std::string>(cell));
  if (text.size() > longest_cell) text = clean_text(text.substr(0, longest_cell)) + "…";
  worksheet_write_string(sheet, row, column, text.c_str(), format);
}

}  // namespace

std::string headed(const std::string& title, const std::string& unit) {
  return unit.empty() ? title : title + " (" + unit + ")";
}

WorkbookWriter::WorkbookWriter(lxw_workbook* book) : book_(book) {
  head_ = workbook_add_format(book);
  format_set_bold(head_);
  format_set_text_wrap(head_);
  format_set_align(head_, LXW_ALIGN_VERTICAL_TOP);
  format_set_bg_color(head_, 0xE6ECF1);
  format_set_bottom(head_, LXW_BORDER_THIN);
  text_ = workbook_add_format(book);
  format_set_text_wrap(text_);
  format_set_align(text_, LXW_ALIGN_VERTICAL_TOP);
}

lxw_format* WorkbookWriter::number_format(const std::string& text) {
  for (const auto& [known, format] : numbers_)
    if (known == text) return format;
  lxw_format* format = workbook_add_format(book_);
  format_set_num_format(format, text.c_str());
  format_set_align(format, LXW_ALIGN_VERTICAL_TOP);
  numbers_.emplace_back(text, format);
  return format;
}

void WorkbookWriter::sheet(const char* name, const std::vector<Field>& fields,
                           const std::vector<std::vector<Cell>>& rows) {
  lxw_worksheet* sheet = workbook_add_worksheet(book_, name);
  for (std::size_t column = 0; column < fields.size(); ++column) {
    const auto at = static_cast<lxw_col_t>(column);
    worksheet_set_column(sheet, at, at, fields[column].width, nullptr);
    worksheet_write_string(sheet, 0, at, fields[column].title.c_str(), head_);
    lxw_format* format = *fields[column].format ? number_format(fields[column].format) : text_;
    for (std::size_t row = 0; row < rows.size(); ++row)
      write(sheet, static_cast<lxw_row_t>(row + 1), at, rows[row][column], format);
  }
  worksheet_set_row(sheet, 0, 32, nullptr);
  worksheet_freeze_panes(sheet, 1, 1);
  worksheet_autofilter(sheet, 0, 0, static_cast<lxw_row_t>(rows.size()),
                       static_cast<lxw_col_t>(fields.size() - 1));
  worksheet_set_landscape(sheet);
  worksheet_fit_to_pages(sheet, 1, 0);
  worksheet_repeat_rows(sheet, 0, 0);
}

}  // namespace firstdraw::paper
