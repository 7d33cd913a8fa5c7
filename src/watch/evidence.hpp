// The monthly page a water management plan asks for: what was hot for how long, what was not, what was done.
// docs/logs.md. It is evidence of temperatures, not of the absence of bacteria.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "plan/finding.hpp"
#include "plan/plan.hpp"
#include "watch/estimate.hpp"
#include "watch/log_import.hpp"
#include "watch/logged.hpp"
#include "watch/schedule_check.hpp"
#include "week/zone.hpp"

namespace firstdraw::watch {

/// Hours are of the month; a reading stands for the time to the next one, at most three usual intervals.
struct PlaceEvidence {
  std::string series, place, what;  // "pipe of run R12", "tap O-3"
  double logged_h = 0, missing_h = 0;
  double below_h = 0;  // under the limit
  double above_h = 0;  // over the upper limit
  double band_h = 0;   // in the growth band
  double longest_below_h = 0;
  double least_c = 0, mean_c = 0, most_c = 0;
  double least_limit_c = 0, most_limit_c = 0;  // NaN: none
  std::string limit_basis;
  std::vector<double> day_least_c, day_below_h;  // one a day of the month; NaN: nothing logged
};
struct ActionTaken {
  std::string at, who, text;
  std::int64_t record = 0;
};
struct Evidence {
  int year = 0, month = 0;
  std::string zone;
  std::vector<PlaceEvidence> places;
  std::vector<Oddity> oddities;
  std::vector<ActionTaken> actions;
  std::vector<plan::Finding> findings;  // "watch-…"
  std::vector<std::string> notes;       // those of every month first
  std::vector<rules::Citation> sources;
};
/// Notes that hold for every month.
std::vector<std::string> standing_notes();
/// What else the logs showed; the page names what is wrong of it.
struct Judged {
  std::vector<GroupEstimate> estimates;
  std::vector<Change> changes;
  std::vector<ScheduleCheck> schedules;
};
/// Estimates and schedule from the month's readings; changes from all that is given, so that those before the
/// month tell what it was like.
Judged judge(const job::Job& job, const plan::Plan& plan, const Logged& logged, const week::Zone& zone,
             int year, int month);

/// Limits from the job's guideline (rules), its groups' maintain temperatures and its outlets' limits.
/// Temperatures logged at groups, runs and outlets; those at spaces are air. `logged` may be longer than the
/// month. The zone must cover the month. Findings carry the job's acceptances.
Evidence evidence(const job::Job& job, const plan::Plan& plan, const Logged& logged, const week::Zone& zone,
                  int year, int month, std::vector<ActionTaken> actions, const Judged& judged = {});

/// schemas/evidence.schema.json.
nlohmann::json to_json(const job::Job& job, const Evidence& evidence);

}  // namespace firstdraw::watch
