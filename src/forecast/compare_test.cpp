// The pumped return line and the comparison, on a small plan and on tallies written down by hand.
#include "forecast/compare.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "plan/small_job.hpp"

namespace firstdraw::forecast {
namespace {

constexpr double water_j_per_m3_k = 4.13e6, joule_per_kwh = 3.6e6, hours_per_year = 8760;

plan::Plan plan_of(const job::Job& job) { return plan::make_plan(job, {.samples = 20}); }

double heated_m(const job::Job& job, const plan::Plan& plan, physics::Orientation orientation) {
  double length_m = 0;
  for (std::size_t i = 0; i < job.runs.size(); ++i)
    if (plan.runs[i].cable != piping::none && job.runs[i].orientation == orientation)
      length_m += job.runs[i].length_m;
  return length_m;
}

// Hamburg, Mikola, Parts, Kalamees, Energies 14:6446 (2021): 10.8 W/m in basements, 5.1 W/m in shafts, 40 mm
// of insulation (read in the abstract).
TEST(ReturnLine, LosesThePublishedWattsPerMetre) {
  job::Job job = plan::small_job();
  job.runs[1].orientation = physics::Orientation::vertical;
  const plan::Plan plan = plan_of(job);
  const ReturnLine line = return_line(job, plan, water_j_per_m3_k);
  const double vertical_m = heated_m(job, plan, physics::Orientation::vertical);
  const double horizontal_m = heated_m(job, plan, physics::Orientation::horizontal);
  EXPECT_EQ(vertical_m, 20);
  EXPECT_DOUBLE_EQ(line.pipe_m, vertical_m + horizontal_m);
  EXPECT_NEAR(line.return_loss_w, 5.1 * vertical_m + 10.8 * horizontal_m, 1e-9);
}

TEST(ReturnLine, CarriesItsLossWithTheDropAllowed) {
  const job::Job job = plan::small_job();
  const ReturnLine line = return_line(job, plan_of(job), water_j_per_m3_k);
  // DVGW W 551: 5 K from the heater and back (read in quotations).
  EXPECT_NEAR(line.flow_m3_per_s * water_j_per_m3_k * 5, line.supply_loss_w + line.return_loss_w, 1e-9);
  // 0.1 l/s at 29 891 Pa and 0.30 is 9.96 W, 87.3 kWh a year.
  const double pump_w = line.pump_w / line.flow_m3_per_s * 1e-4;
  EXPECT_NEAR(pump_w, 9.96, 0.005);
  EXPECT_NEAR(pump_w * hours_per_year / 1000, 87.3, 0.05);
}

TEST(ReturnLine, SupplyLosesMoreWhenHotterThanHeld) {
  job::Job job = plan::small_job();
  const plan::Plan plan = plan_of(job);
  double held_w = 0;
  for (std::size_t i = 0; i < job.runs.size(); ++i)
    if (plan.runs[i].cable != piping::none) held_w += plan.runs[i].loss_w_per_m * plan.runs[i].loss_length_m;
  job.supply.delivered_c = job.groups[0].maintain_c;
  EXPECT_NEAR(return_line(job, plan, water_j_per_m3_k).supply_loss_w, held_w, 1e-9);
  job.supply.delivered_c += 10;
  EXPECT_GT(return_line(job, plan, water_j_per_m3_k).supply_loss_w, 1.2 * held_w);
}

/// A day with so much heat from cable and heater.
Tally day_with(double cable_kwh, double heater_kwh) {
  draw::Result result;
  result.end_s = draw::day_s;
  result.balance.cable_j = cable_kwh * joule_per_kwh;
  result.heater_j = heater_kwh * joule_per_kwh;
  Tally tally;
  tally.add(result);
  return tally;
}

const Alternative& way(const std::vector<Alternative>& ways, std::string_view id) {
  return *std::ranges::find(ways, id, &Alternative::id);
}

TEST(Alternatives, CostWhatTheirEnergyCosts) {
  const job::Job job = plan::small_job();  // 0.15 USD per kWh
  ReturnLine line;
  line.supply_loss_w = 600;
  line.return_loss_w = 400;
  line.pump_w = 50;
  const Tally traced = day_with(10, 40), untraced = day_with(0, 42);
  const std::vector<Alternative> ways = alternatives(job, line, traced, &untraced);
  ASSERT_EQ(ways.size(), 3U);
  EXPECT_DOUBLE_EQ(way(ways, "traced").cost_per_year, 50 * 365 * 0.15);
  EXPECT_DOUBLE_EQ(way(ways, "untraced").cost_per_year, 42 * 365 * 0.15);
  EXPECT_DOUBLE_EQ(way(ways, "return").heater_kwh_per_day, 40 + 24);
  EXPECT_DOUBLE_EQ(way(ways, "return").pump_kwh_per_day, 1.2);
  EXPECT_DOUBLE_EQ(way(ways, "return").cost_per_year, 65.2 * 365 * 0.15);
  EXPECT_TRUE(std::isnan(way(ways, "return").hot_in_10_s_frac)) << "it is not simulated";
}

TEST(Alternatives, LeaveOutWhatWasNotSimulated) {
  const std::vector<Alternative> ways = alternatives(plan::small_job(), {}, day_with(1, 1), nullptr);
  ASSERT_EQ(ways.size(), 2U);
  EXPECT_EQ(ways[1].id, "return");
}

TEST(ComparisonAssumptions, SayThatThereIsOnePriceAndHowLongTheReturnIs) {
  const job::Job job = plan::small_job();
  const auto assumptions = comparison_assumptions(job, return_line(job, plan_of(job), water_j_per_m3_k));
  for (const char* field : {"compare.price", "compare.return_length", "compare.return_loss", "compare.pump"})
    EXPECT_EQ(std::ranges::count(assumptions, field, &job::Assumption::field), 1) << field;
}

}  // namespace
}  // namespace firstdraw::forecast
