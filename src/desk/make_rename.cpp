// A new name in every place that names the old one.
#include <fmt/format.h>

#include <algorithm>

#include "desk/editor.hpp"
#include "desk/toml_value.hpp"
#include "job/values.hpp"

namespace firstdraw::desk {

namespace {

constexpr const char* joints = "node";

/// As the cell is written: runs of circuits.csv with semicolons, lists of job.toml with commas.
std::string joined(const TableKind& kind, const std::vector<std::string>& items) {
  return kind.csv ? job::join_runs(items) : join_list(items);
}
std::vector<std::string> split(const TableKind& kind, const std::string& cell) {
  return kind.csv ? job::split_runs(cell) : split_list(cell);
}

void rename_in_list(Editor& editor, const TableKind& kind, std::size_t row, const Column& column,
                    const Rename& change) {
  auto items = split(kind, editor.cell(kind, row, column.key));
  if (std::ranges::find(items, change.row) == items.end()) return;
  std::ranges::replace(items, change.row, change.to);
  editor.set(kind, row, column.key, joined(kind, items));
}

void rename_references(Editor& editor, const TableKind& kind, const Rename& change) {
  const std::vector<Column> columns = editor.draft.columns(kind);
  for (const Column& column : columns) {
    if (column.refers_to != change.table) continue;
    for (std::size_t row = 0; row < editor.draft.rows(kind); ++row) {
      if (column.kind == "list") {
        rename_in_list(editor, kind, row, column, change);
      } else if (editor.cell(kind, row, column.key) == change.row) {
        editor.set(kind, row, column.key, change.to);
      }
    }
  }
}

/// How many things bear this name: what is accepted or assumed of them must not change hands.
int bearers(Editor& editor, const std::string& name) {
  int count = 0;
  for (const TableKind& kind : table_kinds())
    if (kind.many && editor.draft.columns(kind).front().kind == "id" && editor.draft.find_row(kind, name))
      ++count;
  const auto nodes = editor.nodes();
  return count + (std::ranges::find(nodes, name) != nodes.end() ? 1 : 0);
}

/// Findings accepted at the place, and assumptions about keys of the section.
void rename_places(Editor& editor, const Rename& change) {
  const TableKind &accepted = *find_kind("accept"), &assumed = *find_kind("assumption");
  for (std::size_t row = 0; row < editor.draft.rows(accepted); ++row)
    if (editor.cell(accepted, row, "place") == change.row) editor.set(accepted, row, "place", change.to);
  const std::string before = fmt::format("{}.{}.", change.table, change.row);
  for (std::size_t row = 0; row < editor.draft.rows(assumed); ++row) {
    const std::string field = editor.cell(assumed, row, "field");
    if (field.starts_with(before))
      editor.set(assumed, row, "field",
                 fmt::format("{}.{}.{}", change.table, change.to, field.substr(before.size())));
  }
}

bool check_node(Editor& editor, const Rename& change) {
  const TableKind& runs = Editor::runs();
  if (!editor.need_node(change.row, joints)) return false;
  if (auto wrong = job::wrong_id(change.to)) {
    editor.problem(runs, joints, *wrong);
    return false;
  }
  const auto nodes = editor.nodes();
  if (std::ranges::find(nodes, change.to) == nodes.end()) return true;
  editor.problem(runs, joints, fmt::format("there is a joint \"{}\" already", change.to),
                 "two joints of one name would be one");
  return false;
}

bool check_row(Editor& editor, const Rename& change) {
  const TableKind* kind = editor.table(change.table);
  const auto at = kind ? editor.row(*kind, change.row) : std::nullopt;
  if (!at || editor.row_clashes(*kind, *at, change.to)) return false;
  if (editor.draft.columns(*kind).front().kind == "id") return editor.free_id(*kind, change.to);
  editor.problem(*kind, kind->thing, "has no id to rename");
  return false;
}

}  // namespace

void make_rename(Editor& editor, const Rename& change) {
  if (change.to == change.row) return;
  const bool node = change.table == joints;
  if (node ? !editor.table("runs") || !check_node(editor, change) : !check_row(editor, change)) return;
  const bool only_one = bearers(editor, change.row) == 1;
  for (const TableKind& kind : table_kinds())
    if (!editor.draft.broken(kind)) rename_references(editor, kind, change);
  if (!node) {
    const TableKind& kind = *find_kind(change.table);
    editor.set(kind, *editor.draft.find_row(kind, change.row), editor.draft.columns(kind).front().key,
               change.to);
  }
  if (only_one && !editor.draft.broken(*find_kind("accept"))) rename_places(editor, change);
}

}  // namespace firstdraw::desk
