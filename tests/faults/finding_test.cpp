// A whole job with one electrical fault is planned: the plan says exactly that, and what cannot but follow.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "finding_jobs.hpp"
#include "job/folder.hpp"
#include "plan/finding_catalogue.hpp"
#include "plan/plan.hpp"

namespace firstdraw::plan {

void PrintTo(const JobFault& fault, std::ostream* out) { *out << fault.id << " at " << fault.place; }

namespace {

using Said = std::pair<std::string, std::string>;  // id, place

std::string texts(const std::vector<job::Diagnostic>& problems) {
  std::string out;
  for (const auto& problem : problems) out += problem.text() + "\n";
  return out;
}

/// The job as a user would hand it in: through the files of a job folder.
job::Job through_a_folder(const job::Job& job) {
  const auto* test = testing::UnitTest::GetInstance()->current_test_info();
  std::string name = fmt::format("firstdraw_{}_{}", getpid(), test->name());
  std::ranges::replace(name, '/', '_');
  const auto folder = std::filesystem::path(testing::TempDir()) / name;
  std::filesystem::remove_all(folder);
  const auto written = job::write_job(job, folder);
  auto read = job::read_job(folder);
  std::filesystem::remove_all(folder);
  std::string problems;
  if (!written) problems += texts(written.error());
  if (!read) problems += texts(read.error());
  EXPECT_EQ(problems, "");
  return read ? *read : job;
}

std::vector<Finding> findings(const job::Job& job) {
  Options options;
  options.samples = 200;
  return make_plan(through_a_folder(job), options).findings;
}

std::multiset<Said> said(const std::vector<Finding>& list) {
  std::multiset<Said> all;
  for (const Finding& finding : list) all.emplace(finding.id, finding.place);
  return all;
}

void expect_sound(const std::vector<Finding>& list) {
  for (const Finding& finding : list)
    EXPECT_EQ(finding.severity, Severity::note) << finding.id << ": " << finding.what;
}

class EachJobFault : public testing::TestWithParam<JobFault> {};

TEST_P(EachJobFault, IsAllThatThePlanSaysMore) {
  const JobFault& fault = GetParam();
  job::Job job = sound_job();
  fault.sound(job);
  const auto before = findings(job);
  expect_sound(before);
  fault.fault(job);
  auto known = said(before);
  bool there = false;
  for (const Finding& finding : findings(job)) {
    const Said now{finding.id, finding.place};
    if (const auto same = known.find(now); same != known.end()) {
      known.erase(same);
      continue;
    }
    const bool wanted = now == Said{fault.id, fault.place};
    there = there || wanted;
    const bool follows = finding.severity == Severity::note && fault.follows.contains(finding.id);
    EXPECT_TRUE(wanted || follows) << finding.id << " at " << finding.place << ": " << finding.what;
    if (wanted) RecordProperty("what", finding.what);
  }
  EXPECT_TRUE(there) << fault.id << " at " << fault.place << " is not said";
}

std::string name_of(const testing::TestParamInfo<JobFault>& tried) {
  std::string name = tried.param.id + "_" + std::to_string(tried.index);
  std::ranges::replace(name, '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Jobs, EachJobFault, testing::ValuesIn(job_faults()), name_of);

}  // namespace
}  // namespace firstdraw::plan
