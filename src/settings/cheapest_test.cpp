// The cheapest week of invented groups: against every timetable that a small controller can be given, each
// lived through run by run; and what must hold of any optimum. All numbers invented.
#include "settings/cheapest.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "settings/cheapest_scenes.hpp"

namespace firstdraw::settings {
namespace {

using Clock = job::ControllerLimits::Clock;

constexpr double tolerance_k = 0.06;  // the search calls 0.05 K no miss

/// The timetable lived through anew: every need of every run, as the contract has it.
bool keeps_needs(const InventedWeek& week, const std::vector<Lived>& lived) {
  for (std::size_t g = 0; g < week.models.size(); ++g)
    for (std::size_t i = 0; i < week.needs[g].comfort_c.size(); ++i) {
      const double asked_c = std::max(week.needs[g].comfort_c[i], week.needs[g].always_c);
      if (lived[g].weak_lowest_c[i] < asked_c - tolerance_k) return false;
    }
  return true;
}

std::vector<Lived> live(const InventedWeek& week, const Timetable& timetable) {
  std::vector<Lived> lived;
  for (std::size_t g = 0; g < week.models.size(); ++g) {
    std::vector<double> set_c = by_step(timetable.groups[g], week.options.step_s);
    for (double& c : set_c) c -= week.models[g].sensor_offset_k;
    lived.push_back(live_lumped(week.models[g], set_c, week.options.step_s));
  }
  return lived;
}

double cost(const InventedWeek& week, const std::vector<Lived>& lived) {
  std::vector<double> power_w(week.steps(), 0.0);
  for (const Lived& group : lived)
    for (std::size_t k = 0; k < power_w.size(); ++k) power_w[k] += group.power_w[k];
  return week::cost_of(week.season.prices, power_w, week.options.step_s).total();
}

/// A group of two unlike runs, the sensor on the slower one.
InventedWeek two_runs(double step_s = 3600) {
  InventedWeek week(step_s);
  week.add({{.loss_w_per_k = 5, .capacity_j_per_k = 300e3, .output_at_40_w = 500},
            {.loss_w_per_k = 3, .capacity_j_per_k = 100e3, .output_at_40_w = 300, .weak_loss_factor = 1.1}});
  return week;
}

/// As `week` with one program of the day's set-points, in equal parts of the day.
double best_of_all(const InventedWeek& week, const std::vector<double>& set_points_c, std::size_t parts) {
  double best = std::numeric_limits<double>::infinity();
  std::vector<std::size_t> choice(parts, 0);
  for (bool more = true; more;) {
    std::vector<double> day(week.steps_a_day());
    for (std::size_t k = 0; k < day.size(); ++k) day[k] = set_points_c[choice[k * parts / day.size()]];
    std::vector<double> set_c(week.steps());
    for (std::size_t k = 0; k < set_c.size(); ++k) set_c[k] = day[k % day.size()];
    const std::vector<Lived> lived = {live_lumped(week.models[0], set_c, week.options.step_s)};
    if (keeps_needs(week, lived)) best = std::min(best, cost(week, lived));
    std::size_t place = 0;
    while (place < parts && ++choice[place] == set_points_c.size()) choice[place++] = 0;
    more = place < parts;
  }
  return best;
}

TEST(CheapestWeek, LiesWithinItsGapOfEveryTimetableThereIs) {
  for (const double comfort_c : {48.0, 53.0}) {
    InventedWeek week = two_runs();
    week.job.controller.clock_step_s = 6 * 3600;
    week.job.controller.periods_a_day = 6;
    week.job.controller.least_setback_k = 0;
    week.options.grid_k = 0.1;
    week.needs[0].always_c = 40;
    week.comfort(6, 12, comfort_c);
    week.price(18, 24, 0.6);
    const CheapestWeek found = week.cheapest();
    ASSERT_TRUE(found.plan.possible) << found.plan.impossible;
    ASSERT_TRUE(found.settled) << found.missed_run << " " << found.missed_k;
    std::vector<double> menu = found.task.groups[0].automaton.set_points_c;
    const double best = best_of_all(week, menu, 4);
    const double ours = cost(week, live(week, found.timetable));
    EXPECT_TRUE(keeps_needs(week, live(week, found.timetable)));
    EXPECT_LE(found.bound, found.plan.cost.total() * (1 + 1e-9));
    EXPECT_GE(ours, best * (1 - 1e-9));
    EXPECT_LE(ours - best, found.plan.cost.total() - found.bound + 0.01 * best);
  }
}

TEST(CheapestWeek, LivedTimetableKeepsWhatRunsAsk) {
  for (const double weak : {1.0, 1.15, 1.3}) {
    InventedWeek week = two_runs(1800);
    week.models[0].runs[1].weak_loss_factor = weak;
    week.needs[0].always_c = 42;
    week.comfort(6, 9, 52);
    week.comfort(17, 22, 50);
    const CheapestWeek found = week.cheapest();
    ASSERT_TRUE(found.plan.possible) << found.plan.impossible;
    EXPECT_TRUE(found.settled) << found.missed_run << " " << found.missed_k;
    EXPECT_TRUE(keeps_needs(week, live(week, found.timetable)));
  }
}

TEST(CheapestWeek, IsConstantWhereNothingVaries) {
  InventedWeek week = two_runs();
  week.needs[0].always_c = 50;
  const CheapestWeek found = week.cheapest();
  ASSERT_TRUE(found.plan.possible) << found.plan.impossible;
  EXPECT_TRUE(found.timetable.groups[0].constant());
  EXPECT_EQ(found.rounds, 0);
  // By hand: the second run in its bad luck at 50 degC takes 1.1 x 3 x 30 W of its 270 W; the same share of
  // the sensor run's 500 - 3 (T - 40) W holds it at T: 5 (T - 20) = 99/270 (620 - 3 T).
  const double by_hand_c = (99.0 / 270 * 620 + 100) / (5 + 3 * 99.0 / 270);
  EXPECT_EQ(found.timetable.groups[0].entries[0].hold_c, std::ceil(by_hand_c));
}

TEST(CheapestWeek, ReadingsAreMultiplesOfTheControllersStep) {
  InventedWeek week = two_runs();
  week.job.units = units::System::us;
  week.job.controller.step_k = 1 / 1.8;
  week.models[0].sensor_offset_k = -0.73;
  week.needs[0].always_c = 42;
  week.comfort(6, 9, 52);
  const CheapestWeek found = week.cheapest();
  ASSERT_TRUE(found.plan.possible) << found.plan.impossible;
  for (const Entry& entry : found.timetable.groups[0].entries) {
    if (!entry.hold_c) continue;
    const double fahrenheit = *entry.hold_c * 1.8 + 32;
    EXPECT_NEAR(fahrenheit, std::round(fahrenheit), 1e-6);
  }
  EXPECT_TRUE(keeps_needs(week, live(week, found.timetable)));
}

TEST(CheapestWeek, HeatsBeforeTheComfortHour) {
  InventedWeek week = two_runs(1800);
  week.comfort(6, 8, 52);
  const CheapestWeek found = week.cheapest();
  ASSERT_TRUE(found.plan.possible) << found.plan.impossible;
  const std::vector<double> set_c = by_step(found.timetable.groups[0], 1800);
  EXPECT_GE(set_c[11], 50);  // half past five: already heating
  EXPECT_LT(set_c[20], 40);  // ten: off or low
  EXPECT_GT(found.lived[0].power_w[11], 0);
  EXPECT_TRUE(keeps_needs(week, found.lived));
}

TEST(CheapestWeek, MovesLoadOutOfADearHour) {
  const auto energy_j = [](const CheapestWeek& found) {
    double sum = 0;
    for (std::size_t k = 16; k < 20; ++k) sum += found.lived[0].power_w[k];
    return sum;
  };
  InventedWeek week = two_runs(1800);
  week.needs[0].always_c = 45;
  const double even = energy_j(week.cheapest());
  week.price(8, 10, 2);
  EXPECT_LT(energy_j(week.cheapest()), 0.6 * even);
}

TEST(CheapestWeek, ADemandPriceLowersThePeak) {
  const auto peak_w = [](const CheapestWeek& found) {
    double peak = 0;
    for (std::size_t k = 0; k < found.lived[0].power_w.size(); ++k)
      peak = std::max(peak, found.lived[0].power_w[k] + found.lived[1].power_w[k]);
    return peak;
  };
  InventedWeek week = two_runs();
  week.add({{.loss_w_per_k = 4, .capacity_j_per_k = 250e3, .output_at_40_w = 450}});
  for (GroupNeeds& needs : week.needs) needs.always_c = 40;
  week.comfort(6, 9, 50);
  const double without_w = peak_w(week.cheapest());
  week.demand_price(30);
  const CheapestWeek found = week.cheapest();
  ASSERT_TRUE(found.plan.possible);
  EXPECT_LT(peak_w(found), 0.95 * without_w);
  EXPECT_TRUE(keeps_needs(week, live(week, found.timetable)));
  EXPECT_LE(found.bound, found.plan.cost.total());
}

TEST(CheapestWeek, UsesNoMoreSetPointsThanTheControllerTakes) {
  for (const int most : {1, 2, 3}) {
    InventedWeek week = two_runs(1800);
    week.job.controller.off = false;
    week.job.controller.set_points = most;
    week.needs[0].always_c = 38;
    week.comfort(5, 7, 46);
    week.comfort(11, 13, 50);
    week.comfort(18, 21, 55);
    week.job.controller.periods_a_day = 8;
    const CheapestWeek found = week.cheapest();
    ASSERT_TRUE(found.plan.possible) << found.plan.impossible;
    std::vector<double> set_c = by_step(found.timetable.groups[0], 1800);
    std::ranges::sort(set_c);
    set_c.erase(std::ranges::unique(set_c).begin(), set_c.end());
    EXPECT_LE(static_cast<int>(set_c.size()), most);
    EXPECT_TRUE(keeps_needs(week, live(week, found.timetable)));
  }
}

TEST(CheapestWeek, KeepsToTheClockThatThereIs) {
  InventedWeek week = two_runs(1800);
  week.comfort(6, 9, 50);
  week.job.controller.clock = Clock::on_off;
  const CheapestWeek on_off = week.cheapest();
  ASSERT_TRUE(on_off.plan.possible) << on_off.plan.impossible;
  EXPECT_EQ(lowest_c(on_off.timetable.groups[0]), week::cable_off_c);
  std::optional<double> only;
  for (const Entry& entry : on_off.timetable.groups[0].entries) {
    if (only && entry.hold_c) {
      EXPECT_EQ(*only, *entry.hold_c);
    }
    if (entry.hold_c) only = entry.hold_c;
  }
  EXPECT_TRUE(keeps_needs(week, live(week, on_off.timetable)));
  week.job.controller.clock = Clock::none;
  const CheapestWeek none = week.cheapest();
  ASSERT_TRUE(none.plan.possible) << none.plan.impossible;
  EXPECT_TRUE(none.timetable.groups[0].constant());
  EXPECT_GT(none.plan.cost.total(), on_off.plan.cost.total());
}

TEST(CheapestWeek, KeepsTheLongestStayInTheBandAndTheHotHold) {
  InventedWeek week = two_runs(1800);
  week.comfort(6, 8, 50);
  week.needs[0].below_c = 45;
  week.needs[0].most_below_s = 8 * 3600;
  week.needs[0].hot_hold = week::HotHold{60, 2};
  const CheapestWeek found = week.cheapest();
  ASSERT_TRUE(found.plan.possible) << found.plan.impossible;
  ASSERT_TRUE(found.settled) << found.missed_run << " " << found.missed_k;
  const std::vector<Lived> lived = live(week, found.timetable);
  for (std::size_t run = 0; run < 2; ++run) {
    int below = 0, hot = 0, longest_below = 0, longest_hot = 0;
    for (std::size_t k = 0; k < 2 * week.steps(); ++k) {
      const double c = lived[0].weak_c(run, k % week.steps());
      below = c < 45 - tolerance_k ? below + 1 : 0;
      hot = c >= 60 - tolerance_k ? hot + 1 : 0;
      longest_below = std::max(longest_below, below);
      longest_hot = std::max(longest_hot, hot);
    }
    EXPECT_LE(longest_below, 16);
    EXPECT_GE(longest_hot, 2);
  }
}

TEST(CheapestWeek, SaysWhatCannotBeKept) {
  InventedWeek week = two_runs();
  week.needs[0].always_c = 75;
  const CheapestWeek found = week.cheapest();
  EXPECT_FALSE(found.plan.possible);
  EXPECT_NE(found.plan.impossible.find("group 1: every run must be at 75 °C at all times"), std::string::npos)
      << found.plan.impossible;
  EXPECT_NE(found.plan.impossible.find("(controller)"), std::string::npos);
}

TEST(CheapestWeek, WithoutAThermostatNeedsAreKeptByTheDuty) {
  InventedWeek week = two_runs();
  week.models[0].open_loop = true;
  week.models[0].ambient_loss_w = week.models[0].runs[0].loss_w;
  week.needs[0].always_c = 42;
  week.comfort(6, 12, 48);
  const CheapestWeek found = week.cheapest();
  ASSERT_TRUE(found.plan.possible) << found.plan.impossible;
  EXPECT_TRUE(found.settled) << found.missed_run << " " << found.missed_k;
  EXPECT_TRUE(keeps_needs(week, live(week, found.timetable)));
}

TEST(CheapestWeek, EasingNeverCostsMore) {
  const auto cost_at = [](double comfort_c, int periods, bool off) {
    InventedWeek week = two_runs();
    week.options.rounds = 0;
    week.job.controller.periods_a_day = periods;
    week.job.controller.off = off;
    week.needs[0].always_c = 40;
    week.comfort(6, 9, comfort_c);
    week.comfort(16, 20, comfort_c);
    week.price(6, 10, 0.5);
    return week.cheapest().plan.cost.total();
  };
  EXPECT_LE(cost_at(50, 4, true), cost_at(50, 2, true) * (1 + 1e-9));
  EXPECT_LE(cost_at(50, 2, true), cost_at(50, 1, true) * (1 + 1e-9));
  EXPECT_LE(cost_at(50, 2, true), cost_at(50, 2, false) * (1 + 1e-9));
  EXPECT_LT(cost_at(46, 4, true), cost_at(54, 4, true));
}

}  // namespace
}  // namespace firstdraw::settings
