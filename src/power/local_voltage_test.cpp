#include "power/local_voltage.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "power/circuit_cable.hpp"
#include "power/electrical.hpp"
#include "power/test_building.hpp"

namespace firstdraw::power {
namespace {

/// Output in proportion to voltage, hence a current that does not depend on it; 18 W/m at 20 °C.
physics::CableSheet line_sheet() {
  physics::CableSheet sheet;
  sheet.id = "invented";
  sheet.rated_voltage_v = 240;
  sheet.output = {{20, 18}, {60, 6}};
  sheet.voltage = {{120, 0.5}, {240, 1}};
  sheet.bus_loop_ohm_per_m = 0.02;
  sheet.max_powered_c = 65;
  return sheet;
}

/// All runs of a building on one circuit, at 20 °C unless said otherwise.
struct Fed {
  explicit Fed(const TestBuilding& building, const std::string& feed = "heater",
               physics::CableSheet sheet = line_sheet())
      : network(piping::build_network(building.job)), cable(std::move(sheet)) {
    for (std::size_t r = 0; r < building.job.runs.size(); ++r) {
      circuit.runs.push_back(static_cast<int>(r));
      length_m.push_back(building.runs[r].cable_length_m);
      water_c.push_back(20);
      derating_frac.push_back(1);
    }
    circuit.feed_node = network.node(feed);
    circuit.end_nodes = circuit_cable(network, circuit.runs, length_m, circuit.feed_node).end_nodes;
  }

  CircuitVoltage solve(double panel_v = 240) const {
    return circuit_voltage(network, circuit, cable, length_m, water_c, derating_frac, panel_v);
  }
  double loop_ohm_per_m() const { return copper_resistance_at(0.02, 65); }

  piping::Network network;
  Circuit circuit;
  physics::HeatingCable cable;
  std::vector<double> length_m, water_c, derating_frac;
};

// Ohm's law by hand for a current i per metre: R i L in the wiring, r i L²/2 to the end of the cable, and the
// mean voltage, which is what counts where output follows it, r i L²/3 below the feed.
TEST(CircuitVoltageOf, OneRunBehindWiringAgreesWithOhmsLaw) {
  Fed fed(TestBuilding().run("R1", "heater", "a", 80));
  fed.circuit.wiring.one_way_m = 25;
  fed.circuit.wiring.loop_ohm_per_m = 0.0104;
  const auto found = fed.solve();
  const double i = 18 / 240.0, r = fed.loop_ohm_per_m(), feed_v = 240 - 25 * 0.0104 * i * 80;
  EXPECT_NEAR(found.current_a, i * 80, 1e-10);
  EXPECT_NEAR(found.feed_v, feed_v, 1e-9);
  EXPECT_NEAR(found.far_v, feed_v - r * i * 80 * 80 / 2, 1e-9);
  EXPECT_NEAR(found.voltage_frac[0], (feed_v - r * i * 80 * 80 / 3) / 240, 1e-11);
  EXPECT_NEAR(found.wiring_w, 25 * 0.0104 * std::pow(i * 80, 2), 1e-9);
  EXPECT_NEAR(found.power_w, found.heater_w + found.bus_w + found.wiring_w, 1e-9 * found.power_w);
}

// Fed at the node between them the two runs share only the wiring; fed at the end they share a run.
TEST(CircuitVoltageOf, TheFeedDecidesWhatRunsShare) {
  const auto building = TestBuilding().run("R1", "heater", "a", 60).run("R2", "a", "b", 40);
  const double i = 18 / 240.0, r = Fed(building).loop_ohm_per_m();
  const auto inside = Fed(building, "a").solve();
  EXPECT_EQ(inside.end_v.size(), 2U);
  EXPECT_NEAR(inside.far_v, 240 - r * i * 60 * 60 / 2, 1e-9);
  EXPECT_EQ(inside.far_node, Fed(building).network.supply_node);
  const auto end = Fed(building).solve();
  EXPECT_NEAR(end.far_v, 240 - r * i * 100 * 100 / 2, 1e-9);
  EXPECT_NEAR(end.voltage_frac[1], (240 - r * i * (60 * 60 / 2.0 + 60 * 40) - r * i * 40 * 40 / 3) / 240,
              1e-11);
}

TEST(CircuitVoltageOf, PlasticPipeDrawsLessByItsDerating) {
  Fed fed(TestBuilding().run("R1", "heater", "a", 60).run("R2", "heater", "b", 60));
  fed.derating_frac[1] = 0.7;
  const auto found = fed.solve();
  EXPECT_NEAR(found.current_a, (1 + 0.7) * 18 / 240.0 * 60, 1e-10);
  EXPECT_GT(found.voltage_frac[1], found.voltage_frac[0]);
  EXPECT_GT(found.end_v[1], found.end_v[0]);
}

/// Invented; bends at five voltages.
physics::CableSheet curved_sheet() {
  physics::CableSheet sheet = line_sheet();
  sheet.voltage = {{170, 0.62}, {190, 0.72}, {208, 0.81}, {225, 0.92}, {240, 1}, {264, 1.13}};
  return sheet;
}

Fed random_circuit(std::mt19937& random) {
  std::uniform_real_distribution<double> length_m(1, 30), water_c(20, 58), derating(0.6, 1), wiring_m(0, 60);
  TestBuilding building;
  const int count = std::uniform_int_distribution<int>(1, 12)(random);
  for (int r = 0; r < count; ++r) {
    const int from = std::uniform_int_distribution<int>(-1, r - 1)(random);
    building.run("R" + std::to_string(r), from < 0 ? "heater" : "n" + std::to_string(from),
                 "n" + std::to_string(r), length_m(random));
  }
  const int feed = std::uniform_int_distribution<int>(-1, count - 1)(random);
  Fed fed(building, feed < 0 ? "heater" : "n" + std::to_string(feed), curved_sheet());
  for (double& value : fed.water_c) value = water_c(random);
  for (double& value : fed.derating_frac) value = derating(random);
  fed.circuit.wiring.one_way_m = wiring_m(random);
  fed.circuit.wiring.loop_ohm_per_m = 0.0066;
  return fed;
}

TEST(CircuitVoltageOf, EveryRunPutsOutAtItsOneVoltageWhatTheLadderGivesIt) {
  std::mt19937 random(11);
  for (int trial = 0; trial < 100; ++trial) {
    const Fed fed = random_circuit(random);
    const auto found = fed.solve();
    ASSERT_TRUE(found.steady) << trial;
    double heater_w = 0;
    for (std::size_t r = 0; r < fed.length_m.size(); ++r) {
      EXPECT_GT(found.voltage_frac[r], found.far_v / 240 - 1e-12) << trial;
      EXPECT_LT(found.voltage_frac[r], found.feed_v / 240 + 1e-12) << trial;
      heater_w += fed.length_m[r] * fed.derating_frac[r] *
                  fed.cable.power_w_per_m(fed.water_c[r], 240 * found.voltage_frac[r]);
    }
    EXPECT_NEAR(heater_w, found.heater_w, 1e-9 * heater_w) << trial;
    EXPECT_NEAR(found.power_w, found.heater_w + found.bus_w + found.wiring_w, 1e-9 * found.power_w) << trial;
    EXPECT_EQ(found.far_v, *std::ranges::min_element(found.end_v)) << trial;
  }
}

TEST(CircuitVoltageOf, AWarmerPipeDrawsLess) {
  std::mt19937 random(12);
  for (int trial = 0; trial < 100; ++trial) {
    Fed fed = random_circuit(random);
    const auto before = fed.solve();
    fed.water_c[std::uniform_int_distribution<std::size_t>(0, fed.water_c.size() - 1)(random)] += 1.5;
    const auto after = fed.solve();
    EXPECT_LT(after.current_a, before.current_a) << trial;
    EXPECT_GT(after.feed_v, before.feed_v) << trial;
  }
}

TEST(CircuitVoltageOf, LongerWiringRaisesNoVoltage) {
  std::mt19937 random(13);
  for (int trial = 0; trial < 100; ++trial) {
    Fed fed = random_circuit(random);
    const auto before = fed.solve();
    fed.circuit.wiring.one_way_m += 20;
    const auto after = fed.solve();
    for (std::size_t r = 0; r < fed.length_m.size(); ++r)
      EXPECT_LT(after.voltage_frac[r], before.voltage_frac[r]) << trial;
    for (std::size_t e = 0; e < before.end_v.size(); ++e) EXPECT_LT(after.end_v[e], before.end_v[e]) << trial;
  }
}

TEST(CircuitVoltageOf, ACableFarTooLongHasNoSteadyState) {
  const auto found = Fed(TestBuilding().run("R1", "heater", "a", 900)).solve();
  EXPECT_FALSE(found.steady);
  EXPECT_EQ(found.voltage_frac.size(), 1U);
}

// A pipe too warm for its cable, here 0 W from 60 °C on: no heat to tell a voltage by.
TEST(CircuitVoltageOf, ARunThatPutsOutNothingHasTheVoltageOfItsPlace) {
  physics::CableSheet sheet = line_sheet();
  sheet.output = {{20, 18}, {60, 0}};
  Fed fed(TestBuilding().run("R1", "heater", "a", 60).run("R2", "a", "b", 40), "heater", sheet);
  fed.water_c[1] = 60;
  const auto found = fed.solve();
  EXPECT_NEAR(found.voltage_frac[1], found.far_v / 240, 1e-12);
}

}  // namespace
}  // namespace firstdraw::power
