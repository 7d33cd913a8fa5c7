#include "power/circuits.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "power/protection.hpp"
#include "power/test_building.hpp"
#include "rules/rules.hpp"

namespace firstdraw::power {
namespace {

TEST(LayOut, OneShortRunIsOneCircuitOnTheSmallestBreaker) {
  const Layout layout = TestBuilding().run("R1", "heater", "a", 40).lay_out();
  ASSERT_EQ(layout.circuits.size(), 1u);
  const Circuit& circuit = layout.circuits[0];
  EXPECT_EQ(circuit.id, "C01");
  EXPECT_EQ(circuit.breaker_a, 15);
  EXPECT_EQ(circuit.max_length_m, 90);  // the data sheet's; 0.8 * 15 A would allow 96 m
  EXPECT_EQ(circuit.poles, 2);
  EXPECT_DOUBLE_EQ(circuit.settled_a, 40 * 0.125);
  EXPECT_DOUBLE_EQ(circuit.peak_a, 40 * 0.25);
  EXPECT_NEAR(circuit.working_a, 40 * 12 / 208.0, 1e-12);
  EXPECT_TRUE(circuit.ground_fault);
  EXPECT_EQ(layout.circuit_of_run, std::vector<int>{0});
}

TEST(LayOut, BreakerGrowsWithTheCable) {
  EXPECT_EQ(TestBuilding().run("R1", "heater", "a", 100).lay_out().circuits[0].breaker_a, 20);
  EXPECT_EQ(TestBuilding().run("R1", "heater", "a", 130).lay_out().circuits[0].breaker_a, 30);
}

TEST(LayOut, ContinuousLoadLimitsWhereTheDataSheetDoesNot) {
  TestBuilding building;
  building.sheet.cold_start = {{10, 0.4, 0.2}};  // 0.8 * 30 A / 0.2 A/m = 120 m
  const Layout layout = building.run("R1", "heater", "a", 70).run("R2", "a", "b", 55).lay_out();
  ASSERT_EQ(layout.circuits.size(), 2u);
  for (const Circuit& circuit : layout.circuits) EXPECT_LE(circuit.settled_a, 0.8 * circuit.breaker_a);
}

TEST(LayOut, StandingLeakageLimitsToo) {
  TestBuilding building;
  building.sheet.capacitance_f_per_m = 3e-9;  // 9 mA / (pi 60 3e-9 208) = 76.5 m
  const Layout layout = building.run("R1", "heater", "a", 40).run("R2", "a", "b", 40).lay_out();
  ASSERT_EQ(layout.circuits.size(), 2u);
  for (const Circuit& circuit : layout.circuits) EXPECT_LE(circuit.leakage_a, 0.009);
}

TEST(LayOut, ARunLongerThanAnyBreakerAllowsSaysSo) {
  const Layout layout = TestBuilding().run("R1", "heater", "a", 160).run("R2", "a", "b", 10).lay_out();
  ASSERT_EQ(layout.circuits.size(), 2u);
  EXPECT_TRUE(layout.circuits[0].over_length);
  EXPECT_EQ(layout.circuits[0].breaker_a, 30);
  EXPECT_FALSE(layout.circuits[1].over_length);
}

TEST(LayOut, OverLoadWhenNoRatingCarriesTheCurrent) {
  TestBuilding building;
  building.sheet.cold_start = {{10, 1.0, 0.5}};  // 0.8 * 30 A / 0.5 A/m = 48 m
  const Circuit circuit = building.run("R1", "heater", "a", 100).lay_out().circuits[0];
  EXPECT_TRUE(circuit.over_load);
  EXPECT_TRUE(circuit.over_length);
}

TEST(LayOut, EndsAreOneMoreThanTees) {
  TestBuilding building;
  building.run("R1", "heater", "a", 10).run("R2", "a", "b", 5).run("R3", "a", "c", 5).run("R4", "a", "d", 5);
  building.run("R5", "heater", "e", 5);
  const Layout layout = building.lay_out();
  ASSERT_EQ(layout.circuits.size(), 1u);
  EXPECT_EQ(layout.circuits[0].tee_nodes.size(), 3u);
  EXPECT_EQ(layout.circuits[0].end_nodes.size(), 4u);
}

TEST(LayOut, UntracedAndDisconnectedRunsGetNoCircuit) {
  TestBuilding building;
  building.run("R1", "heater", "a", 10).run("R2", "a", "b", 5, false).run("R3", "elsewhere", "c", 5);
  const Layout layout = building.lay_out();
  EXPECT_EQ(layout.circuit_of_run, (std::vector<int>{0, piping::none, piping::none}));
}

TEST(LayOut, SheetWithoutLengthsIsLimitedByCurrentAndSmallBreakers) {
  TestBuilding building;
  building.sheet.max_length.clear();
  const Layout layout = building.run("R1", "heater", "a", 120).run("R2", "a", "b", 60).lay_out();
  ASSERT_EQ(layout.circuits.size(), 2u);
  for (const Circuit& circuit : layout.circuits) {
    EXPECT_FALSE(circuit.length_listed);
    EXPECT_LE(circuit.breaker_a, 20);
  }
}

TEST(LayOut, CircuitsAreNumberedByPanelAndAlongThePipes) {
  TestBuilding building;
  job::Panel second = building.job.panels[0];
  second.id = "P0";
  building.job.panels.insert(building.job.panels.begin(), second);
  job::ControlGroup group = building.job.groups[0];
  group.id = "G2";
  group.panel = "P0";
  building.job.groups.push_back(group);
  building.run("R1", "heater", "a", 100).run("R2", "a", "b", 100).run("R3", "b", "c", 100);
  building.job.runs[2].group = "G2";
  const Layout layout = building.lay_out();
  EXPECT_EQ(layout.circuit_of_run, (std::vector<int>{1, 2, 0}));
  EXPECT_EQ(layout.circuits[0].panel, 0);
}

TEST(LayOut, PanelWithoutGroundFaultProtectionIsNotGivenAny) {
  TestBuilding building;
  building.job.panels[0].ground_fault = false;
  const Circuit circuit = building.run("R1", "heater", "a", 10).lay_out().circuits[0];
  EXPECT_FALSE(circuit.ground_fault);
  EXPECT_EQ(circuit.ground_fault_trip_a, 0);
}

TEST(LayOut, PanelCarriesItsCircuits) {
  TestBuilding building;
  for (const char* id : {"R1", "R2", "R3"}) building.run(id, "heater", std::string("end of ") + id, 100);
  const Layout layout = building.lay_out();
  ASSERT_EQ(layout.panels.size(), 1u);
  const PanelLoad& load = layout.panels[0];
  EXPECT_EQ(load.poles, 6);
  EXPECT_NEAR(load.settled_a, 12.5 * std::sqrt(3.0), 1e-9);
  EXPECT_NEAR(load.settled_w, 3 * 12.5 * 208, 1e-9);
  EXPECT_NEAR(load.working_w, 3 * 100 * 12, 1e-9);
}

// By hand: three pairs of 12.5 A make 21.65 A on each line; 1.25 times that (NEC 427.4 with 215.3 for a
// feeder, as read in data/rules_circuit.csv) and 10 A of other loads ask for 37.06 A of the main.
TEST(LayOut, MainCarriesTheContinuousLoadAndTheOthers) {
  TestBuilding building;
  building.job.panels[0].other_a = 10;
  for (const char* id : {"R1", "R2", "R3"}) building.run(id, "heater", std::string("end of ") + id, 100);
  const PanelLoad load = building.lay_out().panels.at(0);
  EXPECT_NEAR(load.least_main_a, 37.063, 5e-4);
  building.job.overrides = {{"continuous-load", 1.0, "assembly listed for its full rating", "A. Writer"}};
  EXPECT_NEAR(building.lay_out().panels.at(0).least_main_a, 31.651, 5e-4);
}

TEST(LayOut, CircuitsSitOnTheirPhasesAndPlaces) {
  TestBuilding building;
  for (const char* id : {"R1", "R2", "R3"}) building.run(id, "heater", std::string("end of ") + id, 100);
  const Layout layout = building.lay_out();
  EXPECT_EQ(layout.circuits[0].phase, "L1-L2");
  EXPECT_EQ(layout.circuits[1].phase, "L2-L3");
  EXPECT_EQ(layout.circuits[2].phase, "L3-L1");
  EXPECT_EQ(layout.circuits[0].places, (std::vector<int>{1, 3}));
  EXPECT_EQ(layout.circuits[1].places, (std::vector<int>{4, 6}));
  EXPECT_EQ(layout.circuits[2].places, (std::vector<int>{5, 7}));
  ASSERT_EQ(layout.switching.size(), 1U);
  EXPECT_EQ(layout.switching[0].poles, 6);
  EXPECT_TRUE(layout.switching[0].contactor);
}

TEST(LayOut, PanelsAddUpAgainAfterACircuitHasChanged) {
  TestBuilding building;
  building.job.panels[0].line_to_line = false;
  for (const char* id : {"R1", "R2"}) building.run(id, "heater", std::string("end of ") + id, 100);
  Layout layout = building.lay_out();
  layout.panels[0].peak_a = 55;  // of a start
  layout.circuits[1].working_w = 700;
  layout.circuits[1].working_a = 7;
  layout.circuits[0].settled_a = 3;
  add_up_panels(building.job, layout);
  EXPECT_NEAR(layout.panels[0].working_w, 1200 + 700, 1e-9);
  EXPECT_NEAR(layout.panels[0].working_a, 7, 1e-9);
  EXPECT_EQ(layout.panels[0].phase_a, (std::vector<double>{3, 12.5, 0}));
  EXPECT_NEAR(layout.panels[0].settled_w, 15.5 * 208, 1e-9);
  EXPECT_EQ(layout.panels[0].poles, 2);
  EXPECT_EQ(layout.panels[0].peak_a, 55);
}

TEST(LayOut, LimitsAgreeWithTheRulesThatFindingsName) {
  TestBuilding building;
  for (const auto set : {rules::RuleSet::us, rules::RuleSet::intl}) {
    building.job.requirements.rules = set;
    const auto limits = circuit_limits(physics::HeatingCable(building.sheet), building.job.panels[0],
                                       building.job.requirements);
    EXPECT_DOUBLE_EQ(limits.continuous_frac, rules::continuous_load(set).max_frac);
    EXPECT_EQ(limits.trip_a, rules::ground_fault(set).trip_a);
  }
}

// As a building has them: long mains with branches of a few runs.
TEST(LayOut, TenThousandRunsRepeatExactly) {
  TestBuilding building;
  std::mt19937 random(7);
  building.prices().run("R0", "heater", "n0", 5);
  for (int i = 1; i < 10000; ++i)
    building.run(
        "R" + std::to_string(i),
        "n" + std::to_string(i - 1 - static_cast<int>(random() % static_cast<unsigned>(std::min(i, 4)))),
        "n" + std::to_string(i), 1 + static_cast<double>(random() % 10));
  const auto network = piping::build_network(building.job);
  const std::vector<physics::HeatingCable> cables{physics::HeatingCable(building.sheet)};
  const Layout layout = power::lay_out(building.job, network, cables, building.runs);
  EXPECT_TRUE(layout.division.exact);
  const Layout again = power::lay_out(building.job, network, cables, building.runs);
  EXPECT_EQ(layout.circuit_of_run, again.circuit_of_run);
  for (const Circuit& circuit : layout.circuits)
    EXPECT_LE(circuit.cable_length_m, circuit.max_length_m * (1 + 1e-9));
}

}  // namespace
}  // namespace firstdraw::power
