// The checks behind the findings. survey() needs only the job and its piping; check_plan() reads a finished
// plan. all_findings() is what make_plan stores: both, acceptances applied, sorted. Each check is one short
// function in checks_*.cpp; its id, severity and title are a row of the catalogue in finding.cpp, which
// docs/findings.md repeats.
#pragma once

#include <vector>

#include "job/job.hpp"
#include "plan/plan.hpp"

namespace firstdraw::plan {

/// Thermal, control, delivery, scald and electrical checks. Reads network, runs, groups, circuits, panels and
/// totals.all_hold_prob of `plan`; `findings`, `sources` and the counts in `totals` may still be empty.
/// Neither sorted nor accepted.
std::vector<Finding> check_plan(const job::Job& job, const Plan& plan);

/// survey() and check_plan() together, acceptances of the job applied, sorted: the value of Plan::findings.
std::vector<Finding> all_findings(const job::Job& job, const Plan& plan);

/// Marks what the user accepted in job.toml. "*" as place accepts a finding everywhere.
void apply_acceptances(const job::Job& job, std::vector<Finding>& findings);

/// Stops first, then fixes, then notes; within each by kind of place, place (numbers in ids in their natural
/// order, R2 before R10) and the order of the catalogue.
void sort_findings(std::vector<Finding>& findings);

/// Adds up findings not accepted, and the accepted ones, into totals.stops, fixes, notes, accepted.
void count_findings(const std::vector<Finding>& findings, Totals& totals);

}  // namespace firstdraw::plan
