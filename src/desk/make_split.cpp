// Two runs of one, with a joint between.
//
// The upstream part keeps the id, and with it the sensor, what was accepted of it and its note; it keeps
// valves, elbows and tees, too, because nobody said where along the run they sit. Supports, which stand at
// even distances, are divided as the length is.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "desk/editor.hpp"
#include "desk/toml_value.hpp"
#include "job/values.hpp"

namespace firstdraw::desk {

namespace {

struct Lengths {
  double upstream_m = 0, downstream_m = 0;
};

std::optional<Lengths> lengths(Editor& editor, std::size_t row, const SplitRun& change) {
  const TableKind& runs = Editor::runs();
  const auto whole_m = editor.quantity(runs, row, "length");
  if (!whole_m) return std::nullopt;
  const auto at_m = units::parse(change.at, units::Kind::length);
  if (!at_m) {
    editor.problem(runs, editor.field(runs, change.run, "length"), at_m.error());
    return std::nullopt;
  }
  if (*at_m > 0 && *at_m < *whole_m) return Lengths{*at_m, *whole_m - *at_m};
  editor.problem(runs, editor.field(runs, change.run, "length"),
                 fmt::format("cannot be split at {}: the run is {} long", change.at,
                             units::show(*whole_m, units::Kind::length, editor.draft.setting().system)),
                 "give the length from its upstream end");
  return std::nullopt;
}

/// So that both parts add up to what was written, to the last digit that is kept.
void divide_length(Editor& editor, std::size_t row, const Lengths& lengths, Cells& below) {
  const TableKind& runs = Editor::runs();
  editor.set(runs, row, "length", editor.quantity_text(runs, "length", lengths.upstream_m));
  below["length"] = editor.quantity_text(runs, "length", lengths.downstream_m);
}

void divide_counts(Editor& editor, std::size_t row, const Lengths& lengths, Cells& below) {
  const TableKind& runs = Editor::runs();
  for (const char* key : {"valves", "elbows", "tees"})
    if (const auto count = below.find(key); count != below.end()) count->second = std::string("0");
  const auto supports = job::read_integer(editor.cell(runs, row, "supports"), job::range::count);
  if (!supports) return;
  const double share = lengths.downstream_m / (lengths.upstream_m + lengths.downstream_m);
  const int down = static_cast<int>(std::lround(*supports * share));
  editor.set(runs, row, "supports", std::to_string(*supports - down));
  below["supports"] = std::to_string(down);
}

/// Known circuits and pins go on with both parts: the new one shares the circuit of the old.
void name_both(Editor& editor, const std::string& old, const std::string& added) {
  for (const char* name : {"circuits", "together"}) {
    const TableKind& kind = *find_kind(name);
    for (std::size_t row = 0; row < editor.draft.rows(kind); ++row) {
      const std::string cell = editor.cell(kind, row, "runs");
      auto items = kind.csv ? job::split_runs(cell) : split_list(cell);
      const auto at = std::ranges::find(items, old);
      if (at == items.end()) continue;
      items.insert(at + 1, added);
      editor.set(kind, row, "runs", kind.csv ? job::join_runs(items) : join_list(items));
    }
  }
}

/// Either part must stay apart from the others, but not the parts from each other.
void keep_apart(Editor& editor, const std::string& old, const std::string& added) {
  const TableKind& apart = *find_kind("apart");
  for (std::size_t row = 0; row < editor.draft.rows(apart); ++row) {
    auto items = split_list(editor.cell(apart, row, "runs"));
    const auto at = std::ranges::find(items, old);
    if (at == items.end()) continue;
    *at = added;
    Cells cells{{"runs", join_list(items)}};
    if (const auto reason = editor.draft.cell(apart, row, "reason")) cells["reason"] = *reason;
    editor.insert(apart, ++row, cells);
  }
}

}  // namespace

void make_split(Editor& editor, const SplitRun& change) {
  const TableKind* runs = editor.table("runs");
  const auto row = runs ? editor.row(*runs, change.run) : std::nullopt;
  const auto parts = row ? lengths(editor, *row, change) : std::nullopt;
  if (!parts) return;
  const auto nodes = editor.nodes();
  if (std::ranges::find(nodes, change.node) != nodes.end())
    return editor.problem(*runs, editor.field(*runs, change.run, "to"),
                          fmt::format("there is a joint \"{}\" already", change.node),
                          "name the new one otherwise");
  const std::string node =
      change.node.empty() ? free_name(fmt::format("J-{}", change.run), nodes) : change.node;
  if (auto wrong = job::wrong_id(node))
    return editor.problem(*runs, editor.field(*runs, change.run, "to"), *wrong);
  Cells below = editor.draft.cells(*runs, *row);
  below["id"] = free_name(fmt::format("{}-2", change.run), editor.draft.ids(*runs));
  below["from"] = node;
  below.erase("note");
  divide_length(editor, *row, *parts, below);
  divide_counts(editor, *row, *parts, below);
  editor.set(*runs, *row, "to", node);
  editor.insert(*runs, *row + 1, below);
  name_both(editor, change.run, below["id"]);
  keep_apart(editor, change.run, below["id"]);
}

}  // namespace firstdraw::desk
