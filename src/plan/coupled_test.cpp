#include "plan/coupled.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

#include "plan/held.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::plan {
namespace {

using piping::at;

struct Planned {
  job::Job job = small_job();
  Plan plan = make_plan(job, {0, 1, 1});
  Workshop shop{job};
  hold::Building building = building_of(shop, plan);

  Coupled solve(hold::Mode mode = hold::Mode::sensor_at_maintain,
                const hold::Conditions& conditions = {}) const {
    std::mutex turn;
    return solve_coupled(job, plan.network, building, plan.circuits, mode, conditions, *shop.known, turn);
  }
};

constexpr hold::Mode modes[] = {hold::Mode::sensor_at_maintain, hold::Mode::sensor_at_setback,
                                hold::Mode::stuck_on, hold::Mode::entered_ambient};

// Kirchhoff: what the panel gives is what the heater, the bus wires and the wiring take.
TEST(Coupled, ThePanelsPowerIsThatOfHeaterBusWiresAndWiring) {
  const Planned on;
  for (const hold::Mode mode : modes) {
    const Coupled found = on.solve(mode, {.voltage_frac = 0.95, .cable_output_frac = 0.9});
    ASSERT_TRUE(found.settled);
    ASSERT_EQ(found.circuits.size(), on.plan.circuits.size());
    for (const auto& circuit : found.circuits) {
      ASSERT_TRUE(circuit.steady);
      EXPECT_NEAR(circuit.power_w, circuit.heater_w + circuit.bus_w + circuit.wiring_w,
                  1e-9 * circuit.power_w);
      EXPECT_NEAR(circuit.power_w, circuit.current_a * 208 * 0.95, 1e-9 * circuit.power_w);
    }
  }
}

// The two rooms must mean the same heat: output while on by the balance of the pipes, and by the ladder.
TEST(Coupled, HeatOfThePipesIsThatOfTheLadder) {
  const Planned on;
  const Coupled found = on.solve();
  double held_w = 0, ladder_w = 0;
  for (std::size_t i = 0; i < on.building.runs.size(); ++i)
    held_w +=
        found.state.runs[i].cable_w_per_m * on.plan.runs[at(on.building.runs[i].job_run)].cable_length_m;
  for (const auto& circuit : found.circuits) ladder_w += circuit.heater_w;
  EXPECT_NEAR(held_w, ladder_w, 1e-8 * ladder_w);
}

TEST(Coupled, DoesNotDependOnWhereItStarts) {
  Planned on;
  const Coupled one = on.solve();
  for (auto& run : on.building.runs) run.voltage_frac = 0.8;
  const Coupled other = on.solve();
  for (std::size_t i = 0; i < one.voltage_frac.size(); ++i) {
    EXPECT_NEAR(one.voltage_frac[i], other.voltage_frac[i], 1e-8);
    EXPECT_NEAR(one.state.runs[i].water_c, other.state.runs[i].water_c, 1e-5);
  }
}

TEST(Coupled, LongerWiringRaisesNoLocalVoltage) {
  Planned on;
  const Coupled before = on.solve(hold::Mode::stuck_on);
  for (auto& circuit : on.plan.circuits) {
    circuit.wiring.one_way_m += 40;
    circuit.wiring.loop_ohm_per_m = std::max(circuit.wiring.loop_ohm_per_m, 0.01);
  }
  const Coupled after = on.solve(hold::Mode::stuck_on);
  for (std::size_t i = 0; i < before.voltage_frac.size(); ++i) {
    EXPECT_LT(after.voltage_frac[i], before.voltage_frac[i]);
    EXPECT_LT(after.state.runs[i].water_c, before.state.runs[i].water_c);
  }
}

TEST(Coupled, RunsWithoutACircuitGetTheGroupsVoltage) {
  Planned on;
  on.plan.circuits.clear();
  for (const double frac : on.solve().voltage_frac) EXPECT_EQ(frac, 1);
}

TEST(PlanVoltages, CircuitsAndRunsSayTheSame) {
  const Planned on;
  const power::Circuit& circuit = on.plan.circuits.at(0);
  ASSERT_TRUE(circuit.steady);
  EXPECT_LT(circuit.far_v, circuit.feed_v);
  EXPECT_LT(circuit.feed_v, 208);
  EXPECT_NEAR(circuit.feeder_drop_frac, 1 - circuit.feed_v / 208, 1e-12);
  EXPECT_NEAR(circuit.feeder_drop_frac + circuit.far_drop_frac, 1 - circuit.far_v / 208, 1e-12);
  EXPECT_EQ(circuit.far_v, *std::ranges::min_element(circuit.end_v));
  EXPECT_NEAR(circuit.working_w, 208 * circuit.working_a, 1e-9 * circuit.working_w);
  for (std::size_t i = 0; i < circuit.runs.size(); ++i) {
    const RunPlan& run = on.plan.runs[at(circuit.runs[i])];
    EXPECT_EQ(run.voltage_frac, circuit.voltage_frac[i]);
    EXPECT_GT(run.voltage_frac, circuit.far_v / 208 - 1e-9);
    EXPECT_LT(run.worst_voltage_frac, 1);
  }
  EXPECT_NEAR(on.plan.panels[0].working_w, circuit.working_w, 1e-9 * circuit.working_w);
}

// The bus wires' resistance alone differs: what is left of the spare is what the sheet says of the voltage
// that is left, and every run is colder in the worst case or the sensor makes up for it.
TEST(PlanVoltages, SpareCountsWhatTheFallTakes) {
  job::Job easy = small_job();
  for (auto& sheet : easy.cables) sheet.bus_loop_ohm_per_m = 1e-9;
  easy.panels[0].feeder_length_m = 0;
  const Plan without = make_plan(easy, {0, 1, 1});
  const Planned on;
  int compared = 0;
  for (std::size_t r = 0; r < on.plan.runs.size(); ++r) {
    const RunPlan &with = on.plan.runs[r], &none = without.runs[r];
    if (with.cable == piping::none || with.cable != none.cable || with.passes != none.passes ||
        with.insulation.nominal_thickness_m != none.insulation.nominal_thickness_m)
      continue;
    const physics::HeatingCable cable(on.job.cables[at(with.cable)]);
    const double low_v = 0.95 * 208;
    const double left = cable.voltage_factor(low_v * with.worst_voltage_frac) / cable.voltage_factor(low_v);
    EXPECT_NEAR((1 + with.spare_frac) / (1 + none.spare_frac), left, 1e-6);
    EXPECT_LT(left, 1);
    ++compared;
  }
  EXPECT_GT(compared, 0);
}

}  // namespace
}  // namespace firstdraw::plan
