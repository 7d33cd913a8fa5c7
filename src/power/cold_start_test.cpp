#include "power/cold_start.hpp"
#include "places.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

#include "job/folder.hpp"

namespace firstdraw::power {
namespace {

constexpr double kept = std::numeric_limits<double>::infinity();

const ColdStartModel usual{{10, 840, 0.02, 1.5}, 75};
const StartPipe pipe{2500, 0.25, 10, 1};  // a 1 in copper pipe of water behind 1 in of insulation, about
const StartConditions cold{208, 5};

physics::CableSheet example_sheet(const std::string& cable) {
  return *job::read_cable_sheet(places::sources() + "/examples/clinic/catalog/" + cable + ".toml");
}

double any_between(std::mt19937& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}

ColdStartModel any_model(std::mt19937& random) {
  return {{10, any_between(random, 200, 3000), any_between(random, 0, 0.05), any_between(random, 0.2, 3)},
          any_between(random, 20, 400)};
}

TEST(ColdStart, BeginsAtTheCoresOwnResistance) {
  const ColdStart start(usual, pipe, cold, 3600);
  EXPECT_NEAR(start.current_a_per_m(0), 208 / (840 * std::exp(0.02 * (5 - 10))), 1e-12);
  EXPECT_EQ(start.peak_a_per_m(), start.current_a_per_m(0));
  EXPECT_EQ(start.current_a_per_m(-1), start.current_a_per_m(0));
  EXPECT_EQ(start.current_a_per_m(1e9), start.current_a_per_m(3600));
}

TEST(ColdStart, FallsAllTheTimeOnAKeptPipe) {
  const ColdStart start(usual, {kept, 0, 5, 1}, cold, 600);
  double before_a = start.current_a_per_m(0);
  for (double time_s = 1; time_s <= 600; ++time_s) {
    EXPECT_LE(start.current_a_per_m(time_s), before_a * (1 + 1e-12)) << time_s;
    EXPECT_EQ(start.pipe_c(time_s), 5);
    before_a = start.current_a_per_m(time_s);
  }
}

// What goes in over the whole start is what is stored and lost: integrals by the trapezium, 0.1 s.
TEST(ColdStart, EnergyCloses) {
  const StartPipe three{1800, 0.3, 12, 3};
  const ColdStart start(usual, three, cold, 7200);
  double electric_j = 0, lost_j = 0;
  constexpr double step_s = 0.1;
  for (int i = 0; i < 72000; ++i) {
    for (const double time_s : {i * step_s, (i + 1) * step_s}) {
      electric_j += 0.5 * step_s * 208 * start.current_a_per_m(time_s) * three.passes;
      lost_j += 0.5 * step_s * three.loss_w_per_m_k * (start.pipe_c(time_s) - three.air_c);
    }
  }
  const double stored_j = three.passes * 75 * (start.core_c(7200) - 5) + 1800 * (start.pipe_c(7200) - 5);
  EXPECT_NEAR(electric_j, stored_j + lost_j, 1e-6 * electric_j);
}

TEST(ColdStart, AWarmerStartNeverDrawsMoreAtFirst) {
  std::mt19937 random(3);
  for (int round = 0; round < 200; ++round) {
    const ColdStartModel model = any_model(random);
    const double start_c = any_between(random, -30, 50), warmer_c = start_c + any_between(random, 0, 30);
    const StartPipe any{any_between(random, 300, 20000), any_between(random, 0, 1), 10, 1};
    const double a = ColdStart(model, any, {230, start_c}, 10).current_a_per_m(0);
    const double b = ColdStart(model, any, {230, warmer_c}, 10).current_a_per_m(0);
    EXPECT_LE(b, a);
  }
}

// Two systems with the same law where one starts warmer never cross: the current stays lower all along.
TEST(ColdStart, AWarmerStartNeverDrawsMoreLater) {
  std::mt19937 random(4);
  for (int round = 0; round < 50; ++round) {
    const ColdStartModel model = any_model(random);
    const StartPipe any{any_between(random, 300, 20000), any_between(random, 0, 1), 10, 1};
    const ColdStart a(model, any, {230, 0}, 3600), b(model, any, {230, 15}, 3600);
    for (const double time_s : {1.0, 10.0, 60.0, 300.0, 3600.0})
      EXPECT_LE(b.current_a_per_m(time_s), a.current_a_per_m(time_s) * (1 + 1e-9));
  }
}

TEST(ColdStart, HigherVoltageNeverDrawsLessAtFirst) {
  EXPECT_GT(ColdStart(usual, pipe, {240, 5}, 10).peak_a_per_m(),
            ColdStart(usual, pipe, cold, 10).peak_a_per_m());
}

TEST(ColdStart, InrushIsOverLongBeforeThePipeIsWarm) {
  const ColdStart start(usual, pipe, cold, 200000);
  const double inrush_s = start.inrush_over_s(0.05), settled_s = start.settled_s(0.05);
  EXPECT_GT(inrush_s, 30);
  EXPECT_LT(inrush_s, 600);
  EXPECT_GT(settled_s, 3600);
  EXPECT_NEAR(start.current_a_per_m(settled_s) / start.final_a_per_m(), 1.05, 1e-6);
  EXPECT_TRUE(std::isnan(ColdStart(usual, pipe, cold, 600).settled_s(0.05)));
}

TEST(ColdStart, WithoutLossThereIsNoEnd) {
  const ColdStart start(usual, {2500, 0, 10, 1}, cold, 600);
  EXPECT_TRUE(std::isnan(start.final_a_per_m()));
  EXPECT_TRUE(std::isnan(start.settled_s(0.05)));
}

TEST(ColdStart, TheSameTwiceBitForBit) {
  const ColdStart a(usual, pipe, cold, 3600), b(usual, pipe, cold, 3600);
  for (double time_s = 0; time_s < 3600; time_s += 7)
    EXPECT_EQ(a.current_a_per_m(time_s), b.current_a_per_m(time_s));
}

TEST(ColdStart, RefusesNonsense) {
  EXPECT_THROW(ColdStart(usual, {0, 0.2, 10, 1}, cold, 60), std::logic_error);
  EXPECT_THROW(ColdStart(usual, {900, -1, 10, 1}, cold, 60), std::logic_error);
  EXPECT_THROW(ColdStart(usual, {900, 0.2, 10, 0}, cold, 60), std::logic_error);
  EXPECT_THROW(ColdStart(usual, {900, 0.2, NAN, 1}, cold, 60), std::logic_error);
  EXPECT_THROW(ColdStart(usual, pipe, {0, 5}, 60), std::logic_error);
  EXPECT_THROW(ColdStart(usual, pipe, cold, 0), std::logic_error);
}

TEST(CircuitStart, IsTheSumOfItsParts) {
  const StartPipe thick{9000, 0.4, 10, 2};
  const CircuitPart parts[] = {{pipe, 40}, {thick, 25}};
  const CircuitStart circuit(usual, parts, cold, 3600);
  const ColdStart a(usual, pipe, cold, 3600), b(usual, thick, cold, 3600);
  for (const double time_s : {0.0, 12.3, 300.0, 3600.0})
    EXPECT_NEAR(circuit.current_a(time_s), 40 * a.current_a_per_m(time_s) + 25 * b.current_a_per_m(time_s),
                1e-12);
  EXPECT_NEAR(circuit.peak_a(), 65 * a.peak_a_per_m(), 1e-12);
  EXPECT_EQ(circuit.after_300_s_a(), circuit.current_a(300));
  EXPECT_EQ(circuit.inrush_over_s(0.05), std::max(a.inrush_over_s(0.05), b.inrush_over_s(0.05)));
}

TEST(CircuitStart, NothingInAPieceIsAboveItsLargest) {
  const CircuitPart parts[] = {{pipe, 40}};
  const CircuitStart circuit(usual, parts, cold, 601);
  const auto largest_a = circuit.largest_in_pieces_a(5);
  ASSERT_EQ(largest_a.size(), 121u);
  for (double time_s = 0; time_s < 601; time_s += 0.37)
    EXPECT_LE(circuit.current_a(time_s), largest_a[static_cast<std::size_t>(time_s / 5)] * (1 + 1e-12));
  EXPECT_EQ(largest_a.front(), circuit.peak_a());
}

// Invented sheets whose settled currents are the steady ones: the core's heat is only bounded.
TEST(ColdStartFit, OfTheExampleSheets) {
  for (const auto* cable : {"lt-8", "lt-12", "lt-18"}) {
    const physics::CableSheet sheet = example_sheet(cable);
    const auto fit = fit_cold_start(sheet);
    ASSERT_TRUE(fit) << cable;
    EXPECT_FALSE(fit->capacity_determined) << cable;
    EXPECT_FALSE(fit->contradicted(sheet)) << cable << " " << fit->worst_frac();
    const StartPipe at_start{kept, 0, sheet.cold_start.front().start_c, 1};
    const ColdStart start(fit->model, at_start, {sheet.rated_voltage_v, at_start.air_c}, 300);
    EXPECT_LE(start.current_a_per_m(300), (1 + settled_alike_frac) * start.final_a_per_m() * (1 + 1e-9));
  }
}

TEST(ColdStartFit, SaysWhenTheSheetContradictsTheModel) {
  physics::CableSheet sheet = example_sheet("lt-12");
  for (auto& point : sheet.cold_start) point.settled_a_per_m *= 0.5;  // half of what the outputs say
  const auto fit = fit_cold_start(sheet);
  ASSERT_TRUE(fit);
  EXPECT_TRUE(fit->contradicted(sheet));
  EXPECT_FALSE(fit->capacity_determined);
  EXPECT_GT(fit->settled.frac(), sheet.output_tolerance_frac);
}

TEST(ColdStartFit, NeedsOutputsAndAStartCurrent) {
  physics::CableSheet sheet = example_sheet("lt-12");
  sheet.cold_start.clear();
  EXPECT_FALSE(fit_cold_start(sheet));
  sheet = example_sheet("lt-12");
  sheet.output.resize(1);
  EXPECT_FALSE(fit_cold_start(sheet));
}

}  // namespace
}  // namespace firstdraw::power
