// What would make the week cheaper, against sums that can be done by hand.
#include "settings/improve.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "physics/pipe_loss.hpp"
#include "plan/options.hpp"
#include "settings/coldest_run.hpp"
#include "settings/sensor_places.hpp"
#include "settings/small_settings_job.hpp"

namespace firstdraw::settings {
namespace {

/// A cable that gives 12 W/m whatever the pipe's temperature: then a group takes duty times 12 W/m.
physics::CableSheet even_cable() {
  physics::CableSheet sheet = plan::invented_sheet("even", 1, 18);
  sheet.output = {{5, 12}, {80, 12}};
  sheet.voltage.clear();
  return sheet;
}

physics::InsulationSize wrapped_m(double thickness_m) {
  return physics::fit_insulation(plan::pipe_named("copper L 1").outer_diameter_m, {0.0137, 0.0061}, 1,
                                 thickness_m, physics::SizeSeries::inch_iron);
}

double loss_by_hand_w_per_m(double thickness_m, double water_c, double air_c) {
  const auto insulation = physics::find_insulation("glass-fibre");
  physics::Surroundings around;
  around.air_c = air_c;
  return physics::loss_w_per_m(
      physics::insulated(plan::pipe_named("copper L 1"), *insulation, wrapped_m(thickness_m)), water_c,
      around);
}

/// 20 m in 21 degC and 10 m in 14 degC.
hold::Building two_runs(double warm_thickness_m, double cold_thickness_m) {
  const auto insulation = physics::find_insulation("glass-fibre");
  const auto run = [&](double thickness_m, double length_m, double air_c) {
    hold::HeldRun made;
    made.group = made.cable = 0;
    made.pipe_length_m = made.loss_length_m = length_m;
    made.air = {air_c, air_c, air_c};
    made.loss = hold::LossCurve(
        physics::insulated(plan::pipe_named("copper L 1"), *insulation, wrapped_m(thickness_m)), {});
    return made;
  };
  hold::Building building;
  building.cables.emplace_back(even_cable());
  building.groups.emplace_back();
  building.groups[0].voltage_v = 208;
  building.groups[0].sensor = 0;
  building.runs = {run(warm_thickness_m, 20, 21), run(cold_thickness_m, 10, 14)};
  return building;
}

/// By hand: the duty is q(cold run)/12, the group takes 12 W/m times its 30 m times the duty.
TEST(Insulation, TwoRunsOfOneDutyByHand) {
  const double before_w = 30 * loss_by_hand_w_per_m(0.0254, 52, 14);
  const HeldByColdest before = hold_by_coldest(two_runs(0.0254, 0.0254), 0, 52);
  EXPECT_EQ(before.coldest, 1);
  EXPECT_NEAR(before.power_w, before_w, 1e-5 * before_w);
  EXPECT_NEAR(before.duty, loss_by_hand_w_per_m(0.0254, 52, 14) / 12, 1e-5);
  EXPECT_NEAR(before.state.runs[1].water_c, 52, 1e-6);
  EXPECT_GT(before.state.runs[0].water_c, 52);
  const double warm_w = hold_by_coldest(two_runs(0.0508, 0.0254), 0, 52).power_w;
  EXPECT_NEAR(warm_w, before_w, 1e-5 * before_w) << "thicker on the warm run saves nothing";
  // Thicker on the cold run: now the warm one is the coldest and sets the duty.
  const double cold_w =
      30 * std::max(loss_by_hand_w_per_m(0.0508, 52, 14), loss_by_hand_w_per_m(0.0254, 52, 21));
  const HeldByColdest after = hold_by_coldest(two_runs(0.0254, 0.0508), 0, 52);
  EXPECT_EQ(after.coldest, 0);
  EXPECT_NEAR(after.power_w, cold_w, 1e-5 * cold_w);
}

/// A warm and a cold stretch of the same pipe in the thinnest insulation, electricity so dear that more pays.
struct Wrapped {
  job::Job job = plan::small_job();
  plan::Plan plan;

  Wrapped() {
    job.groups[0].maintain_c = job.groups[0].setback_c = 50;
    job.groups[0].sensor_run = "R2";
    for (std::size_t r : {1U, 2U}) {
      job.runs[r].pipe = plan::pipe_named("copper L 1");
      job.runs[r].thickness_m = 0.0254;
      job.runs[r].valves = 0;
    }
    job.runs[1].length_m = 20;
    job.runs[2].length_m = 10;
    job.runs = {job.runs[1], job.runs[2], job.runs[4]};
    job.runs[0].from = "mix";
    job.runs[0].to = "b";
    plan = plan::make_plan(job, {.samples = 0});
    for (plan::RunPlan& run : plan.runs) run.voltage_frac = 1;
  }
  std::vector<InsulationChange> changes(double price_per_kwh) const {
    return insulation_changes(job, plan, price_per_kwh, always_on(job));
  }
  /// Power of both runs under the duty that holds the cold run at `cold_c` in this insulation: bisection on
  /// the loss of the pipe and the data sheet.
  double power_w(double warm_thickness_m, double cold_thickness_m, double least_c) const {
    const physics::HeatingCable cable(job.cables.at(static_cast<std::size_t>(plan.runs[0].cable)));
    const double passes = plan.runs[0].passes;
    const auto needed = [&](double thickness_m, double air_c) {
      return loss_by_hand_w_per_m(thickness_m, least_c, air_c) / (passes * cable.power_w_per_m(least_c, 208));
    };
    const double duty = std::max(needed(warm_thickness_m, 21), needed(cold_thickness_m, 14));
    const auto settled_w_per_m = [&](double thickness_m, double air_c) {
      double low_c = air_c, high_c = 75;
      for (int i = 0; i < 60; ++i) {
        const double middle_c = 0.5 * (low_c + high_c);
        const bool warms = duty * passes * cable.power_w_per_m(middle_c, 208) >
                           loss_by_hand_w_per_m(thickness_m, middle_c, air_c);
        (warms ? low_c : high_c) = middle_c;
      }
      return loss_by_hand_w_per_m(thickness_m, low_c, air_c);
    };
    return 20 * settled_w_per_m(warm_thickness_m, 21) + 10 * settled_w_per_m(cold_thickness_m, 14);
  }
};

TEST(Insulation, FirstStepSavesWhatTheBalancesSay) {
  const Wrapped wrapped;
  const auto changes = wrapped.changes(0.6);
  ASSERT_FALSE(changes.empty());
  const InsulationChange& first = changes.front();
  EXPECT_EQ(first.group, "main");
  EXPECT_EQ(first.runs, std::vector<std::string>{"R3"}) << "the run in the void sets the duty";
  EXPECT_EQ(first.pipe_length_m, 10);
  EXPECT_EQ(first.from, "1 in");
  const double thicker_m = first.to == "2 in" ? 0.0508 : 0.0381;
  // Where the cold run lies while the sensor holds the warm one at 50: by the plan, whose balance has tests
  // of its own.
  const double least_c = wrapped.plan.runs[1].at_maintain_c;
  const double saved_w =
      wrapped.power_w(0.0254, 0.0254, least_c) - wrapped.power_w(0.0254, thicker_m, least_c);
  EXPECT_NEAR(first.saving_per_year, saved_w * 8.76 * 0.6, 0.01 * first.saving_per_year);
  const auto section_m2 = [](double thickness_m) {
    const physics::InsulationSize size = wrapped_m(thickness_m);
    return std::numbers::pi / 4 * (std::pow(size.outer_diameter_m, 2) - std::pow(size.bore_m, 2));
  };
  const double cost = 1500 * 10 * (section_m2(thicker_m) - section_m2(0.0254));
  EXPECT_NEAR(first.first_cost, cost, 1e-6 * cost) << "the fixed price per metre is paid either way";
  // 20 years at 4 %: 13.590 (any table of annuities).
  EXPECT_NEAR(first.worth, 13.590 * first.saving_per_year - first.first_cost, 1e-3 * first.saving_per_year);
  EXPECT_NEAR(first.pays_back_years, cost / first.saving_per_year, 1e-6);
}

TEST(Insulation, NothingPaysWhenElectricityIsNearlyFree) { EXPECT_TRUE(Wrapped().changes(0.001).empty()); }

TEST(Insulation, EveryStepPaysWithinTheLife) {
  const Wrapped wrapped;
  for (const InsulationChange& change : wrapped.changes(1.5)) {
    EXPECT_GT(change.worth, 0);
    EXPECT_LT(change.pays_back_years, wrapped.job.economics.life_years);
    EXPECT_NE(change.from, change.to);
  }
}

TEST(MeanSetting, WeighsSetPointsByTheHoursTheyHold) {
  GroupTimetable group{"main", {{0x7f, 0, std::nullopt}, {0x7f, 6 * 3600, 60}, {0x7f, 12 * 3600, 54}}};
  const MeanSetting mean = mean_setting(group);
  EXPECT_NEAR(mean.set_c, 56, 1e-12) << "6 h at 60 and 12 h at 54";
  EXPECT_NEAR(mean.on_frac, 0.75, 1e-12);
}

TEST(SetPoints, FirstThatHoldsWhenPipesStandIsKept) {
  SetPointSearch search(55, 70, 1);
  EXPECT_EQ(search.next_c(), 55);
  search.tried(true, 0);
  EXPECT_FALSE(search.next_c());
}

TEST(SetPoints, BracketedAndHalvedOnTheControllersSteps) {
  const double least_c = 61;  // what would be enough
  SetPointSearch search(55, 70, 1);
  double kept_c = 0;
  int tried = 0;
  while (search.next_c()) {
    const double set_c = *search.next_c();
    EXPECT_EQ(set_c, std::round(set_c));
    const bool keeps = set_c >= least_c;
    if (keeps) kept_c = set_c;
    search.tried(keeps, 9);
    ASSERT_LT(++tried, 10);
  }
  EXPECT_EQ(kept_c, least_c);
  EXPECT_LE(tried, 6);
}

TEST(SetPoints, EndsAtWhatCanBeSet) {
  SetPointSearch search(55, 58, 1);
  int tried = 0;
  double last_c = 0;
  for (; search.next_c(); ++tried) {
    last_c = *search.next_c();
    search.tried(false, 2);
  }
  EXPECT_EQ(last_c, 58);
  EXPECT_EQ(tried, 3) << "55, 57, 58";
}

TEST(Sensors, EveryPlaceIsLivedThroughAndTheCheapestThatKeepsIsBest) {
  SmallCase small;
  const Timetable timetable = always_on(small.job);
  const auto choices = sensor_choices(small.job, small.plan, flat_inputs(0.2), timetable, small.options);
  ASSERT_GE(choices.size(), 2U);
  EXPECT_EQ(std::ranges::count(choices, true, &SensorChoice::present), 1);
  ASSERT_EQ(std::ranges::count(choices, true, &SensorChoice::best), 1);
  const SensorChoice& best = *std::ranges::find(choices, true, &SensorChoice::best);
  EXPECT_TRUE(best.keeps);
  for (const SensorChoice& choice : choices) {
    EXPECT_EQ(choice.set_point_c, std::round(choice.set_point_c)) << "the controller's steps of 1 K";
    EXPECT_TRUE(!choice.keeps || choice.cost_per_year >= best.cost_per_year);
    // Lived through again, it must be what was said.
    job::Job moved = small.job;
    moved.groups[0].sensor_run = choice.run;
    moved.groups[0].maintain_c = choice.set_point_c;
    ProofOptions options = small.options;
    options.members = 1;
    options.record_every_s = 0;  // a record makes all runs come to one time: other rounding
    const Proof proof = prove_own_week(moved, small.plan, options);
    EXPECT_NEAR(choice.cost_per_year, proof.groups[0].kwh_per_week * 365 / 7 * 0.2, 1e-6);
    double lowest_c = 100;
    for (const RunProof& run : proof.runs) lowest_c = std::min(lowest_c, run.lowest_c);
    EXPECT_EQ(choice.coldest_c, lowest_c);
  }
}

TEST(Sensors, AnyNumberOfThreadsChoosesTheSame) {
  SmallCase small;
  const Timetable timetable = always_on(small.job);
  small.options.threads = 1;
  const auto once = sensor_choices(small.job, small.plan, flat_inputs(0.2), timetable, small.options);
  small.options.threads = 3;
  const auto again = sensor_choices(small.job, small.plan, flat_inputs(0.2), timetable, small.options);
  ASSERT_EQ(once.size(), again.size());
  for (std::size_t i = 0; i < once.size(); ++i) {
    EXPECT_EQ(once[i].set_point_c, again[i].set_point_c);
    EXPECT_EQ(once[i].cost_per_year, again[i].cost_per_year);
  }
}

}  // namespace
}  // namespace firstdraw::settings
