#include "plan/finding.hpp"

#include <algorithm>
#include <cctype>
#include <map>
#include <nlohmann/json.hpp>
#include <string_view>
#include <tuple>

#include "plan/checks.hpp"
#include "plan/finding_catalogue.hpp"

namespace firstdraw::plan {

namespace {

bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

std::string_view take_number(std::string_view& text) {
  std::size_t length = 0;
  while (length < text.size() && is_digit(text[length])) ++length;
  std::string_view number = text.substr(0, length);
  text.remove_prefix(length);
  while (number.size() > 1 && number.front() == '0') number.remove_prefix(1);
  return number;
}

/// Numbers inside ids count as numbers: R2 stands before R10.
bool natural_less(std::string_view a, std::string_view b) {
  while (!a.empty() && !b.empty()) {
    if (is_digit(a.front()) && is_digit(b.front())) {
      const auto left = take_number(a), right = take_number(b);
      if (left != right) return std::tuple(left.size(), left) < std::tuple(right.size(), right);
    } else {
      if (a.front() != b.front()) return a.front() < b.front();
      a.remove_prefix(1);
      b.remove_prefix(1);
    }
  }
  return a.size() < b.size();
}

bool before(const Finding& a, const Finding& b) {
  if (a.severity != b.severity) return a.severity < b.severity;
  if (a.place_kind != b.place_kind) return a.place_kind < b.place_kind;
  if (a.place != b.place) {
    if (natural_less(a.place, b.place)) return true;
    if (natural_less(b.place, a.place)) return false;
    return a.place < b.place;
  }
  return &catalogue_entry(a.id) < &catalogue_entry(b.id);
}

nlohmann::json to_json(const rules::Citation& citation) {
  return {{"document", citation.document},
          {"edition", citation.edition},
          {"clause", citation.clause},
          {"basis", citation.basis}};
}

nlohmann::json to_json(const Finding& finding) {
  nlohmann::json accepted;
  if (finding.accepted)
    accepted = {
        {"reason", finding.accepted_reason}, {"name", finding.accepted_by}, {"date", finding.accepted_date}};
  return {{"id", finding.id},
          {"severity", to_string(finding.severity)},
          {"place_kind", to_string(finding.place_kind)},
          {"place", finding.place},
          {"file", finding.file},
          {"line", finding.line},
          {"what", finding.what},
          {"todo", finding.todo},
          {"citation", to_json(finding.citation)},
          {"accepted", accepted}};
}

}  // namespace

std::string to_string(Severity severity) {
  switch (severity) {
    case Severity::stop:
      return "stop";
    case Severity::fix:
      return "fix";
    case Severity::note:
      return "note";
  }
  return "";
}

std::string to_string(Finding::PlaceKind kind) {
  using enum Finding::PlaceKind;
  switch (kind) {
    case site:
      return "site";
    case space:
      return "space";
    case run:
      return "run";
    case node:
      return "node";
    case outlet:
      return "outlet";
    case group:
      return "group";
    case circuit:
      return "circuit";
    case panel:
      return "panel";
    case cable:
      return "cable";
  }
  return "";
}

nlohmann::json to_json(const std::vector<Finding>& findings) {
  auto list = nlohmann::json::array();
  for (const Finding& finding : findings) list.push_back(to_json(finding));
  return list;
}

void sort_findings(std::vector<Finding>& findings) {
  std::stable_sort(findings.begin(), findings.end(), before);
}

void apply_acceptances(const job::Job& job, std::vector<Finding>& findings) {
  std::map<std::pair<std::string_view, std::string_view>, const job::Acceptance*> accepted;
  for (const auto& acceptance : job.accepted)
    accepted.emplace(std::pair(std::string_view(acceptance.finding), std::string_view(acceptance.place)),
                     &acceptance);
  for (Finding& finding : findings) {
    auto match = accepted.find({finding.id, finding.place});
    if (match == accepted.end()) match = accepted.find({finding.id, "*"});
    if (match == accepted.end()) continue;
    finding.accepted = true;
    finding.accepted_reason = match->second->reason;
    finding.accepted_by = match->second->name;
    finding.accepted_date = match->second->date;
  }
}

void count_findings(const std::vector<Finding>& findings, Totals& totals) {
  totals.stops = totals.fixes = totals.notes = totals.accepted = 0;
  for (const Finding& finding : findings) {
    int& count = finding.accepted                     ? totals.accepted
                 : finding.severity == Severity::stop ? totals.stops
                 : finding.severity == Severity::fix  ? totals.fixes
                                                      : totals.notes;
    ++count;
  }
}

}  // namespace firstdraw::plan
