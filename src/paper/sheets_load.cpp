// The load calculation for the inspector: every figure with how it came about and the clause it rests on.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "paper/sheets.hpp"
#include "paper/sheets_load_lines.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;

std::string clause_text(const rules::Citation& citation) {
  return citation.edition.empty() && citation.clause.empty() ? citation.document : citation.text();
}

std::string basis_text(const rules::Citation& citation) {
  if (citation.basis == "memory") return "from memory";
  return citation.basis == "common practice, no source" ? "no source" : citation.basis;
}

bool same(const rules::Citation& one, const rules::Citation& other) {
  return clause_text(one) == clause_text(other) && one.basis == other.basis;
}

std::string circuits_text(const LoadStatement& statement, std::size_t all) {
  if (statement.circuits.size() == all && all > 1) return fmt::format("all {}", all);
  return fmt::format("{}", fmt::join(statement.circuits, ", "));
}

// Statements that differ in their value alone, each of one circuit, are lines of one row.
std::vector<LoadStatement> joined(const std::vector<LoadStatement>& statements) {
  std::vector<LoadStatement> rows;
  for (const LoadStatement& each : statements) {
    const bool joins = !rows.empty() && rows.back().how == each.how && each.circuits.size() == 1 &&
                       rows.back().circuits.size() == 1 && same(rows.back().citation, each.citation);
    if (!joins) {
      rows.push_back(each);
      continue;
    }
    rows.back().circuits.front() += "\n" + each.circuits.front();
    rows.back().value += "\n" + each.value;
  }
  return rows;
}

// A quantity, and the clause of several of its lines, stand once, in the first of them. `circuits`: how many
// the panel has; 0: lines of the panel itself.
Table load_table(const std::vector<LoadQuantity>& quantities, std::size_t circuits) {
  Table table;
  table.size_pt = 6.8;
  table.pad_y_mm = 0.4;
  table.columns = {{"Quantity", ""}, {"Value", ""}, {"How it came about", ""}, {"Clause", ""}, {"Basis", ""}};
  if (circuits > 0) table.columns.insert(table.columns.begin() + 1, {"Circuits", ""});
  for (const LoadQuantity& quantity : quantities) {
    const std::vector<LoadStatement> rows = joined(quantity.statements);
    const LoadStatement* before = nullptr;
    for (const LoadStatement& each : rows) {
      const bool repeats = before && same(before->citation, each.citation);
      std::vector<std::string> cells{before ? "" : quantity.quantity, each.value, each.how,
                                     repeats ? "" : clause_text(each.citation),
                                     repeats ? "" : basis_text(each.citation)};
      if (circuits > 0) cells.insert(cells.begin() + 1, circuits_text(each, circuits));
      table.rows.push_back({Row::Kind::plain, std::move(cells)});
      before = &each;
    }
  }
  return table;
}

// What the rules ask of every panel alike.
bool is_in_words(const LoadQuantity& quantity) {
  return std::ranges::all_of(quantity.statements, [](const auto& each) { return each.value.empty(); });
}

void panel_sheet(Book& book, const Pack& pack, const power::PanelLoad& load, bool first) {
  const std::string& id = pack.job.panels[at(load.panel)].id;
  sheet(
      book, "Load calculation: " + panel_name(pack.job, load.panel),
      fmt::format("By {}. The edition in force at the site, with its local amendments, rules; the authority "
                  "having jurisdiction decides. Alike lines of several circuits stand once; an empty clause "
                  "is that of the "
                  "line above. From memory: to be confirmed against the edition.",
                  fmt::join(load_documents(pack.plan.load, id), "; ")),
      Book::Way::wide, first ? "Load calculation" : "");
  heading(book, "The panel");
  auto of_panel = load_quantities(pack.plan.load, id, false);
  if (!first) std::erase_if(of_panel, is_in_words);
  flow(book, load_table(of_panel, 0));
  if (!first) paragraph(book, "What the rules ask in words stands with the first panel.", small_style);
  heading(book, "Its circuits", 30);
  flow(book, load_table(load_quantities(pack.plan.load, id, true), load.circuits.size()));
}

}  // namespace

void load_calculation(Book& book, const Pack& pack) {
  if (pack.plan.load.empty()) return;
  bool first = true;
  for (const power::PanelLoad& load : pack.plan.panels) {
    if (load.panel == piping::none || load.circuits.empty()) continue;
    panel_sheet(book, pack, load, first);
    first = false;
  }
}

}  // namespace firstdraw::paper
