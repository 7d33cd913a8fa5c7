#include "desk/cell_editors.hpp"

#include "desk/draft.hpp"

namespace firstdraw::desk {

namespace {

std::string key_of(const std::string& table, const std::string& row, const std::string& column) {
  return table + '\n' + row + '\n' + column;
}

const std::string* text_of(const JobText& text, const std::string& file) {
  const auto found = text.find(file);
  return found == text.end() ? nullptr : &found->second;
}

bool differs(const JobText& a, const JobText& b, const std::string& file) {
  const std::string *first = text_of(a, file), *second = text_of(b, file);
  return first && second ? *first != *second : first != second;
}

/// Columns whose text is not the same in both.
std::vector<std::string> changed(const Cells& before, const Cells& after) {
  std::vector<std::string> columns;
  for (const auto& [column, text] : after) {
    const auto old = before.find(column);
    if (old == before.end() || old->second != text) columns.push_back(column);
  }
  for (const auto& [column, text] : before)
    if (!after.contains(column)) columns.push_back(column);
  return columns;
}

}  // namespace

void CellEditors::note(const JobText& before, const JobText& after, const std::string& by) {
  Draft old(before), now(after);
  for (const TableKind& kind : table_kinds()) {
    if (!differs(before, after, kind.file)) continue;
    const auto& ids = now.ids(kind);
    for (std::size_t row = 0; row < now.rows(kind); ++row) {
      const auto place = old.find_row(kind, ids[row]);
      const Cells was = place ? old.cells(kind, *place) : Cells{};
      for (const auto& column : changed(was, now.cells(kind, row)))
        by_[key_of(kind.name, ids[row], column)] = by;
    }
  }
}

std::string CellEditors::of(const std::string& table, const std::string& row,
                            const std::string& column) const {
  const auto found = by_.find(key_of(table, row, column));
  return found == by_.end() ? std::string() : found->second;
}

}  // namespace firstdraw::desk
