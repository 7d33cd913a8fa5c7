// Changes of a job's text. A change touches the cells it names and nothing else: comments, order and spelling
// stay.
#pragma once

#include <cstdint>
#include <expected>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "desk/job_text.hpp"

namespace firstdraw::desk {

/// The fields mean what the schema Change of serve/openapi.json says.
struct SetCell {
  std::string table, row, column, to;
  std::optional<std::string> was{};
};
struct AddRow {
  std::string table;
  std::map<std::string, std::string> cells{};
  std::optional<std::string> after{};
};
struct RemoveRow {
  std::string table, row;
};
struct Rename {
  std::string table, row, to;
};
struct AddRiser {
  std::string from_node;
  std::vector<std::string> to_levels{};
  std::string like{}, size{};
};
struct CopyLevel {
  std::string from_level, to_level, name, elevation, feed_node;
};
struct SplitRun {
  std::string run, at, node{};
};
struct MoveOutlet {
  std::string outlet, node;
};
struct Paste {
  std::string table, row, column, text;
};
using Change =
    std::variant<SetCell, AddRow, RemoveRow, Rename, AddRiser, CopyLevel, SplitRun, MoveOutlet, Paste>;

/// A cell that holds something else than the sender saw; without a column, a row that is gone.
struct Conflict {
  std::string table, row, column, was, now, yours;
};
struct Refused {
  std::vector<job::Diagnostic> problems{};
  std::vector<Conflict> conflicts{};
};

class CellEditors;
/// What whoever sends changes saw: what was changed since is not to be overwritten, taken out or renamed
/// unseen.
struct Seen {
  const CellEditors* editors = nullptr;  // null: nothing is known of changes since
  std::int64_t base = 0;                 // revision
};

/// The text with all changes made in their order, or why not one of them is. Names that lead nowhere, rows
/// that are there already and the like are refused here; whether the job still reads is for desk::read to
/// say. A cell that is set is held against its `was`; cells pasted over and rows removed or renamed against
/// what was seen.
std::expected<JobText, Refused> apply(const JobText& text, const std::vector<Change>& changes,
                                      const Seen& seen = {});

}  // namespace firstdraw::desk
