#include "desk/cell_editors.hpp"

#include "desk/draft.hpp"

namespace firstdraw::desk {

namespace {

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

std::vector<CellName> changed_cells(const JobText& before, const JobText& after) {
  std::vector<CellName> cells;
  Draft old(before), now(after);
  for (const TableKind& kind : table_kinds()) {
    if (!differs(before, after, kind.file)) continue;
    const auto& ids = now.ids(kind);
    for (std::size_t row = 0; row < now.rows(kind); ++row) {
      const auto place = old.find_row(kind, ids[row]);
      const Cells was = place ? old.cells(kind, *place) : Cells{};
      for (const auto& column : changed(was, now.cells(kind, row)))
        cells.push_back({kind.name, ids[row], column});
    }
  }
  return cells;
}

void CellEditors::note(const std::vector<CellName>& cells, const std::string& by) {
  for (const CellName& cell : cells) by_[cell] = by;
}

std::string CellEditors::of(const std::string& table, const std::string& row,
                            const std::string& column) const {
  const auto found = by_.find({table, row, column});
  return found == by_.end() ? std::string() : found->second;
}

}  // namespace firstdraw::desk
