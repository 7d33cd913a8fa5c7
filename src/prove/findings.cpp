// Failures, doubts and trends in the program's one voice.
#include <fmt/format.h>

#include <algorithm>

#include "plan/finding_catalogue.hpp"
#include "prove/bench.hpp"

namespace firstdraw::prove {
namespace {

using plan::Finding;

std::string_view failure_id(What what) {
  using enum What;
  switch (what) {
    case insulation_resistance:
    case supply_insulation:
      return "test-insulation";
    case earth_resistance:
      return "test-earth";
    case continuity:
      return "test-continuity";
    case trip_current:
    case trip_time:
    case trip_button:
      return "test-ground-fault";
    case leakage_current:
      return "test-leakage";
    case supply_voltage:
    case far_voltage:
      return "test-voltage";
    case loop_resistance:
    case open_resistance:
    case capacitance:
      return "test-length";
    case sensor_resistance:
      return "test-sensor";
    case current:
      return "test-current";
    case pipe_temperature:
    case air_temperature:
    case surface_temperature:
    case insulation_seen:
    case insulation_walked:
      return "test-temperature";
    case tap_temperature:
      return "test-tap";
    case cable_marking:
      return "test-cable";
    case sensor_reading:
    case sensor_position:
    case duty:
    case set_point:
    case entered_ambient:
    case contactor:
    case breaker:
      return "test-control";
  }
  return "test-doubt";
}

std::string_view trend_id(What what) {
  if (what == What::insulation_resistance) return "trend-insulation-resistance";
  return what == What::current ? "trend-current" : "trend-length";
}

void set_place(const Reading& reading, Finding& finding) {
  const std::string_view place = help_of(reading.what).place;
  using enum Finding::PlaceKind;
  finding.place_kind = place == "circuit" ? circuit
                       : place == "group" ? group
                       : place == "run"   ? run
                                          : outlet;
  finding.place = place == "circuit" ? reading.circuit : place == "group" ? reading.group : reading.run;
  finding.file = reading.place.file;
  finding.line = reading.place.line;
}

Finding finding_of(const Reading& reading, const Verdict& verdict) {
  Finding finding;
  finding.id = verdict.grade == Grade::fail ? failure_id(reading.what) : "test-doubt";
  finding.severity = plan::catalogue_entry(finding.id).severity;
  set_place(reading, finding);
  finding.what = fmt::format("{}: {}", name_of(reading.what), verdict.said);
  finding.todo = verdict.suspect.empty() ? verdict.to_do : verdict.suspect + " " + verdict.to_do;
  if (!verdict.sources.empty()) finding.citation = verdict.sources.front();
  return finding;
}

Finding finding_of(const Trend& trend) {
  Finding finding;
  finding.id = trend_id(trend.what);
  finding.severity = plan::catalogue_entry(finding.id).severity;
  finding.place_kind = Finding::PlaceKind::circuit;
  finding.place = trend.circuit;
  finding.what = trend.said;
  finding.todo = trend.suspect + " " + trend.to_do;
  finding.citation = {"usual practice", "", "", "common practice, no source"};
  return finding;
}

/// Accepted as the job says, like the plan's own.
void accept(const job::Job& job, Finding& finding) {
  for (const job::Acceptance& accepted : job.accepted) {
    if (accepted.finding != finding.id || (accepted.place != "*" && accepted.place != finding.place))
      continue;
    finding.accepted = true;
    finding.accepted_reason = accepted.reason;
    finding.accepted_by = accepted.name;
    finding.accepted_date = accepted.date;
  }
}

}  // namespace

std::vector<Finding> findings(const job::Job& job, std::span<const Reading> readings,
                              std::span<const Verdict> verdicts, std::span<const Trend> trends) {
  std::vector<Finding> all;
  for (const Verdict& verdict : verdicts)
    if (verdict.grade != Grade::pass) all.push_back(finding_of(readings[verdict.reading], verdict));
  for (const Trend& trend : trends) all.push_back(finding_of(trend));
  for (Finding& finding : all) accept(job, finding);
  std::ranges::stable_sort(all, {}, &Finding::severity);
  return all;
}

}  // namespace firstdraw::prove
