// A job's text while it is being changed: rows and cells of all its tables, whichever file they stand in.
// Every change is made in place and touches nothing else.
#pragma once

#include <expected>
#include <map>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "desk/columns.hpp"
#include "desk/csv_sheet.hpp"
#include "desk/job_text.hpp"
#include "desk/toml_sheet.hpp"

namespace firstdraw::desk {

/// Column and text of the cells of a row.
using Cells = std::map<std::string, std::string>;

class Draft {
 public:
  explicit Draft(const JobText& text);

  /// With what was changed.
  JobText text() const;
  const Setting& setting() const { return setting_; }

  /// Why the file of a table cannot be read as a table; null when it can.
  const job::Diagnostic* broken(const TableKind& kind) const;
  /// With the units of headings.
  const std::vector<Column>& columns(const TableKind& kind);

  std::size_t rows(const TableKind& kind) const;
  /// As sheet.hpp says of Row::id.
  const std::vector<std::string>& ids(const TableKind& kind);
  std::optional<std::size_t> find_row(const TableKind& kind, const std::string& id);
  /// What stands there; none: not written. A CSV cell without text is not written.
  std::optional<std::string> cell(const TableKind& kind, std::size_t row, const std::string& column);
  Cells cells(const TableKind& kind, std::size_t row);
  struct Lines {
    int first = 0, last = 0;
  };
  /// Of the files as they were when the draft was made; meaningless after a change.
  Lines lines(const TableKind& kind, std::size_t row) const;

  /// Empty text leaves the key out. Fails with what was expected.
  std::expected<void, std::string> set(const TableKind& kind, std::size_t row, const Column& column,
                                       const std::string& text);
  /// Drops a key that no column stands for.
  void drop(const TableKind& kind, std::size_t row, const std::string& key);
  /// Before the row `at`; at rows(): as the last. Columns must be known.
  std::expected<void, std::string> insert(const TableKind& kind, std::size_t at, const Cells& cells);
  void erase(const TableKind& kind, std::size_t row);

 private:
  struct CsvFile {
    std::optional<CsvSheet> sheet;
    std::optional<job::Diagnostic> broken{};
    std::vector<std::string> names{};  // of the columns, from the headings
    bool changed = false;
  };
  CsvFile& csv(const TableKind& kind) { return csv_.at(kind.name); }
  const CsvFile& csv(const TableKind& kind) const { return csv_.at(kind.name); }
  void read_csv(const TableKind& kind);
  void read_setting();
  void forget_ids(const TableKind& kind) { ids_.erase(kind.name), places_.erase(kind.name); }
  std::size_t need_column(const TableKind& kind, const Column& column);
  std::expected<void, std::string> insert_toml(const TableKind& kind, std::size_t at, const Cells& cells);
  std::string id_cell(const TableKind& kind, std::size_t row);

  JobText text_;
  Setting setting_;
  std::map<std::string, CsvFile> csv_;
  std::optional<TomlSheet> toml_;
  std::optional<job::Diagnostic> toml_broken_;
  std::map<std::string, std::vector<Column>> columns_;
  std::map<std::string, std::vector<std::string>> ids_;
  std::map<std::string, std::unordered_map<std::string, std::size_t>> places_;
};

}  // namespace firstdraw::desk
