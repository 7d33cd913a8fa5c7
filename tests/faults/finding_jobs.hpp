// Whole jobs with one electrical fault each, for finding_test.cpp. Buildings and cables are invented.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <vector>

#include "job/job.hpp"

namespace firstdraw::plan {

/// `sound` plus `fault` differ in one thing, and the plan says so by `id` at `place`.
struct JobFault {
  std::string id, place;
  std::function<void(job::Job&)> fault;
  std::function<void(job::Job&)> sound = [](job::Job&) {};
  std::set<std::string> follows = {};  // notes that the same fault cannot but bring
};

/// A small hotel main with riser and branch, two pipe sizes, one panel, one cable; no stop and no fix.
job::Job sound_job();
std::vector<JobFault> job_faults();

}  // namespace firstdraw::plan
