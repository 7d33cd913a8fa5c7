// What each demand costs, on the small washroom with a clock and dear afternoons: what
// must hold of differences of optima whatever the prices. All numbers invented.
#include "settings/why_not.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "settings/planned_washroom.hpp"

namespace firstdraw::settings {
namespace {

class WhyNot : public ::testing::Test {
 protected:
  WhyNot() : planned_(asking()), models_(group_models(planned_.job, planned_.plan)), seasons_(1) {
    SeasonOfYear& year = seasons_.front();
    year.name = "all year";
    year.days = 365;
    for (int step = 0; step < 336; ++step)
      year.prices.per_kwh.push_back(step % 48 >= 24 && step % 48 < 40 ? 20.0 : 8.0);
  }

  static job::Job asking() {
    job::Job job = washroom();
    job.week.comfort = {{"shower", 0.9, 30}, {"kitchen-sink", 0, 30}};
    job.controller.periods_a_day = 4;
    job.controller.off = true;
    return job;
  }

  SearchBase base() const {
    return {planned_.job, planned_.plan, planned_.scene, planned_.demand, models_, seasons_, options_};
  }
  std::vector<CheapestWeek> weeks() const {
    const std::vector<GroupNeeds> needs =
        needs_of(planned_.job, planned_.plan, planned_.scene, planned_.demand, models_,
                 asked_of(planned_.job), options_.step_s);
    SearchOptions options = options_;
    options.grid_k = 0.5;
    return {cheapest_week(planned_.job, models_, needs, seasons_.front(), options)};
  }

  PlannedWashroom planned_;
  std::vector<GroupModel> models_;
  std::vector<SeasonOfYear> seasons_;
  SearchOptions options_;
};

TEST_F(WhyNot, EveryListedEasingSavesMoreThanItsGaps) {
  const std::vector<CheapestWeek> found = weeks();
  ASSERT_TRUE(found.front().plan.possible) << found.front().plan.impossible;
  const std::vector<DemandPrice> prices = why_not(base(), found);
  ASSERT_FALSE(prices.empty());
  EXPECT_TRUE(std::ranges::is_sorted(prices, std::ranges::greater{}, &DemandPrice::saving_per_year));
  for (const DemandPrice& price : prices) {
    EXPECT_GE(price.uncertain_per_year, 0) << price.demand;
    EXPECT_GT(price.saving_per_year, price.uncertain_per_year) << price.demand;
  }
}

TEST_F(WhyNot, ProgressRisesToTheEndAndCanStopIt) {
  std::vector<double> seen;
  SearchBase watched = base();
  watched.options.threads = 1;
  watched.progress = [&](double done_frac) { return seen.push_back(done_frac), true; };
  const std::vector<CheapestWeek> found = weeks();
  why_not(watched, found);
  ASSERT_GT(seen.size(), 2U);
  EXPECT_TRUE(std::ranges::is_sorted(seen));
  EXPECT_LE(seen.back(), 1);
  const std::size_t all = seen.size();
  watched.progress = [&](double done_frac) { return seen.push_back(done_frac), false; };
  seen.clear();
  EXPECT_TRUE(why_not(watched, found).empty());
  EXPECT_EQ(seen.size(), 1U) << "of " << all;
  seen.clear();
  const auto curve = comfort_curve(watched, {0, 0.5, 1});
  EXPECT_EQ(seen.size(), 1U);
  EXPECT_TRUE(std::ranges::none_of(curve, &FrontierPoint::possible));
}

}  // namespace
}  // namespace firstdraw::settings
