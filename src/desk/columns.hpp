// What tables a job has and what may stand in their columns, taken from the descriptions of room job.
#pragma once

#include <string>
#include <vector>

#include "desk/sheet.hpp"
#include "rules/rules.hpp"
#include "units/quantity.hpp"

namespace firstdraw::desk {

/// A section of job.toml, a list of sections, or a CSV file.
struct TableKind {
  std::string name, title;
  std::string thing;  // what messages call a row: "run"
  std::string file;
  bool many = false;
  bool csv = false;
};

/// In the order of docs/formats/job-folder.md.
const std::vector<TableKind>& table_kinds();
/// Null when there is no such table.
const TableKind* find_kind(const std::string& table);

/// What names, and headings of new columns, depend on.
struct Setting {
  units::System system = units::System::us;
  rules::RuleSet rules = rules::RuleSet::us;
  std::vector<std::string> cables;  // sheets of the catalogue
};

/// Without what the text says: no unit of a heading.
std::vector<Column> columns_of(const std::string& table, const Setting& setting);
/// Null when there is no such column.
const Column* find_column(const std::vector<Column>& columns, const std::string& key);
/// "safe_outlet_valve": "Safe-outlet valve".
std::string label_of(const std::string& key);

/// What a column measures as units know it; none for prices, times of the day and what has no unit.
std::optional<units::Kind> kind_of(const Column& column);

}  // namespace firstdraw::desk
