#include "power/expect.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace firstdraw::power {
namespace {

/// Invented.
physics::HeatingCable invented_cable() {
  physics::CableSheet sheet;
  sheet.id = "invented";
  sheet.rated_voltage_v = 240;
  sheet.output = {{5, 36}, {30, 27}, {60, 12}, {80, 2}};
  sheet.voltage = {{180, 0.62}, {208, 0.8}, {240, 1}, {264, 1.12}};
  sheet.output_tolerance_frac = 0.1;
  sheet.bus_loop_ohm_per_m = 0.02;
  sheet.max_powered_c = 85;
  return physics::HeatingCable(sheet);
}

const physics::HeatingCable cable = invented_cable();
const std::vector<CableStretch> circuit{{piping::none, 30}, {0, 40}, {0, 15}};
constexpr SiteTolerance site{0.01, 2};

TEST(ExpectedCurrent, LiesInItsBandBelowTheCurrentWithoutBusWires) {
  const auto expected = expected_current(circuit, cable, 30, 240, site);
  EXPECT_TRUE(expected.usable);
  EXPECT_LT(expected.least_a, 0.9 * expected.current_a);
  EXPECT_GT(expected.most_a, 1.05 * expected.current_a);
  EXPECT_LT(expected.current_a, 27 * 85 / 240.0);
  EXPECT_GT(expected.current_a, 0.97 * 27 * 85 / 240.0);
  EXPECT_LT(expected.heater_w, expected.power_w);
}

// The short cable hardly loses voltage, and the band is then the sheet's tolerance alone.
TEST(ExpectedCurrent, BandOfAShortCableIsTheSheetsTolerance) {
  const std::vector<CableStretch> metre{{piping::none, 1}};
  const auto expected = expected_current(metre, cable, 30, 240, {});
  EXPECT_NEAR(expected.current_a, 27 / 240.0, 1e-5);
  EXPECT_NEAR(expected.most_a / expected.current_a, 1.1, 1e-4);
  EXPECT_NEAR(expected.least_a / expected.current_a, 0.9, 1e-4);
}

TEST(ExpectedCurrent, TakesTheStartFactorAsGiven) {
  const auto settled = expected_current(circuit, cable, 30, 240, site);
  const auto early =
      expected_current(circuit, cable, 30, 240, site, 2, [](double minutes) { return 1 + 0.25 * minutes; });
  EXPECT_NEAR(early.current_a, 1.5 * settled.current_a, 1e-12);
  EXPECT_NEAR(early.most_a, 1.5 * settled.most_a, 1e-12);
  EXPECT_EQ(early.far_v, settled.far_v);
}

TEST(CommissioningTable, CurrentFallsWithPipeTemperature) {
  const std::vector<double> pipe_c{5, 20, 40, 60}, volts{208, 240};
  const auto table = commissioning_table(circuit, cable, pipe_c, volts, site);
  ASSERT_EQ(table.size(), 8U);
  for (std::size_t i = 2; i < table.size(); ++i) {
    EXPECT_EQ(table[i].volts, table[i - 2].volts);
    EXPECT_LT(table[i].current_a, table[i - 2].current_a);
    EXPECT_GT(table[i].far_v, table[i - 2].far_v);
  }
}

TEST(ExpectedCurrent, OfACableFarTooLongIsNotUsable) {
  for (const double length_m : {400.0, 1000.0, 3000.0}) {
    const std::vector<CableStretch> endless{{piping::none, length_m}};
    EXPECT_FALSE(expected_current(endless, cable, 5, 240, site).usable) << length_m;
  }
}

// 300 V is beyond the sheet's list; a sheet without one stands for its rated voltage and what is near it.
TEST(ExpectedCurrent, GivesNoFigureWhereTheDataSheetGivesNoOutput) {
  const auto none = expected_current(circuit, cable, 30, 300, site);
  EXPECT_FALSE(none.covered);
  for (const double value : {none.current_a, none.least_a, none.most_a, none.power_w, none.far_v})
    EXPECT_TRUE(std::isnan(value));
  physics::CableSheet sheet = cable.sheet();
  sheet.voltage.clear();
  EXPECT_TRUE(gives_output_at(physics::HeatingCable(sheet), 235));
  EXPECT_FALSE(gives_output_at(physics::HeatingCable(sheet), 208));
}

// A metre of cable, where the wires do not matter: the band goes from the derated output less the tolerance
// to that of metal pipe and more.
TEST(ExpectedCurrent, BandOnPlasticPipeReachesFromItsDeratingToNone) {
  const std::vector<CableStretch> metre{{piping::none, 1, 0.7}};
  const auto expected = expected_current(metre, cable, 30, 240, {});
  EXPECT_NEAR(expected.current_a, 0.7 * 27 / 240.0, 1e-5);
  EXPECT_NEAR(expected.least_a, 0.9 * 0.7 * 27 / 240.0, 1e-5);
  EXPECT_NEAR(expected.most_a, 1.1 * 27 / 240.0, 2e-5);
}

}  // namespace
}  // namespace firstdraw::power
