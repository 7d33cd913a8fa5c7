#include "paper/sheets_load_lines.hpp"

#include <algorithm>
#include <tuple>

namespace firstdraw::paper {
namespace {

bool alike(const LoadStatement& statement, const plan::LoadLine& line) {
  const auto key = [](const rules::Citation& each) {
    return std::tie(each.document, each.edition, each.clause, each.basis);
  };
  return statement.value == line.value && statement.how == line.how &&
         key(statement.citation) == key(line.citation);
}

}  // namespace

std::vector<LoadQuantity> load_quantities(const std::vector<plan::LoadLine>& lines, const std::string& panel,
                                          bool circuits) {
  std::vector<LoadQuantity> quantities;
  for (const plan::LoadLine& line : lines) {
    if (line.panel != panel || line.circuit.empty() == circuits) continue;
    auto quantity = std::ranges::find(quantities, line.quantity, &LoadQuantity::quantity);
    if (quantity == quantities.end()) quantity = quantities.insert(quantity, {line.quantity, {}});
    auto& statements = quantity->statements;
    auto statement = std::ranges::find_if(statements, [&](const auto& each) { return alike(each, line); });
    if (statement == statements.end())
      statement = statements.insert(statement, {{}, line.value, line.how, line.citation});
    if (circuits) statement->circuits.push_back(line.circuit);
  }
  return quantities;
}

std::vector<std::string> load_documents(const std::vector<plan::LoadLine>& lines, const std::string& panel) {
  std::vector<std::string> documents;
  for (const plan::LoadLine& line : lines) {
    if (line.panel != panel || line.citation.edition.empty()) continue;
    const std::string name = line.citation.document + " " + line.citation.edition;
    if (std::ranges::find(documents, name) == documents.end()) documents.push_back(name);
  }
  return documents;
}

}  // namespace firstdraw::paper
