#include "desk/cell_editors.hpp"

#include <algorithm>
#include <unordered_map>

namespace firstdraw::desk {

namespace {

using Cells = std::map<std::string, std::string>;

std::unordered_map<std::string, const Row*> by_id(const Table& table) {
  std::unordered_map<std::string, const Row*> rows;
  for (const Row& row : table.rows) rows.emplace(row.id, &row);
  return rows;
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

void compare(const Table& before, const Table& after, std::vector<ChangedCell>& cells) {
  static const Cells nothing;
  const auto old = by_id(before), now = by_id(after);
  for (const Row& row : after.rows) {
    const auto place = old.find(row.id);
    const Cells& was = place == old.end() ? nothing : place->second->cells;
    for (const auto& column : changed(was, row.cells)) {
      const auto held = was.find(column);
      cells.push_back({{after.name, row.id, column}, held == was.end() ? "" : held->second});
    }
  }
  for (const Row& row : before.rows)
    if (!now.contains(row.id)) cells.push_back({{after.name, row.id, ""}, row.id});
}

}  // namespace

std::vector<ChangedCell> changed_cells(const std::vector<Table>& before, const std::vector<Table>& after) {
  std::vector<ChangedCell> cells;
  for (std::size_t table = 0; table < after.size(); ++table) compare(before[table], after[table], cells);
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
