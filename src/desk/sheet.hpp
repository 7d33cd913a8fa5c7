// The job's text as tables of cells for a page to show and to edit: what stands in them is what was written.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "desk/job_text.hpp"

namespace firstdraw::desk {

struct Column {
  std::string key, label;  // "insulation", "Insulation"
  std::string kind;        // id, text, quantity, number, integer, flag, choice, reference, list
  bool required = false;
  /// What a quantity or the values of a list measure: "length", "price", "time_of_day"…
  std::string measures{};
  std::vector<std::string> choices{};  // of choices and of names that the tables know; other spellings may do
  std::string refers_to{};             // table whose rows a reference names; "node", "catalog"
  std::string unit{};                  // of its heading: that of numbers without one
};
struct Row {
  /// Its id, or its place "#1", "#2"… where rows have none or an earlier one has it too; empty: the only row
  /// of its table.
  std::string id;
  std::map<std::string, std::string> cells{};  // only what was written
  std::vector<job::Diagnostic> problems{};
};
struct Table {
  std::string name, title;
  bool many = false;  // rows can be added and removed
  std::vector<Column> columns{};
  std::vector<Row> rows{};
};

/// Sections of job.toml in the order of docs/formats/job-folder.md, then runs, outlets, circuits. `problems`
/// of reading the text go to the rows they are about; those about none are left to the caller.
std::vector<Table> tables_of(const JobText& text, const std::vector<job::Diagnostic>& problems = {});

}  // namespace firstdraw::desk
