// A riser from a joint up or down to other levels: one run a level.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "desk/editor.hpp"

namespace firstdraw::desk {

namespace {

/// The run that a riser is like when nobody says: what feeds the joint, else what leaves it.
std::optional<std::size_t> neighbour(Editor& editor, const std::string& node) {
  const TableKind& runs = Editor::runs();
  for (const char* end : {"to", "from"})
    for (std::size_t row = 0; row < editor.draft.rows(runs); ++row)
      if (editor.cell(runs, row, end) == node) return row;
  return std::nullopt;
}

struct Stop {
  std::string level;
  double elevation_m = 0;
};

std::optional<Stop> stop(Editor& editor, const std::string& level) {
  const TableKind& levels = Editor::levels();
  const auto row = editor.row(levels, level);
  const auto elevation_m = row ? editor.quantity(levels, *row, "elevation") : std::nullopt;
  if (!elevation_m) return std::nullopt;
  return Stop{level, *elevation_m};
}

/// Where the riser begins and every level it reaches; empty, and a problem, when one is not known.
std::vector<Stop> stops(Editor& editor, const AddRiser& change, const std::string& first_level) {
  std::vector<Stop> all;
  std::vector<std::string> names{first_level};
  for (const auto& level : change.to_levels)
    if (level != names.back()) names.push_back(level);
  if (names.size() < 2) {
    editor.problem(Editor::runs(), "riser", "leads to no other level", "name the levels it goes to");
    return {};
  }
  for (const auto& name : names) {
    const auto one = stop(editor, name);
    if (!one) return {};
    all.push_back(*one);
  }
  return all;
}

/// What a riser takes from the run it is like: pipe, insulation, place and control, not what was counted or
/// noted on that run.
Cells like(Editor& editor, std::size_t row, const AddRiser& change) {
  Cells cells;
  for (const char* key : {"space", "group", "material", "type", "size", "insulation", "thickness", "traced",
                          "cable", "passes", "air_low", "air_usual", "air_high", "emissivity"})
    if (const auto cell = editor.draft.cell(Editor::runs(), row, key)) cells[key] = *cell;
  if (!change.size.empty()) cells["size"] = change.size;
  cells["orientation"] = "vertical";
  return cells;
}

/// "RISER-A", "RISER-B"…: the first that nothing is named after.
std::string free_riser(Editor& editor) {
  std::vector<std::string> names = editor.draft.ids(Editor::runs());
  const auto nodes = editor.nodes();
  names.insert(names.end(), nodes.begin(), nodes.end());
  for (int number = 0;; ++number) {
    const char letter = static_cast<char>('A' + number % 26);
    const std::string turn = number < 26 ? "" : std::to_string(number / 26 + 1);
    const std::string name = fmt::format("RISER-{}{}", letter, turn), before = name + "-";
    if (std::ranges::none_of(names, [&](const auto& taken) { return taken.starts_with(before); }))
      return name;
  }
}

}  // namespace

void make_riser(Editor& editor, const AddRiser& change) {
  const TableKind* runs = editor.table("runs");
  if (!runs || !editor.table("level") || !editor.need_node(change.from_node, "riser")) return;
  const auto beside = neighbour(editor, change.from_node);
  const auto example = change.like.empty() ? beside : editor.row(*runs, change.like);
  if (!beside || !example) return;
  const auto levels = stops(editor, change, editor.cell(*runs, *beside, "level"));
  const std::string name = levels.empty() ? "" : free_riser(editor);
  const Cells common = like(editor, *example, change);
  std::string from = change.from_node;
  for (std::size_t i = 1; i < levels.size(); ++i) {
    Cells cells = common;
    cells["id"] = cells["to"] = fmt::format("{}-{}", name, levels[i].level);
    cells["from"] = from;
    cells["level"] = levels[i].level;
    cells["length"] =
        editor.quantity_text(*runs, "length", std::abs(levels[i].elevation_m - levels[i - 1].elevation_m));
    editor.insert(*runs, editor.draft.rows(*runs), cells);
    from = cells["to"];
  }
}

}  // namespace firstdraw::desk
