// A week found for what asks less, and taken for what asks more: against a search of its own. All numbers
// invented.
#include "settings/known_weeks.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>

#include "settings/cheapest_scenes.hpp"
#include "settings/cheapest_search.hpp"

namespace firstdraw::settings {
namespace {

/// Two runs that are hot in the morning and may lie in the band for some hours on end.
class Banded {
 public:
  Banded() : week_(1800) {
    week_.add({{.loss_w_per_k = 5, .capacity_j_per_k = 300e3, .output_at_40_w = 500},
               {.loss_w_per_k = 3, .capacity_j_per_k = 100e3, .output_at_40_w = 300}});
    week_.options.rounds = 0;
    week_.comfort(6, 8, 50);
    week_.needs[0].below_c = 45;
    week_.needs[0].most_below_s = 3600;
    menu_ = menu_of(week_.job, week_.models, week_.needs, week_.options).value();
  }

  void most_below(double hours) { week_.needs[0].most_below_s = 3600 * hours; }
  SteadyTask task() const {
    return {task_of(week_.job, week_.models, week_.needs, week_.season, week_.options, menu_).value(),
            most_set_points(week_.job.controller)};
  }
  CheapestWeek search() const {
    return search_week(week_.job, week_.models, week_.needs, week_.season, week_.options, menu_);
  }

 private:
  InventedWeek week_;
  Menu menu_;
};

double gap(const CheapestWeek& week) { return week.plan.cost.total() - week.bound; }

TEST(KnownWeeks, TheSameTaskIsKnown) {
  const Banded scene;
  KnownWeeks known;
  EXPECT_EQ(known.find(scene.task()), nullptr);
  known.add(scene.task(), scene.search());
  ASSERT_NE(known.find(scene.task()), nullptr);
}

TEST(KnownWeeks, WhatIsKeptAnywayCostsWhatItsOwnSearchFinds) {
  Banded scene;
  scene.most_below(std::numeric_limits<double>::infinity());
  KnownWeeks known;
  known.add(scene.task(), scene.search());
  int taken = 0;
  for (const double hours : {1.0, 6.0, 12.0, 20.0, 24.0}) {
    scene.most_below(hours);
    const CheapestWeek own = scene.search();
    ASSERT_TRUE(own.plan.possible) << hours;
    const CheapestWeek* found = known.find(scene.task());
    taken += found != nullptr ? 1 : 0;
    if (found != nullptr) {
      EXPECT_LE(std::abs(found->plan.cost.total() - own.plan.cost.total()), gap(own) + gap(*found) + 1e-9)
          << hours;
    }
  }
  EXPECT_GT(taken, 0);
  EXPECT_LT(taken, 5) << "an hour below the band is not kept by a week that was never asked for it";
}

TEST(KnownWeeks, WhatAsksMoreDoesNotBound) {
  Banded scene;
  KnownWeeks known;
  known.add(scene.task(), scene.search());
  scene.most_below(20);
  EXPECT_EQ(known.find(scene.task()), nullptr);
}

}  // namespace
}  // namespace firstdraw::settings
