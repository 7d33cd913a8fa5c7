// Every kind of finding the program can make: the one table behind finding_kinds(), the severity of each
// finding and docs/findings.md.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "plan/finding.hpp"

namespace firstdraw::plan {

/// Subject of the kinds that the plan does not raise: they need the week's settings (room settings).
inline constexpr std::string_view week_subject = "The week";
/// And these need what was logged (room watch).
inline constexpr std::string_view logs_subject = "Logs";
/// And these need readings of the field tests (room prove).
inline constexpr std::string_view tests_subject = "Field tests";
/// The plan itself raises findings of this subject.
constexpr bool is_of_the_plan(std::string_view subject) {
  return subject != week_subject && subject != logs_subject && subject != tests_subject;
}

struct CatalogueEntry {
  std::string_view id;
  Severity severity{};
  std::string_view subject;  // heading in docs/findings.md
  std::string_view title;
  std::string_view why;
  std::string_view fix;
};

std::span<const CatalogueEntry> finding_catalogue();

/// Throws std::logic_error for an id the catalogue does not know: checks and catalogue belong together.
const CatalogueEntry& catalogue_entry(std::string_view id);

/// The text of docs/findings.md.
std::string catalogue_markdown();

}  // namespace firstdraw::plan
