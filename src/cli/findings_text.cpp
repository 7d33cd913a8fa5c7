#include "cli/findings_text.hpp"

#include <fmt/format.h>

#include <utility>

namespace firstdraw::cli {
namespace {

Style style_of(const plan::Finding& finding) {
  if (finding.accepted) return Style::green;
  if (finding.severity == plan::Severity::stop) return Style::red;
  return finding.severity == plan::Severity::fix ? Style::yellow : Style::cyan;
}

std::string place_of(const plan::Finding& finding) {
  if (finding.file.empty()) return finding.place;
  const std::string spot = finding.line > 0 ? fmt::format("{}:{}", finding.file, finding.line) : finding.file;
  return finding.place.empty() ? spot : fmt::format("{} ({})", finding.place, spot);
}

std::string acceptance_of(const plan::Finding& finding) {
  std::string text = fmt::format("accepted by {}", finding.accepted_by);
  if (!finding.accepted_date.empty()) text += fmt::format(", {}", finding.accepted_date);
  return fmt::format("{}: {}", text, finding.accepted_reason);
}

void add_finding(Page& page, const plan::Finding& finding) {
  const std::string severity = plan::to_string(finding.severity);
  const std::string indent(6, ' ');
  page.paragraph(fmt::format("{} · {}", finding.id, place_of(finding)), pad_right(severity, 6),
                 style_of(finding));
  page.paragraph(finding.what, indent);
  if (!finding.todo.empty()) page.paragraph(finding.todo, indent + "→ ");
  if (!finding.citation.document.empty())
    page.paragraph(finding.citation.text(), indent + "see ", Style::dim);
  if (finding.accepted) page.paragraph(acceptance_of(finding), indent, Style::green);
}

}  // namespace

std::string plural(std::size_t number, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", number, number == 1 ? one : many);
}

FindingCounts count(const std::vector<plan::Finding>& findings) {
  FindingCounts counts;
  for (const plan::Finding& finding : findings) {
    if (finding.accepted) {
      ++counts.accepted;
    } else if (finding.severity == plan::Severity::stop) {
      ++counts.stops;
    } else {
      ++(finding.severity == plan::Severity::fix ? counts.fixes : counts.notes);
    }
  }
  return counts;
}

std::string in_words(const FindingCounts& counts) {
  return fmt::format("{}, {}, {}, {} accepted", plural(counts.stops, "stop", "stops"),
                     plural(counts.fixes, "fix", "fixes"), plural(counts.notes, "note", "notes"),
                     counts.accepted);
}

nlohmann::json to_json(const FindingCounts& counts) {
  return {{"stops", counts.stops},
          {"fixes", counts.fixes},
          {"notes", counts.notes},
          {"accepted", counts.accepted}};
}

void add_findings(Page& page, const std::vector<plan::Finding>& findings) {
  page.heading(fmt::format("Findings: {}", in_words(count(findings))));
  for (const plan::Finding& finding : findings) add_finding(page, finding);
}

void add_assumptions(Page& page, const std::vector<job::Assumption>& assumptions) {
  if (assumptions.empty()) return;
  TextTable table({{"Field", "", Column::Kind::wrapping_text},
                   {"Assumed", "", Column::Kind::wrapping_text},
                   {"Why", "", Column::Kind::wrapping_text}});
  for (const job::Assumption& assumption : assumptions) {
    table.add_row({{assumption.field}, {assumption.value}, {assumption.why}});
  }
  page.heading("Assumptions");
  page.table(table);
}

nlohmann::json to_json(const std::vector<job::Assumption>& assumptions) {
  nlohmann::json json = nlohmann::json::array();
  for (const job::Assumption& assumption : assumptions) {
    json.push_back({{"field", assumption.field}, {"value", assumption.value}, {"why", assumption.why}});
  }
  return json;
}

std::string_view caution_of_a_design() {
  return "this is a design aid. Mains voltage, scalding water and Legionella can kill. The local codes, the "
         "authority "
         "having jurisdiction, the cable maker's instructions and the licensed electrician's judgement come "
         "first.";
}

ExitCode exit_code_for(const std::vector<plan::Finding>& findings) {
  return count(findings).stops > 0 ? ExitCode::stop_finding : ExitCode::ok;
}

}  // namespace firstdraw::cli
