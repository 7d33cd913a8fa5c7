#include "hold/hold.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <limits>
#include <numeric>

#include "hold/balance.hpp"
#include "hold/invented_building.hpp"
#include "hold/strata.hpp"

namespace firstdraw::hold {
namespace {

/// Two runs in one group, the first with the sensor; run 1 has twice the loss length.
Building two_runs() {
  Building building = invented_building(2);
  building.runs[1].loss = building.runs[0].loss;
  building.runs[1].derating_frac = building.runs[0].derating_frac = 1;
  building.runs[1].loss_length_m = 1.5 * building.runs[1].pipe_length_m;
  building.runs[0].loss_length_m = building.runs[0].pipe_length_m;
  return building;
}

TEST(Solve, SensorRunSitsAtItsSetPoint) {
  const Building building = two_runs();
  const State maintain = solve(building, Mode::sensor_at_maintain, {});
  EXPECT_NEAR(maintain.runs[0].water_c, 46, 1e-8);
  EXPECT_FALSE(maintain.groups[0].saturated);
  EXPECT_GT(maintain.groups[0].duty, 0);
  EXPECT_NEAR(solve(building, Mode::sensor_at_setback, {}).runs[0].water_c, 40, 1e-8);
}

TEST(Solve, ReadingHighLeavesTheWaterColder) {
  Building building = two_runs();
  building.groups[0].sensor_offset_k = 2.5;
  EXPECT_NEAR(solve(building, Mode::sensor_at_maintain, {}).runs[0].water_c, 43.5, 1e-8);
}

TEST(Solve, RunThatLosesMoreIsColder) {
  const State state = solve(two_runs(), Mode::sensor_at_maintain, {});
  EXPECT_LT(state.runs[1].water_c, state.runs[0].water_c - 1);
  EXPECT_EQ(state.groups[0].coldest, 1);
  EXPECT_EQ(state.groups[0].hottest, 0);
  EXPECT_DOUBLE_EQ(state.groups[0].power_w, state.runs[0].power_w + state.runs[1].power_w);
}

TEST(Solve, TooWeakACableSaturates) {
  Building building = two_runs();
  const State state = solve(building, Mode::sensor_at_maintain, {.cable_output_frac = 0.2});
  EXPECT_TRUE(state.groups[0].saturated);
  EXPECT_EQ(state.groups[0].duty, 1);
  EXPECT_LT(state.runs[0].water_c, 45);
  const State stuck = solve(building, Mode::stuck_on, {.cable_output_frac = 0.2});
  EXPECT_DOUBLE_EQ(stuck.runs[0].water_c, state.runs[0].water_c);
  EXPECT_FALSE(stuck.groups[0].saturated);
}

TEST(Solve, OffComesToTheAir) {
  const State state = solve(two_runs(), Mode::off, {.air = Conditions::Air::low, .air_shift_k = -1});
  EXPECT_EQ(state.runs[0].water_c, 14);
  EXPECT_EQ(state.runs[0].power_w, 0);
  EXPECT_EQ(state.runs[0].loss_w, 0);
}

TEST(Solve, AirWarmerThanTheSetPointNeedsNoDuty) {
  const State state = solve(two_runs(), Mode::sensor_at_maintain, {.air_shift_k = 40});
  EXPECT_EQ(state.groups[0].duty, 0);
  EXPECT_EQ(state.runs[0].water_c, 61);
}

TEST(Solve, WorseConditionsLowerWhatTheUnsensedRunsHold) {
  const Building building = two_runs();
  const double stuck_c = solve(building, Mode::stuck_on, {}).runs[1].water_c;
  EXPECT_LT(solve(building, Mode::stuck_on, {.voltage_frac = 0.95}).runs[1].water_c, stuck_c);
  EXPECT_LT(solve(building, Mode::stuck_on, {.cable_output_frac = 0.9}).runs[1].water_c, stuck_c);
  EXPECT_LT(solve(building, Mode::stuck_on, {.loss_frac = 1.1}).runs[1].water_c, stuck_c);
  EXPECT_LT(solve(building, Mode::stuck_on, {.air = Conditions::Air::low}).runs[1].water_c, stuck_c);
}

TEST(Solve, EnteredAmbientHoldsTheAverageRunWhenItIsRight) {
  Building building = two_runs();
  building.runs[1] = building.runs[0];  // all runs are the average run
  building.runs[0].air = building.runs[1].air = {20, 20, 20};
  EXPECT_NEAR(solve(building, Mode::entered_ambient, {}).runs[1].water_c, 46, 1e-8);
  building.groups[0].entered_ambient_c = 25;
  EXPECT_LT(solve(building, Mode::entered_ambient, {}).runs[1].water_c, 45);
}

TEST(Solve, EnteredAmbientIsBetweenTheRunsItServes) {
  const State state =
      solve(two_runs(), Mode::entered_ambient, {.air_shift_k = -1});  // real air 20, as entered
  EXPECT_GT(state.runs[0].water_c, 46);
  EXPECT_LT(state.runs[1].water_c, 46);
}

TEST(Solve, GroupWithoutSensorFollowsItsAmbient) {
  Building building = two_runs();
  const State open = solve(building, Mode::entered_ambient, {});
  building.groups[0].sensor = -1;
  EXPECT_EQ(solve(building, Mode::sensor_at_maintain, {}).groups[0].duty, open.groups[0].duty);
  EXPECT_LT(solve(building, Mode::sensor_at_setback, {}).groups[0].duty, open.groups[0].duty);
  building.groups[0].entered_ambient_c.reset();
  EXPECT_EQ(solve(building, Mode::sensor_at_maintain, {}).groups[0].duty, 1);
}

TEST(Solve, UnheatedRunsStayUnsolved) {
  Building building = two_runs();
  building.runs[1].cable = -1;
  const State state = solve(building, Mode::sensor_at_maintain, {});
  EXPECT_TRUE(std::isnan(state.runs[1].water_c));
  EXPECT_EQ(state.groups[0].coldest, 0);
  const Uncertainty sampled = uncertainty(building, {}, 50, 1);
  EXPECT_TRUE(std::isnan(sampled.water_c[1].p50));
  EXPECT_FALSE(std::isnan(sampled.water_c[0].p50));
}

TEST(Solve, SaysWhenTheDataSheetEnded) {
  Building building = two_runs();
  EXPECT_FALSE(solve(building, Mode::sensor_at_maintain, {}).runs[0].extrapolated);
  EXPECT_TRUE(solve(building, Mode::sensor_at_maintain, {.voltage_frac = 1.3}).runs[0].extrapolated);
}

TEST(Solve, StandsOnTheStepOfTheFilmLaw) {
  Building building = two_runs();
  const auto section = invented_section("copper L 1", "glass fibre", 0.0286, 0.0360);
  const physics::Surroundings around{.orientation = physics::Orientation::vertical};
  building.runs[1].loss = LossCurve(section, around);
  const double air_c = building.runs[1].air.usual_c;
  bool stood = false;
  for (double output = 0.2; output < 1.2; output += 0.01) {
    const State state = solve(building, Mode::stuck_on, {.cable_output_frac = output});
    const RunState& run = state.runs[1];
    ASSERT_NEAR(run.power_w, run.loss_w, 1e-9 * run.loss_w) << output;
    physics::Surroundings real = around;
    real.air_c = air_c;
    const auto exact = physics::pipe_loss(section, run.water_c, real);
    ASSERT_NEAR(exact.loss_w_per_m * building.runs[1].loss_length_m, run.loss_w, 1e-6 * run.loss_w);
    stood = stood || std::abs(exact.surface_c - air_c - 10) < 1e-6;
  }
  EXPECT_TRUE(stood);
}

TEST(AmbientError, FallsWithTheEnteredAmbientAndIsNilWithoutOne) {
  Building building = two_runs();
  const auto error = ambient_error_k_per_k(building);
  EXPECT_LT(error[0], -0.2);
  EXPECT_GT(error[0], -1.5);
  Building warmer = building;
  *warmer.groups[0].entered_ambient_c += 0.1;
  const double change_k = solve(warmer, Mode::entered_ambient, {}).runs[1].water_c -
                          solve(building, Mode::entered_ambient, {}).runs[1].water_c;
  EXPECT_NEAR(change_k / 0.1, error[1], 0.02 * std::abs(error[1]));
  building.groups[0].entered_ambient_c.reset();
  EXPECT_EQ(ambient_error_k_per_k(building)[0], 0);
}

TEST(WarmUp, IsNilWhenWarmAndInfiniteWhenTooWeak) {
  const Building building = two_runs();
  const auto& cable = building.cables[0];
  EXPECT_EQ(warm_up(building.runs[0], cable, 1500, 50, 46, 20, 208).to_maintain_s, 0);
  EXPECT_EQ(warm_up(building.runs[0], cable, 1500, 20, 95, 20, 208).to_maintain_s,
            std::numeric_limits<double>::infinity());
  const double once_s = warm_up(building.runs[0], cable, 1500, 15, 46, 20, 208).to_maintain_s;
  EXPECT_GT(once_s, 0);
  EXPECT_NEAR(warm_up(building.runs[0], cable, 3000, 15, 46, 20, 208).to_maintain_s, 2 * once_s,
              1e-6 * once_s);
}

TEST(HeatCapacity, AddsWaterWallAndAShareOfTheInsulation) {
  const auto pipe = physics::find_pipe("copper 22x1").value();
  const auto insulation = physics::find_insulation("elastomeric").value();
  physics::InsulationSize size;
  size.bore_m = 0.022;
  size.outer_diameter_m = 0.082;
  const double bare = heat_capacity_j_per_m_k(pipe, size, nullptr, 40);
  const double whole = M_PI / 4 * (0.082 * 0.082 - 0.022 * 0.022) * insulation.density_kg_per_m3 *
                       insulation.heat_capacity_j_per_kg_k;
  const double share = (heat_capacity_j_per_m_k(pipe, size, &insulation, 40) - bare) / whole;
  // Mean of (ln(R/r)/ln(R/r0))^2 over the ring, by the midpoint rule.
  double sum = 0, area = 0;
  for (int i = 0; i < 20000; ++i) {
    const double r = 0.011 + 0.030 * (i + 0.5) / 20000;
    const double profile = std::log(0.041 / r) / std::log(0.041 / 0.011);
    sum += r * profile * profile;
    area += r;
  }
  EXPECT_NEAR(share, sum / area, 1e-6);
}

TEST(Strata, QuantileOfTheNormalDistribution) {
  // Abramowitz and Stegun, Handbook of Mathematical Functions, table 26.1 and section 26.2 (memory).
  EXPECT_NEAR(normal_quantile(0.975), 1.959963984540054, 1e-12);
  EXPECT_NEAR(normal_quantile(0.05), -1.644853626951473, 1e-12);
  EXPECT_EQ(normal_quantile(0.5), 0);
  EXPECT_NEAR(normal_quantile(1e-6), -4.753424308822899, 1e-10);
}

TEST(Strata, EverySliceComesOnceInAnyOrder) {
  const Strata strata(500);
  auto a = strata.shuffled(1), b = strata.shuffled(2);
  EXPECT_NE(a, b);
  EXPECT_EQ(strata.shuffled(1), a);
  std::ranges::sort(a);
  std::ranges::sort(b);
  EXPECT_EQ(a, b);
  EXPECT_NEAR(std::accumulate(a.begin(), a.end(), 0.0), 0, 1e-9);
}

TEST(Strata, QuantilesAreThoseOfSortedValues) {
  std::vector<double> values(1000);
  std::iota(values.begin(), values.end(), 0.5);
  std::ranges::reverse(values);
  const Quantiles q = quantiles_of(values);
  EXPECT_DOUBLE_EQ(q.p5, 50);
  EXPECT_DOUBLE_EQ(q.p50, 500);
  EXPECT_DOUBLE_EQ(q.p95, 950);
  std::vector<double> one{7};
  EXPECT_EQ(quantiles_of(one).p95, 7);
}

bool same_bits(const Uncertainty& a, const Uncertainty& b) {
  for (std::size_t r = 0; r < a.water_c.size(); ++r) {
    const auto bits = [](double x) { return std::bit_cast<std::uint64_t>(x); };
    if (bits(a.water_c[r].p5) != bits(b.water_c[r].p5) || bits(a.water_c[r].p50) != bits(b.water_c[r].p50) ||
        bits(a.water_c[r].p95) != bits(b.water_c[r].p95)) {
      return false;
    }
  }
  return a.holds_prob == b.holds_prob && a.first_to_fail_prob == b.first_to_fail_prob &&
         a.group_holds_prob == b.group_holds_prob && a.all_hold_prob == b.all_hold_prob;
}

TEST(Uncertainty, IsTheSameForAnyNumberOfThreads) {
  const Building building = invented_building(120);
  const Uncertainty one = uncertainty(building, {}, 300, 7, 1);
  for (const int threads : {2, 3, 8}) EXPECT_TRUE(same_bits(one, uncertainty(building, {}, 300, 7, threads)));
  EXPECT_FALSE(same_bits(one, uncertainty(building, {}, 300, 8, 1)));
}

TEST(Uncertainty, ChancesAddUp) {
  Building building = invented_building(120);
  for (auto& group : building.groups) group.hold_tolerance_k = 12;
  const Uncertainty u = uncertainty(building, {}, 500, 3);
  EXPECT_GT(u.all_hold_prob, 0);
  EXPECT_LT(u.all_hold_prob, 1);
  EXPECT_NEAR(std::accumulate(u.first_to_fail_prob.begin(), u.first_to_fail_prob.end(), u.all_hold_prob), 1,
              1e-12);
  EXPECT_LE(u.all_hold_prob, std::ranges::min(u.group_holds_prob));
  EXPECT_LE(std::ranges::min(u.group_holds_prob), std::ranges::min(u.holds_prob));
}

TEST(Uncertainty, RefusesToSampleNothing) {
  EXPECT_THROW(uncertainty(two_runs(), {}, 0, 1), std::invalid_argument);
}

constexpr Mode all_modes[] = {Mode::sensor_at_maintain, Mode::sensor_at_setback, Mode::stuck_on,
                              Mode::entered_ambient, Mode::off};

// Twice one half is one to the last bit: the share must enter as one factor of the voltage and nowhere else.
TEST(LocalVoltage, HalfTheGroupsVoltageTakenTwiceChangesNoBit) {
  const Building plain = invented_building(120);
  Building twice = plain;
  for (auto& group : twice.groups) group.voltage_v *= 0.5;
  for (auto& run : twice.runs) run.voltage_frac = 2;
  for (const Mode mode : all_modes) {
    const State a = solve(plain, mode, {.voltage_frac = 0.97}),
                b = solve(twice, mode, {.voltage_frac = 0.97});
    for (std::size_t r = 0; r < plain.runs.size(); ++r) {
      EXPECT_EQ(a.runs[r].water_c, b.runs[r].water_c);
      EXPECT_EQ(a.runs[r].power_w, b.runs[r].power_w);
    }
  }
  EXPECT_EQ(ambient_error_k_per_k(plain), ambient_error_k_per_k(twice));
  EXPECT_TRUE(same_bits(uncertainty(plain, {}, 200, 5), uncertainty(twice, {}, 200, 5)));
}

/// Every run alone in its group, which is driven as the whole was.
Building each_alone(const Building& building) {
  Building alone = building;
  alone.groups.clear();
  for (std::size_t r = 0; r < alone.runs.size(); ++r) {
    alone.groups.push_back(building.groups[static_cast<std::size_t>(building.runs[r].group)]);
    alone.groups.back().sensor = r % 3 == 0 ? -1 : static_cast<int>(r);
    alone.runs[r].group = static_cast<int>(r);
  }
  return alone;
}

TEST(LocalVoltage, IsThatOfAGroupWithALowerVoltage) {
  Building local = each_alone(invented_building(40)), lower = local;
  for (std::size_t r = 0; r < local.runs.size(); ++r) {
    const double frac = 1 - 0.002 * static_cast<double>(r);
    local.runs[r].voltage_frac = frac;
    lower.groups[r].voltage_v *= frac;
  }
  for (const Mode mode : all_modes) {
    const State a = solve(local, mode, {.voltage_frac = 0.97}),
                b = solve(lower, mode, {.voltage_frac = 0.97});
    for (std::size_t r = 0; r < local.runs.size(); ++r) {
      EXPECT_NEAR(a.runs[r].water_c, b.runs[r].water_c, 1e-9);
      EXPECT_NEAR(a.groups[r].duty, b.groups[r].duty, 1e-12);
      EXPECT_NEAR(a.runs[r].cable_w_per_m, b.runs[r].cable_w_per_m, 1e-9);
    }
  }
  const Uncertainty a = uncertainty(local, {}, 200, 5), b = uncertainty(lower, {}, 200, 5);
  for (std::size_t r = 0; r < local.runs.size(); ++r)
    EXPECT_NEAR(a.water_c[r].p5, b.water_c[r].p5, 2e-3) << r;
}

TEST(LocalVoltage, OfTheSensorsRunRaisesTheDutyOfAll) {
  const Building plain = two_runs();
  Building local = plain;
  local.runs[0].voltage_frac = 0.95;
  const State before = solve(plain, Mode::sensor_at_maintain, {}),
              after = solve(local, Mode::sensor_at_maintain, {});
  EXPECT_NEAR(after.runs[0].water_c, 46, 1e-8);
  EXPECT_GT(after.groups[0].duty, before.groups[0].duty);
  EXPECT_GT(after.runs[1].water_c, before.runs[1].water_c);
}

// Open loop the duty is that of the average run, at the voltage the runs get: with nominal air and no other
// difference between the runs the average is held whatever that voltage is.
TEST(LocalVoltage, CountsInTheOpenLoop) {
  Building building = two_runs();
  building.runs[1] = building.runs[0];
  building.runs[0].air = building.runs[1].air = {20, 20, 20};
  building.runs[0].voltage_frac = building.runs[1].voltage_frac = 0.93;
  EXPECT_NEAR(solve(building, Mode::entered_ambient, {}).runs[1].water_c, 46, 1e-8);
}

}  // namespace
}  // namespace firstdraw::hold
