#include "desk/editor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "desk/cell_editors.hpp"
#include "desk/toml_value.hpp"
#include "job/context.hpp"
#include "job/values.hpp"

namespace firstdraw::desk {

namespace {

std::vector<std::string> names_of(const std::vector<Column>& columns) {
  std::vector<std::string> names;
  for (const auto& column : columns) names.push_back(column.key);
  return names;
}

std::string hint_among(const std::string& word, const std::vector<std::string>& known) {
  std::string near = job::did_you_mean(word, known);
  if (!near.empty() || known.empty() || known.size() > 30) return near;
  return fmt::format("known: {}", job::one_of(known));
}

const TableKind& known_kind(const char* name) { return *find_kind(name); }

}  // namespace

const TableKind& Editor::runs() { return known_kind("runs"); }
const TableKind& Editor::outlets() { return known_kind("outlets"); }
const TableKind& Editor::levels() { return known_kind("level"); }
const TableKind& Editor::circuits() { return known_kind("circuits"); }

void Editor::problem(const TableKind& kind, std::string field, std::string message, std::string hint) {
  refused.problems.push_back({kind.file, 0, 0, std::move(field), std::move(message), std::move(hint)});
}

std::string Editor::field(const TableKind& kind, const std::string& id, const std::string& key) const {
  if (kind.csv) return fmt::format("{} {} · {}", kind.thing, id, key);
  return id.empty() ? fmt::format("{}.{}", kind.thing, key) : fmt::format("{}.{}.{}", kind.thing, id, key);
}

const TableKind* Editor::table(const std::string& name) {
  const TableKind* kind = find_kind(name);
  if (!kind) {
    std::vector<std::string> names;
    for (const auto& known : table_kinds()) names.push_back(known.name);
    refused.problems.push_back(
        {"", 0, 0, name, fmt::format("there is no table \"{}\"", name), hint_among(name, names)});
    return nullptr;
  }
  const auto* broken = draft.broken(*kind);
  if (!broken) return kind;
  if (std::ranges::find(refused.problems, broken->text(), &job::Diagnostic::text) == refused.problems.end())
    refused.problems.push_back(*broken);
  return nullptr;
}

std::optional<std::size_t> Editor::row(const TableKind& kind, const std::string& id) {
  const auto found = draft.find_row(kind, id);
  if (found) return found;
  if (!kind.many) {
    problem(kind, kind.thing, fmt::format("has one row only, which has no id: \"{}\" is none", id));
    return std::nullopt;
  }
  problem(kind, kind.thing, fmt::format("there is no {} \"{}\"", kind.thing, id),
          hint_among(id, draft.ids(kind)));
  return std::nullopt;
}

const Column* Editor::column(const TableKind& kind, const std::string& key) {
  const auto& columns = draft.columns(kind);
  const Column* found = find_column(columns, key);
  if (!found)
    problem(kind, fmt::format("{}.{}", kind.name, key), "is not a known column",
            hint_among(key, names_of(columns)));
  return found;
}

std::vector<std::string> Editor::nodes() {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < draft.rows(runs()); ++i)
    for (const char* end : {"from", "to"})
      if (const auto name = draft.cell(runs(), i, end)) names.push_back(*name);
  std::vector<std::string> distinct;
  std::unordered_map<std::string, bool> seen;
  for (auto& name : names)
    if (seen.emplace(name, true).second) distinct.push_back(std::move(name));
  return distinct;
}

bool Editor::need_node(const std::string& name, const std::string& of) {
  const auto known = nodes();
  if (std::ranges::find(known, name) != known.end()) return true;
  problem(runs(), of, fmt::format("there is no joint \"{}\"", name), hint_among(name, known));
  return false;
}

bool Editor::clashes(const TableKind& kind, std::size_t row, const std::string& key,
                     const std::string& yours) {
  if (seen_.editors == nullptr) return false;
  const std::string id = draft.ids(kind)[row], now = cell(kind, row, key);
  const auto was = seen_.editors->held_at(seen_.base, {kind.name, id, key});
  if (!was || *was == now) return false;
  refused.conflicts.push_back({kind.name, id, key, *was, now, yours});
  return true;
}

bool Editor::row_clashes(const TableKind& kind, std::size_t row, const std::string& yours) {
  bool any = false;
  for (const Column& each : draft.columns(kind)) any = clashes(kind, row, each.key, yours) || any;
  return any;
}

bool Editor::gone_clashes(const TableKind& kind) {
  if (seen_.editors == nullptr) return false;
  const auto gone = seen_.editors->gone_since(seen_.base, kind.name);
  for (const std::string& id : gone) refused.conflicts.push_back({kind.name, id, "", id, "", ""});
  return !gone.empty();
}

void Editor::set(const TableKind& kind, std::size_t row, const std::string& key, const std::string& text) {
  const Column* of = column(kind, key);
  if (!of) return;
  const Column copy = *of;  // a new heading moves them
  if (const auto done = draft.set(kind, row, copy, text); !done)
    problem(kind, field(kind, draft.ids(kind)[row], key), done.error());
}

void Editor::insert(const TableKind& kind, std::size_t at, const Cells& cells) {
  for (const auto& [key, text] : cells)
    if (!column(kind, key)) return;
  if (const auto done = draft.insert(kind, at, cells); !done) problem(kind, kind.thing, done.error());
}

bool Editor::free_id(const TableKind& kind, const std::string& id) {
  if (auto wrong = job::wrong_id(id)) {
    problem(kind, field(kind, id, "id"), *wrong);
    return false;
  }
  if (!draft.find_row(kind, id)) return true;
  problem(kind, field(kind, id, "id"), fmt::format("there is a {} \"{}\" already", kind.thing, id),
          "give every one an id of its own");
  return false;
}

std::optional<double> Editor::quantity(const TableKind& kind, std::size_t row, const std::string& key) {
  const Column* of = column(kind, key);
  const auto measured = of ? kind_of(*of) : std::nullopt;
  if (!measured) return std::nullopt;
  const auto bare = of->unit.empty() ? std::nullopt : std::optional<std::string_view>(of->unit);
  const auto read = units::parse(cell(kind, row, key), *measured, bare);
  if (read) return *read;
  problem(kind, field(kind, draft.ids(kind)[row], key), read.error());
  return std::nullopt;
}

std::string Editor::quantity_text(const TableKind& kind, const std::string& key, double value_si) {
  const Column* of = column(kind, key);
  const auto measured = of ? kind_of(*of) : std::nullopt;
  if (!measured) return {};
  const bool headed = !of->unit.empty();
  const std::string unit(headed ? of->unit : units::display_unit(*measured, draft.setting().system));
  // A tenth of a micrometre is below what anyone measures.
  const double value = std::round(units::from_si(value_si, unit, *measured) * 1e7) / 1e7;
  return headed ? job::exact_number(value) : fmt::format("{} {}", value, unit);
}

void Editor::drop_key(const TableKind& kind, std::size_t row, const SetCell& change) {
  const auto now = kind.csv ? std::nullopt : draft.cell(kind, row, change.column);
  if (!now || !change.to.empty()) {
    column(kind, change.column);
    return;
  }
  draft.drop(kind, row, change.column);
}

void Editor::set_cell(const SetCell& change) {
  const TableKind* kind = table(change.table);
  const auto at = kind ? row(*kind, change.row) : std::nullopt;
  if (!at) return;
  if (!find_column(draft.columns(*kind), change.column)) return drop_key(*kind, *at, change);
  const std::string now = cell(*kind, *at, change.column), to = trimmed(change.to);
  if (now == to || now == change.to) return;
  if (change.was && trimmed(*change.was) != trimmed(now)) {
    refused.conflicts.push_back({change.table, change.row, change.column, *change.was, now, change.to});
    return;
  }
  set(*kind, *at, change.column, to);
}

void Editor::add_row(const AddRow& change) {
  const TableKind* kind = table(change.table);
  if (!kind) return;
  if (!kind->many) return problem(*kind, kind->thing, "has one row only", "set its cells instead");
  Cells cells;
  for (const auto& [key, text] : change.cells) cells[key] = trimmed(text);
  const auto& first = draft.columns(*kind).front();
  if (first.kind == "id" && !free_id(*kind, cells[first.key])) return;
  std::size_t at = draft.rows(*kind);
  if (change.after) {
    const auto before = row(*kind, *change.after);
    if (!before) return;
    at = *before + 1;
  }
  insert(*kind, at, cells);
}

void Editor::remove_row(const RemoveRow& change) {
  const TableKind* kind = table(change.table);
  if (!kind) return;
  if (!kind->many) return problem(*kind, kind->thing, "is always there", "leave its cells empty instead");
  const auto at = row(*kind, change.row);
  if (at && !row_clashes(*kind, *at, "")) draft.erase(*kind, *at);
}

void Editor::move_outlet(const MoveOutlet& change) {
  const TableKind* kind = table("outlets");
  const auto at = kind ? row(*kind, change.outlet) : std::nullopt;
  if (!at || !need_node(change.node, field(*kind, change.outlet, "node"))) return;
  set(*kind, *at, "node", change.node);
}

void Editor::make(const Change& change) {
  struct Maker {
    Editor& editor;
    void operator()(const SetCell& c) const { editor.set_cell(c); }
    void operator()(const AddRow& c) const { editor.add_row(c); }
    void operator()(const RemoveRow& c) const { editor.remove_row(c); }
    void operator()(const MoveOutlet& c) const { editor.move_outlet(c); }
    void operator()(const Rename& c) const { make_rename(editor, c); }
    void operator()(const AddRiser& c) const { make_riser(editor, c); }
    void operator()(const CopyLevel& c) const { make_copy(editor, c); }
    void operator()(const SplitRun& c) const { make_split(editor, c); }
    void operator()(const Paste& c) const { make_paste(editor, c); }
  };
  std::visit(Maker{*this}, change);
}

std::string free_name(const std::string& wanted, const std::vector<std::string>& taken) {
  const auto is_taken = [&](const std::string& name) {
    return std::ranges::find(taken, name) != taken.end();
  };
  if (!is_taken(wanted)) return wanted;
  for (int number = 2;; ++number)
    if (std::string name = fmt::format("{}-{}", wanted, number); !is_taken(name)) return name;
}

std::expected<JobText, Refused> apply(const JobText& text, const std::vector<Change>& changes,
                                      const Seen& seen) {
  Editor editor(text, seen);
  for (const Change& change : changes) editor.make(change);
  if (editor.refuses()) return std::unexpected(std::move(editor.refused));
  return editor.draft.text();
}

}  // namespace firstdraw::desk
