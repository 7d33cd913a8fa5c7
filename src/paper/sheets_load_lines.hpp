// The load calculation as it is printed: what is said alike of several circuits is said once.
#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace firstdraw::paper {

struct LoadStatement {
  std::vector<std::string> circuits;  // of which it holds, in the order of the sheet
  std::string value, how;
  rules::Citation citation;
};

struct LoadQuantity {
  std::string quantity;
  std::vector<LoadStatement> statements;
};

/// The lines of the circuits of one panel (`circuits`) or of the panel itself, quantities in the order in
/// which they first come. Every line is in exactly one statement.
std::vector<LoadQuantity> load_quantities(const std::vector<plan::LoadLine>& lines, const std::string& panel,
                                          bool circuits);

/// Documents with edition, once each, in the order in which they come; common practice left out.
std::vector<std::string> load_documents(const std::vector<plan::LoadLine>& lines, const std::string& panel);

}  // namespace firstdraw::paper
