#include "prove/field_tests.hpp"

#include <algorithm>

namespace firstdraw::prove {

FieldTests field_tests(const job::Job& job, const plan::Plan& plan, std::vector<Reading> readings) {
  FieldTests tests;
  tests.readings = std::move(readings);
  tests.verdicts = judge(job, plan, tests.readings);
  tests.due = due_tests(job, plan, tests.readings, tests.verdicts);
  tests.trends = trends(job, plan, tests.readings, tests.verdicts);
  tests.findings = findings(job, tests.readings, tests.verdicts, tests.trends);
  return tests;
}

bool has_failed(const FieldTests& tests) {
  return std::ranges::any_of(tests.findings, [](const plan::Finding& finding) {
    return !finding.accepted && finding.id.starts_with("test-") && finding.id != "test-doubt";
  });
}

}  // namespace firstdraw::prove
