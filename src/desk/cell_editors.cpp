#include "desk/cell_editors.hpp"

#include <algorithm>

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

/// The files of `text` that are not the same in `other`: the rest need not be read.
JobText only_changed(const JobText& text, const JobText& other) {
  JobText kept;
  for (const auto& [file, content] : text)
    if (differs(text, other, file)) kept.emplace(file, content);
  return kept;
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

std::vector<ChangedCell> changed_cells(const JobText& before, const JobText& after) {
  std::vector<ChangedCell> cells;
  Draft old(only_changed(before, after)), now(only_changed(after, before));
  for (const TableKind& kind : table_kinds()) {
    if (!differs(before, after, kind.file)) continue;
    const auto& ids = now.ids(kind);
    for (std::size_t row = 0; row < now.rows(kind); ++row) {
      const auto place = old.find_row(kind, ids[row]);
      const Cells was = place ? old.cells(kind, *place) : Cells{};
      for (const auto& column : changed(was, now.cells(kind, row))) {
        const auto held = was.find(column);
        cells.push_back({{kind.name, ids[row], column}, held == was.end() ? "" : held->second});
      }
    }
    for (const std::string& id : old.ids(kind))
      if (!now.find_row(kind, id)) cells.push_back({{kind.name, id, ""}, id});
  }
  return cells;
}

void CellEditors::note(const std::vector<ChangedCell>& cells, const std::string& by, std::int64_t revision) {
  constexpr std::size_t most_gone = 1000, most_of_a_cell = 8;
  for (const auto& [cell, was] : cells) {
    std::deque<Past>& past = past_[cell];
    past.push_back({revision, by, was});
    if (past.size() > most_of_a_cell) past.pop_front();
    if (cell.column.empty()) gone_.push_back({revision, cell.table, cell.row});
    if (gone_.size() > most_gone) gone_.pop_front();
  }
}

std::string CellEditors::of(const std::string& table, const std::string& row,
                            const std::string& column) const {
  const auto found = past_.find({table, row, column});
  return found == past_.end() ? std::string() : found->second.back().by;
}

std::optional<std::string> CellEditors::held_at(std::int64_t base, const CellName& cell) const {
  const auto found = past_.find(cell);
  if (found == past_.end()) return std::nullopt;
  const auto since = std::ranges::upper_bound(found->second, base, {}, &Past::revision);
  return since == found->second.end() ? std::nullopt : std::optional(since->was);
}

std::vector<std::string> CellEditors::gone_since(std::int64_t base, const std::string& table) const {
  std::vector<std::string> rows;
  for (const Gone& gone : gone_)
    if (gone.revision > base && gone.table == table) rows.push_back(gone.row);
  return rows;
}

}  // namespace firstdraw::desk
