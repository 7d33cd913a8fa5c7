#include "desk/sheet.hpp"

#include <algorithm>

#include "desk/draft.hpp"

namespace firstdraw::desk {

namespace {

/// Which table and row a place of a file belongs to.
struct Stretch {
  int first = 0, last = 0;
  Row* row = nullptr;
};

Table table_of(Draft& draft, const TableKind& kind) {
  Table table{kind.name, kind.title, kind.many, draft.columns(kind), {}};
  const auto& ids = draft.ids(kind);
  for (std::size_t row = 0; row < draft.rows(kind); ++row)
    table.rows.push_back({ids[row], draft.cells(kind, row)});
  return table;
}

void give_problems(const std::vector<job::Diagnostic>& problems,
                   std::map<std::string, std::vector<Stretch>>& stretches) {
  for (const auto& problem : problems) {
    if (problem.line == 0) continue;
    for (const Stretch& stretch : stretches[problem.file])
      if (problem.line >= stretch.first && problem.line <= stretch.last) {
        stretch.row->problems.push_back(problem);
        break;
      }
  }
}

}  // namespace

std::vector<Table> tables_of(const JobText& text, const std::vector<job::Diagnostic>& problems) {
  Draft draft(text);
  std::vector<Table> tables;
  for (const TableKind& kind : table_kinds()) tables.push_back(table_of(draft, kind));
  if (problems.empty()) return tables;
  std::map<std::string, std::vector<Stretch>> stretches;
  for (Table& table : tables) {
    const TableKind& kind = *find_kind(table.name);
    for (std::size_t row = 0; row < table.rows.size(); ++row)
      if (const auto lines = draft.lines(kind, row); lines.first > 0)
        stretches[kind.file].push_back({lines.first, lines.last, &table.rows[row]});
  }
  give_problems(problems, stretches);
  return tables;
}

}  // namespace firstdraw::desk
