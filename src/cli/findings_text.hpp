// Findings, assumptions and job errors on the terminal and as JSON.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/context.hpp"
#include "cli/page.hpp"
#include "job/job.hpp"
#include "plan/finding.hpp"

namespace firstdraw::cli {

struct FindingCounts {
  std::size_t stops = 0, fixes = 0, notes = 0, accepted = 0;  // accepted ones are counted only there
};
FindingCounts count(const std::vector<plan::Finding>& findings);
/// "1 panel", "2 panels".
std::string plural(std::size_t number, std::string_view one, std::string_view many);
/// "2 stops, 1 fix, 3 notes, 1 accepted".
std::string in_words(const FindingCounts& counts);
nlohmann::json to_json(const FindingCounts& counts);

/// Each with its severity, place, what is wrong, what to do, where to change it and the citation.
void add_findings(Page& page, const std::vector<plan::Finding>& findings);
void add_assumptions(Page& page, const std::vector<job::Assumption>& assumptions);
nlohmann::json to_json(const std::vector<job::Assumption>& assumptions);

/// What must stand on every answer that someone might build from.
std::string_view caution_of_a_design();

/// 1 when a stop is open, else 0.
ExitCode exit_code_for(const std::vector<plan::Finding>& findings);

}  // namespace firstdraw::cli
