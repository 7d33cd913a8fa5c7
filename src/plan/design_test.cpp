// The design choice against brute force over every combination, and the coupling through the shared duty by
// hand.
#include "plan/design.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <set>

namespace firstdraw::plan {
namespace {

/// An option of cable `cable` that needs `needed` of the time on, would give the group `as_sensor`, and costs
/// `cost`.
Option option(int cable, double needed, double as_sensor, double cost) {
  Option result;
  result.cable = cable;
  result.passes = 1;
  result.needed = {needed, needed};
  result.as_sensor = {as_sensor, as_sensor};
  result.first_cost = cost;
  return result;
}

Option weaker(Option result, double strength) {
  result.own.strength = strength;
  return result;
}

// ---- by hand
// ------------------------------------------------------------------------------------------------------

TEST(Design, CheapestFeasibleOptionWins) {
  GroupProblem problem;
  problem.classes = {
      {{weaker(option(0, 0.4, 0.5, 10), -0.1), option(0, 0.4, 0.5, 30), option(0, 0.4, 0.5, 20)}, false}};
  problem.sensor_class = 0;
  const GroupChoice choice = choose(problem);
  EXPECT_EQ(choice.option, std::vector<int>{2});
  EXPECT_EQ(choice.failing(), 0);
  EXPECT_DOUBLE_EQ(choice.cost, 20);
}

TEST(Design, SensorOnAStrongRunStarvesTheOthersSoAWeakerSensorOptionIsTaken) {
  // The cheap option of the sensor's class holds with 30 % duty, at which the other class would be cold.
  GroupProblem problem;
  problem.classes = {{{option(0, 0.28, 0.30, 10), option(0, 0.55, 0.60, 12)}, false},
                     {{option(0, 0.5, 0.5, 40)}, false}};
  problem.sensor_class = 0;
  const GroupChoice choice = choose(problem);
  EXPECT_EQ(choice.option, (std::vector<int>{1, 0}));
  EXPECT_DOUBLE_EQ(choice.duty.usual, 0.6);
  EXPECT_EQ(choice.failing(), 0);
}

TEST(Design, OrTheOtherClassTakesWhatHoldsAtThatDutyIfThatIsCheaper) {
  GroupProblem problem;
  problem.classes = {{{option(0, 0.28, 0.30, 10), option(0, 0.55, 0.60, 100)}, false},
                     {{option(0, 0.5, 0.5, 40), option(0, 0.29, 0.3, 60)}, false}};
  problem.sensor_class = 0;
  const GroupChoice choice = choose(problem);
  EXPECT_EQ(choice.option, (std::vector<int>{0, 1}));
  EXPECT_DOUBLE_EQ(choice.cost, 70);
}

TEST(Design, WorstDayCouplesToo) {
  GroupProblem problem;
  Option cold_shaft = option(0, 0.5, 0.5, 10);
  cold_shaft.needed = {0.5, 0.9};
  problem.classes = {{{option(0, 0.55, 0.6, 1)}, false}, {{cold_shaft, option(0, 0.5, 0.5, 15)}, false}};
  problem.sensor_class = 0;
  EXPECT_EQ(choose(problem).option, (std::vector<int>{0, 1}));
}

TEST(Design, TooHotUnderTheSharedDutyIsRejectedToo) {
  GroupProblem problem;
  Option overheated = option(0, 0.2, 0.25, 1);
  overheated.most = 0.5;
  problem.classes = {{{option(0, 0.55, 0.6, 1)}, false}, {{overheated, option(0, 0.5, 0.5, 15)}, false}};
  problem.sensor_class = 0;
  EXPECT_EQ(choose(problem).option, (std::vector<int>{0, 1}));
}

TEST(Design, AWeakSensorRunIsNoRemedyForColdOnes) {
  // The weak option would lift the group's duty to 1 and warm the other class; it must not be taken for that.
  GroupProblem problem;
  problem.classes = {{{weaker(option(0, 0.95, 1, 1), -0.1), option(0, 0.4, 0.45, 5)}, false},
                     {{option(0, 0.6, 0.65, 1)}, false}};
  problem.sensor_class = 0;
  const GroupChoice choice = choose(problem);
  EXPECT_EQ(choice.option, (std::vector<int>{1, 0}));
  EXPECT_EQ(choice.failing_alone, 0);
  EXPECT_EQ(choice.failing_shared, 1);
}

TEST(Design, EnteredAmbientDrivesTheAverageRun) {
  // Together the classes need 30 W of 100 W: duty 0.3, at which the second option of the second class holds.
  const auto loaded = [](Option item, double lost_w, double full_w) {
    item.open_loop_lost_w = lost_w;
    item.full_w = full_w;
    return item;
  };
  GroupProblem problem;
  problem.follows_ambient = true;
  problem.classes = {
      {{loaded(option(0, 0.25, 0.3, 1), 15, 50)}, false},
      {{loaded(option(0, 0.55, 0.6, 1), 15, 25), loaded(option(0, 0.28, 0.3, 2), 15, 50)}, false}};
  const GroupChoice choice = choose(problem);
  EXPECT_EQ(choice.option, (std::vector<int>{0, 1}));
  EXPECT_DOUBLE_EQ(choice.duty.usual, 0.3);
  EXPECT_EQ(choice.failing(), 0);
}

TEST(Design, OneCableForTheGroup) {
  // Class by class the mixture costs 2; one cable costs 6 or 7.
  GroupProblem problem;
  problem.classes = {{{option(0, 0.4, 0.5, 1), option(1, 0.4, 0.5, 5)}, false},
                     {{option(0, 0.4, 0.5, 6), option(1, 0.4, 0.5, 1)}, false}};
  problem.sensor_class = 0;
  const GroupChoice choice = choose(problem);
  EXPECT_EQ(choice.cable, 1);
  EXPECT_EQ(choice.option, (std::vector<int>{1, 1}));
}

TEST(Design, AMixtureOnlyWhenNoSingleCableHoldsEverywhere) {
  GroupProblem problem;
  problem.classes = {{{option(0, 0.4, 0.5, 1), weaker(option(1, 0.4, 0.5, 1), -0.2)}, false},
                     {{weaker(option(0, 0.4, 0.5, 1), -0.2), option(1, 0.4, 0.5, 1)}, false}};
  problem.sensor_class = 0;
  const GroupChoice choice = choose(problem);
  EXPECT_FALSE(choice.cable.has_value());
  EXPECT_EQ(choice.option, (std::vector<int>{0, 1}));
  EXPECT_EQ(choice.failing(), 0);
}

TEST(Design, ARunWithItsCableFixedDoesNotBindTheGroup) {
  GroupProblem problem;
  problem.classes = {{{option(1, 0.4, 0.5, 9)}, true},
                     {{option(0, 0.4, 0.5, 1), option(1, 0.4, 0.5, 2)}, false}};
  problem.sensor_class = 0;
  const GroupChoice choice = choose(problem);
  EXPECT_EQ(choice.cable, 0);
  EXPECT_EQ(choice.option, (std::vector<int>{0, 0}));
}

TEST(Design, WhenNothingHoldsTheLargestMarginIsTaken) {
  GroupProblem problem;
  problem.classes = {{{weaker(option(0, 0.4, 0.5, 1), -0.4), weaker(option(0, 0.4, 0.5, 9), -0.1)}, false}};
  problem.sensor_class = 0;
  const GroupChoice choice = choose(problem);
  EXPECT_EQ(choice.option, std::vector<int>{1});
  EXPECT_EQ(choice.failing(), 1);
  EXPECT_NEAR(choice.least_margin, -0.1, 1e-12);
}

TEST(Design, EnergyCountsAtTheSharedDuty) {
  // Held heat 20 W at duty 0.4, 30 W at 0.6: at the group's 0.5 it is 25 W, and 2 a watt makes 50.
  Option only = option(0, 0.4, 0.5, 100);
  only.duty = {0.4, 0.6};
  only.held_w = {20, 30};
  GroupProblem problem;
  problem.classes = {{{only}, false}};
  problem.sensor_class = 0;
  problem.cost_per_held_w = 2;
  EXPECT_DOUBLE_EQ(choose(problem).cost, 150);
}

// ---- against every combination
// ------------------------------------------------------------------------------------

GroupProblem random_problem(std::mt19937& random) {
  const auto share = [&random] { return std::uniform_real_distribution<>(0, 1)(random); };
  const auto up_to = [&random](int n) { return std::uniform_int_distribution<>(1, n)(random); };
  GroupProblem problem;
  problem.cost_per_held_w = share();
  for (int c = up_to(4); c > 0; --c) {
    GroupProblem::Class run_class;
    for (int cable = 0; cable < 2; ++cable)
      for (int o = up_to(3); o > 0; --o) {
        const double duty = 0.2 + 0.5 * share();
        Option item = option(cable, duty * (0.85 + 0.1 * share()), duty, 100 * share());
        item.needed.worst *= 0.95 + 0.1 * share();
        item.most = duty * (1.1 + share());
        item.own.strength = share() < 0.15 ? -share() : share();
        item.own.heat = share() < 0.1 ? -share() : share();
        item.duty = {0.5 * duty, duty, 2 * duty};
        item.held_w = {20, 30 + 10 * share(), 60};
        run_class.options.push_back(item);
      }
    problem.classes.push_back(run_class);
  }
  problem.sensor_class =
      std::uniform_int_distribution<>(0, static_cast<int>(problem.classes.size()) - 1)(random);
  return problem;
}

struct Total {
  int alone = 0, shared = 0;
  double least_margin = unbounded, cost = 0;
  int failing() const { return alone + shared; }
};

Total total_of(const GroupProblem& problem, const std::vector<int>& combination) {
  const auto sensor = static_cast<std::size_t>(problem.sensor_class);
  const Duties duties =
      problem.classes[sensor].options[static_cast<std::size_t>(combination[sensor])].as_sensor;
  Total total;
  for (std::size_t c = 0; c < combination.size(); ++c) {
    const Option& item = problem.classes[c].options[static_cast<std::size_t>(combination[c])];
    const bool alone = item.own.strength < -1e-6 || item.own.heat < -1e-6;
    total.alone += alone ? 1 : 0;
    total.shared += !alone && margin(item, &duties) < -1e-6 ? 1 : 0;
    total.least_margin = std::min(total.least_margin, margin(item, &duties));
    total.cost += lifetime_cost(item, &duties, problem.cost_per_held_w);
  }
  return total;
}

bool is_better(const Total& a, const Total& b) {
  if (a.alone != b.alone) return a.alone < b.alone;
  if (a.shared != b.shared) return a.shared < b.shared;
  if (a.failing() > 0 && a.least_margin != b.least_margin) return a.least_margin > b.least_margin;
  return a.cost < b.cost;
}

bool next(const GroupProblem& problem, std::vector<int>& combination) {
  for (std::size_t c = 0; c < combination.size(); ++c) {
    if (++combination[c] < static_cast<int>(problem.classes[c].options.size())) return true;
    combination[c] = 0;
  }
  return false;
}

Total brute_force(const GroupProblem& problem, bool one_cable) {
  std::vector<int> combination(problem.classes.size(), 0);
  Total best{static_cast<int>(problem.classes.size()) + 1, 0};
  do {
    std::set<int> cables;
    for (std::size_t c = 0; c < combination.size(); ++c)
      cables.insert(problem.classes[c].options[static_cast<std::size_t>(combination[c])].cable);
    if (one_cable && cables.size() > 1) continue;
    const Total total = total_of(problem, combination);
    if (is_better(total, best)) best = total;
  } while (next(problem, combination));
  return best;
}

TEST(Design, AgreesWithEveryCombination) {
  std::mt19937 random(7);
  int holding = 0, failing = 0, mixed = 0;
  for (int round = 0; round < 2000; ++round) {
    const GroupProblem problem = random_problem(random);
    const GroupChoice choice = choose(problem);
    Total best = brute_force(problem, true);
    if (best.failing() > 0) {
      const Total mixture = brute_force(problem, false);
      if (std::pair(mixture.alone, mixture.shared) < std::pair(best.alone, best.shared)) best = mixture;
    }
    ASSERT_EQ(choice.failing_alone, best.alone) << "round " << round;
    ASSERT_EQ(choice.failing_shared, best.shared) << "round " << round;
    if (best.failing() == 0) {
      ASSERT_NEAR(choice.cost, best.cost, 1e-9) << "round " << round;
    } else {
      ASSERT_NEAR(choice.least_margin, best.least_margin, 1e-9) << "round " << round;
    }
    const Total chosen = total_of(problem, choice.option);
    ASSERT_NEAR(chosen.cost, choice.cost, 1e-9);
    (best.failing() > 0 ? failing : holding) += 1;
    mixed += choice.cable ? 0 : 1;
  }
  EXPECT_GT(holding, 100);
  EXPECT_GT(failing, 100);
  EXPECT_GT(mixed, 20);
}

}  // namespace
}  // namespace firstdraw::plan
