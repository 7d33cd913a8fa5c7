// A level again: its runs and their outlets with names of their own, fed from joints that are there already.
//
// What feeds a level are the joints at which its runs begin and none of them ends. A level fed in one place
// takes its feed from `feed_node`; one fed in several places may name as many, with semicolons between, in
// the order of the runs. Vertical runs that lead on to other levels belong to their riser and are not copied.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "desk/editor.hpp"
#include "desk/toml_value.hpp"
#include "job/context.hpp"
#include "job/values.hpp"

namespace firstdraw::desk {

namespace {

bool digit(char c) { return c >= '0' && c <= '9'; }

/// The level's name within another name, changed to the new one: "3B-MAIN-02", "D312". A number is only taken
/// for the level's where no digit stands before it and none, or two as in a room's number, behind.
std::optional<std::string> renamed(const std::string& name, const CopyLevel& change) {
  const std::string& old = change.from_level;
  for (auto at = name.find(old); at != std::string::npos; at = name.find(old, at + 1)) {
    const bool number = digit(old.front()) && digit(old.back());
    const std::size_t end = at + old.size();
    const auto after = std::min(name.find_first_not_of("0123456789", end), name.size()) - end;
    const bool inside = number && ((at > 0 && digit(name[at - 1])) || (after != 0 && after != 2));
    if (!inside) return name.substr(0, at) + change.to_level + name.substr(end);
  }
  return std::nullopt;
}

/// Gives every name one new name, which nothing else has.
class NewNames {
 public:
  NewNames(const CopyLevel& change, const std::vector<std::string>& taken)
      : change_(change), taken_(taken.begin(), taken.end()) {}

  const std::string& operator()(const std::string& old) {
    const auto known = names_.find(old);
    if (known != names_.end()) return known->second;
    std::string name = renamed(old, change_).value_or(old);
    if (taken_.contains(name)) name = fmt::format("{}-{}", old, change_.to_level);
    const std::string wanted = name;
    for (int number = 2; taken_.contains(name); ++number) name = fmt::format("{}-{}", wanted, number);
    taken_.insert(name);
    return names_[old] = name;
  }
  void fix(const std::string& old, const std::string& name) { names_[old] = name; }

 private:
  const CopyLevel& change_;
  std::set<std::string> taken_;
  std::map<std::string, std::string> names_;
};

struct Original {
  std::vector<Cells> runs, outlets;
  std::vector<std::string> feeds;  // in the order of the runs
};

/// Joints at which runs of other levels begin.
std::set<std::string> ways_on(Editor& editor, const std::string& level) {
  std::set<std::string> nodes;
  const TableKind& runs = Editor::runs();
  for (std::size_t row = 0; row < editor.draft.rows(runs); ++row)
    if (editor.cell(runs, row, "level") != level) nodes.insert(editor.cell(runs, row, "from"));
  return nodes;
}

Original original(Editor& editor, const std::string& level) {
  Original found;
  const TableKind &runs = Editor::runs(), &outlets = Editor::outlets();
  const auto leads_on = ways_on(editor, level);
  std::set<std::string> ends;
  for (std::size_t row = 0; row < editor.draft.rows(runs); ++row) {
    Cells cells = editor.draft.cells(runs, row);
    if (cells["level"] != level || (cells["orientation"] == "vertical" && leads_on.contains(cells["to"])))
      continue;
    ends.insert(cells["to"]);
    found.runs.push_back(std::move(cells));
  }
  for (Cells& run : found.runs)
    if (!ends.contains(run["from"]) && std::ranges::find(found.feeds, run["from"]) == found.feeds.end())
      found.feeds.push_back(run["from"]);
  for (std::size_t row = 0; row < editor.draft.rows(outlets); ++row)
    if (ends.contains(editor.cell(outlets, row, "node")))
      found.outlets.push_back(editor.draft.cells(outlets, row));
  return found;
}

/// One joint for each feed of the original; empty, and a problem, when they do not match.
std::vector<std::string> feeds(Editor& editor, const CopyLevel& change, const Original& from) {
  auto named = job::split_runs(change.feed_node);
  if (named.empty()) named.push_back(change.feed_node);
  for (const auto& node : named)
    if (!editor.need_node(node, "feed_node")) return {};
  if (named.size() == 1) return std::vector(from.feeds.size(), named.front());
  if (named.size() == from.feeds.size()) return named;
  editor.problem(Editor::runs(), "feed_node",
                 fmt::format("level \"{}\" is fed at {} places, but {} joints were named", change.from_level,
                             from.feeds.size(), named.size()),
                 "it is fed at " + job::one_of(from.feeds));
  return {};
}

/// The place of a level of this height in the list, which rises.
std::size_t place_of(Editor& editor, double elevation_m) {
  const TableKind& levels = Editor::levels();
  std::size_t at = 0;
  for (std::size_t row = 0; row < editor.draft.rows(levels); ++row) {
    const auto other_m = editor.quantity(levels, row, "elevation");
    if (other_m && *other_m < elevation_m) at = row + 1;
  }
  return at;
}

void add_level(Editor& editor, const CopyLevel& change) {
  const TableKind& levels = Editor::levels();
  if (const auto row = editor.draft.find_row(levels, change.to_level)) {
    if (!change.name.empty()) editor.set(levels, *row, "name", change.name);
    if (!change.elevation.empty()) editor.set(levels, *row, "elevation", change.elevation);
    return;
  }
  if (!editor.free_id(levels, change.to_level)) return;
  const auto elevation_m = units::parse(change.elevation, units::Kind::length);
  if (!elevation_m)
    return editor.problem(levels, editor.field(levels, change.to_level, "elevation"), elevation_m.error());
  const std::size_t at = place_of(editor, *elevation_m);
  editor.insert(levels, at,
                {{"id", change.to_level}, {"name", change.name}, {"elevation", change.elevation}});
}

bool empty_level(Editor& editor, const std::string& level) {
  const TableKind& runs = Editor::runs();
  for (std::size_t row = 0; row < editor.draft.rows(runs); ++row) {
    if (editor.cell(runs, row, "level") != level) continue;
    editor.problem(Editor::levels(), editor.field(Editor::levels(), level, "id"),
                   fmt::format("level \"{}\" has runs already", level), "copy to a new level");
    return false;
  }
  return true;
}

void add_runs(Editor& editor, const CopyLevel& change, const Original& from, NewNames& nodes) {
  const TableKind &runs = Editor::runs(), &outlets = Editor::outlets();
  NewNames run_ids(change, editor.draft.ids(runs)), outlet_ids(change, editor.draft.ids(outlets));
  for (Cells run : from.runs) {
    run["id"] = run_ids(run["id"]);
    run["from"] = nodes(run["from"]);
    run["to"] = nodes(run["to"]);
    run["level"] = change.to_level;
    editor.insert(runs, editor.draft.rows(runs), run);
  }
  for (Cells outlet : from.outlets) {
    outlet["id"] = outlet_ids(outlet["id"]);
    outlet["node"] = nodes(outlet["node"]);
    if (outlet.contains("room")) outlet["room"] = renamed(outlet["room"], change).value_or(outlet["room"]);
    editor.insert(outlets, editor.draft.rows(outlets), outlet);
  }
}

}  // namespace

void make_copy(Editor& editor, const CopyLevel& change) {
  for (const char* name : {"runs", "outlets", "level"})
    if (!editor.table(name)) return;
  if (!editor.row(Editor::levels(), change.from_level) || !empty_level(editor, change.to_level)) return;
  const Original from = original(editor, change.from_level);
  if (from.runs.empty())
    return editor.problem(Editor::runs(), "copy",
                          fmt::format("no run is on level \"{}\"", change.from_level));
  const auto at = feeds(editor, change, from);
  if (at.empty()) return;
  NewNames nodes(change, editor.nodes());
  for (std::size_t i = 0; i < at.size(); ++i) nodes.fix(from.feeds[i], at[i]);
  add_level(editor, change);
  add_runs(editor, change, from, nodes);
}

}  // namespace firstdraw::desk
