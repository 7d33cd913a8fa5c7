// Makes changes on a draft, one after another, and collects what is wrong with them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "desk/change.hpp"
#include "desk/draft.hpp"

namespace firstdraw::desk {

class Editor {
 public:
  explicit Editor(const JobText& text, const Seen& seen = {}) : draft(text), seen_(seen) {}

  Draft draft;
  Refused refused;
  bool refuses() const { return !refused.problems.empty() || !refused.conflicts.empty(); }

  void make(const Change& change);

  /// Each says what is wrong, with the nearest known name, and returns nothing, when it does not find.
  const TableKind* table(const std::string& name);
  std::optional<std::size_t> row(const TableKind& kind, const std::string& id);
  const Column* column(const TableKind& kind, const std::string& key);
  /// A joint that a run begins or ends at.
  bool need_node(const std::string& name, const std::string& field);

  void problem(const TableKind& kind, std::string field, std::string message, std::string hint = {});
  /// "run R-12 · size".
  std::string field(const TableKind& kind, const std::string& id, const std::string& key) const;

  /// True, and a conflict, when somebody changed the cell since the sender saw it.
  bool clashes(const TableKind& kind, std::size_t row, const std::string& key, const std::string& yours);
  /// The same for any cell of the row.
  bool row_clashes(const TableKind& kind, std::size_t row, const std::string& yours);
  /// The same for rows of the table that are gone: what stood below them stands elsewhere.
  bool gone_clashes(const TableKind& kind);

  void set(const TableKind& kind, std::size_t row, const std::string& key, const std::string& text);
  std::string cell(const TableKind& kind, std::size_t row, const std::string& key) {
    return draft.cell(kind, row, key).value_or("");
  }
  /// A row before the row `at`, with columns that are known.
  void insert(const TableKind& kind, std::size_t at, const Cells& cells);
  /// False, and a problem, when the text cannot be an id or a row has it already.
  bool free_id(const TableKind& kind, const std::string& id);

  /// Joints of the piping, in the order of the runs.
  std::vector<std::string> nodes();
  /// The cell and the number of its value in SI; none, and a problem, when it cannot be read.
  std::optional<double> quantity(const TableKind& kind, std::size_t row, const std::string& key);
  /// A quantity as it would stand in the column: in the unit of the heading, or with one.
  std::string quantity_text(const TableKind& kind, const std::string& key, double value_si);

  static const TableKind& runs();
  static const TableKind& outlets();
  static const TableKind& levels();
  static const TableKind& circuits();

 private:
  void set_cell(const SetCell& change);
  void add_row(const AddRow& change);
  void remove_row(const RemoveRow& change);
  void move_outlet(const MoveOutlet& change);
  void drop_key(const TableKind& kind, std::size_t row, const SetCell& change);

  Seen seen_;
};

// What is made of several changes, each in a file of its own.
void make_rename(Editor& editor, const Rename& change);
void make_riser(Editor& editor, const AddRiser& change);
void make_copy(Editor& editor, const CopyLevel& change);
void make_split(Editor& editor, const SplitRun& change);
void make_paste(Editor& editor, const Paste& change);

/// `wanted`, or with a number behind it that makes it one of its own.
std::string free_name(const std::string& wanted, const std::vector<std::string>& taken);

}  // namespace firstdraw::desk
