// Findings that need no thermal or electrical result.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "plan/check_context.hpp"
#include "plan/checks.hpp"
#include "plan/finding_catalogue.hpp"
#include "units/quantity.hpp"

namespace firstdraw::plan {

namespace {

void check_acceptance_ids(const job::Job& job, Findings& found) {
  std::vector<std::string> known;
  for (const CatalogueEntry& entry : finding_catalogue()) known.emplace_back(entry.id);
  for (const auto& acceptance : job.accepted) {
    if (std::ranges::find(known, acceptance.finding) != known.end()) continue;
    const auto near = units::nearest(acceptance.finding, known);
    found.add("acceptance-unknown", about_site(),
              fmt::format("An acceptance in job.toml names \"{}\", which is no finding.", acceptance.finding),
              near ? fmt::format("Write \"{}\" if that was meant.", *near)
                   : std::string("Take the id from docs/findings.md or from the finding itself."));
  }
}

bool accepts(const job::Acceptance& acceptance, const Finding& finding) {
  return acceptance.finding == finding.id && (acceptance.place == finding.place || acceptance.place == "*");
}

void check_idle_acceptances(const job::Job& job, std::vector<Finding>& findings) {
  Findings idle;
  for (const auto& acceptance : job.accepted) {
    if (std::ranges::any_of(findings, [&](const Finding& f) { return accepts(acceptance, f); })) continue;
    const auto kind = std::ranges::find(finding_catalogue(), acceptance.finding, &CatalogueEntry::id);
    if (kind == finding_catalogue().end() || !is_of_the_plan(kind->subject)) continue;
    idle.add("acceptance-idle", about_site(),
             fmt::format("\"{}\" is accepted at \"{}\" by {}, but does not occur there.", acceptance.finding,
                         acceptance.place, acceptance.name),
             "Delete the acceptance from job.toml, or correct its place.");
  }
  for (Finding& finding : idle.take()) findings.push_back(std::move(finding));
}

template <class Checks, class Subject>
void run_all(const Checks& checks, const Subject& subject, Findings& found) {
  for (const auto check : checks) check(subject, found);
}

std::vector<Finding> surveyed(const Survey& subject) {
  Findings found;
  for (const auto checks : {piping_checks(), space_and_group_checks(), sensor_checks(), setting_checks(),
                            hygiene_checks(), period_checks(), outlet_checks()})
    run_all(checks, subject, found);
  check_acceptance_ids(subject.job, found);
  return found.take();
}

std::vector<Finding> reviewed(const Survey& survey, const Plan& plan) {
  const Review review(survey, plan);
  Findings found;
  for (const auto checks :
       {thermal_checks(), limit_checks(), control_result_checks(), circuit_checks(), voltage_checks(),
        wiring_checks(), start_checks(), panel_checks(), layout_checks(), override_checks()})
    run_all(checks, review, found);
  return found.take();
}

}  // namespace

std::vector<Finding> survey(const job::Job& job, const piping::Network& network) {
  auto findings = surveyed(Survey(job, network));
  apply_acceptances(job, findings);
  sort_findings(findings);
  return findings;
}

std::vector<Finding> check_plan(const job::Job& job, const Plan& plan) {
  return reviewed(Survey(job, plan.network), plan);
}

std::vector<Finding> all_findings(const job::Job& job, const Plan& plan) {
  const Survey subject(job, plan.network);
  auto findings = surveyed(subject);
  for (Finding& finding : reviewed(subject, plan)) findings.push_back(std::move(finding));
  check_idle_acceptances(job, findings);
  apply_acceptances(job, findings);
  sort_findings(findings);
  return findings;
}

}  // namespace firstdraw::plan
