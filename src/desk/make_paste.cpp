// Cells from a spreadsheet, from a cell on. Rows beyond the last are added, with ids that go on from it.
#include <fmt/format.h>

#include <algorithm>

#include "desk/editor.hpp"
#include "desk/spreadsheet.hpp"
#include "desk/toml_value.hpp"

namespace firstdraw::desk {

namespace {

bool all_blank(const std::vector<std::string>& row) {
  return std::ranges::all_of(row, [](const std::string& cell) { return trimmed(cell).empty(); });
}

/// "R-09": "R-10"; "riser": "riser-2".
std::string next_id(const std::string& id, const std::vector<std::string>& taken) {
  const auto first = id.find_last_not_of("0123456789") + 1;
  const std::string stem = id.substr(0, first), digits = id.substr(first);
  if (digits.empty() || digits.size() > 9) return free_name(id, taken);
  for (long number = std::stol(digits) + 1;; ++number) {
    std::string name = fmt::format("{}{:0{}}", stem, number, digits.size());
    if (std::ranges::find(taken, name) == taken.end()) return name;
  }
}

std::string new_id(Editor& editor, const TableKind& kind) {
  const auto& ids = editor.draft.ids(kind);
  if (ids.empty())
    return kind.csv ? std::string(1, static_cast<char>(kind.thing[0] - 'a' + 'A')) + "-1" : "1";
  return next_id(ids.back(), ids);
}

void paste_over(Editor& editor, const TableKind& kind, std::size_t row, const std::vector<Column>& columns,
                const std::vector<std::string>& cells) {
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const std::string text = trimmed(cells[i]);
    if (editor.cell(kind, row, columns[i].key) == text) continue;
    if (!editor.clashes(kind, row, columns[i].key, text)) editor.set(kind, row, columns[i].key, text);
  }
}

void paste_new(Editor& editor, const TableKind& kind, const std::vector<Column>& columns,
               const std::vector<std::string>& texts) {
  if (all_blank(texts)) return;
  Cells cells;
  for (std::size_t i = 0; i < texts.size(); ++i) cells[columns[i].key] = trimmed(texts[i]);
  const auto& first = editor.draft.columns(kind).front();
  if (first.kind == "id") {
    if (cells[first.key].empty()) cells[first.key] = new_id(editor, kind);
    if (!editor.free_id(kind, cells[first.key])) return;
  }
  editor.insert(kind, editor.draft.rows(kind), cells);
}

}  // namespace

void make_paste(Editor& editor, const Paste& change) {
  const TableKind* kind = editor.table(change.table);
  if (!kind || !editor.column(*kind, change.column)) return;
  std::size_t row = editor.draft.rows(*kind);
  if (!change.row.empty() || !kind->many) {
    const auto first = editor.row(*kind, change.row);
    if (!first) return;
    row = *first;
  }
  const auto& all = editor.draft.columns(*kind);
  const auto from = std::ranges::find(all, change.column, &Column::key);
  const std::vector<Column> columns(from, all.end());
  const auto cells = clipboard_cells(change.text);
  const auto widest = std::ranges::max_element(cells, {}, &std::vector<std::string>::size);
  if (widest != cells.end() && widest->size() > columns.size())
    return editor.problem(*kind, kind->name,
                          fmt::format("{} columns were pasted, but from {} on there are {}", widest->size(),
                                      change.column, columns.size()));
  if (!kind->many && cells.size() > 1)
    return editor.problem(*kind, kind->thing, fmt::format("has one row, but {} were pasted", cells.size()));
  const std::size_t before = editor.draft.rows(*kind);
  if (cells.size() > 1 && row < before && editor.gone_clashes(*kind)) return;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (row + i < before) {
      paste_over(editor, *kind, row + i, columns, cells[i]);
    } else {
      paste_new(editor, *kind, columns, cells[i]);
    }
  }
}

}  // namespace firstdraw::desk
