// make_plan end to end on a small building made by hand: numbers against the lower rooms and sums by hand.
#include "plan/plan.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "plan/options.hpp"
#include "plan/run_classes.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::plan {
namespace {

Plan plan_of(const job::Job& job) { return make_plan(job, {200, 1, 1}); }

TEST(Plan, DumpForNow) {
  const job::Job job = small_job();
  const Plan plan = plan_of(job);
  std::puts(to_json(job, plan).dump(1).c_str());
}

}  // namespace
}  // namespace firstdraw::plan
