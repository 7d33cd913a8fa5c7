// Fixture units against the table they come from and against the binomial law it was made by (Hunter 1940,
// NBS BMS65; parameters from memory).
#include "rules/fixture_units.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "published.hpp"

namespace firstdraw::rules {
namespace {

constexpr double gpm = 3.785411784e-3 / 60;

double flow_gpm(double units) { return demand_flow(units).flow_m3_per_s / gpm; }

// Smallest number of n fixtures that with 99 % certainty is not exceeded.
int binomial_99(int n, double p) {
  double term = std::pow(1 - p, n), sum = term;
  int m = 0;
  for (; sum < 0.99; ++m) {
    term *= (n - m) * p / ((m + 1) * (1 - p));
    sum += term;
  }
  return m;
}

// IPC 2018, Table E103.3(3), flush tanks: rows typed in here, read in a transcription.
TEST(DemandFlow, RowsOfTheTableAndBetween) {
  EXPECT_NEAR(flow_gpm(1), 3, 1e-9);
  EXPECT_NEAR(flow_gpm(20), 19.6, 1e-9);
  EXPECT_NEAR(flow_gpm(100), 43.5, 1e-9);
  EXPECT_NEAR(flow_gpm(1000), 208, 1e-9);
  EXPECT_NEAR(flow_gpm(5000), 593, 1e-9);
  EXPECT_NEAR(flow_gpm(55), (29.1 + 32) / 2, 1e-9);
  EXPECT_EQ(flow_gpm(0), 0);
  EXPECT_FALSE(demand_flow(5000).beyond_table);
  EXPECT_TRUE(demand_flow(5001).beyond_table);
  EXPECT_EQ(demand_flow(30).citation.document, "IPC");
  EXPECT_THROW(demand_flow(-1), std::logic_error);
}

// Flush tanks: 4 gpm, in use a fifth of the time, 5 units each. The printed curve was drawn through tanks and
// valves; where it follows the tanks (250 to 1000 units) it does so within 11 %.
TEST(DemandFlow, FollowsHuntersBinomialWhereTanksRule) {
  for (const tables::Row& row : reference::published("hunter_binomial_check").rows()) {
    const int n = static_cast<int>(row.number("n_tank"));
    EXPECT_EQ(binomial_99(n, 0.2), static_cast<int>(row.number("m_tank"))) << n;
    const double units = row.number("wsfu"), binomial_gpm = 4.0 * binomial_99(n, 0.2);
    EXPECT_NEAR(flow_gpm(units), row.number("gpm_tank_table"), 1e-9);
    if (units >= 250 && units <= 1000) {
      EXPECT_NEAR(flow_gpm(units) / binomial_gpm, 1, 0.11) << units;
    }
  }
}

// IPC 2018, Table E103.3(2), read in a transcription.
TEST(FixtureUnits, AsTheTableGivesThem) {
  EXPECT_EQ(fixture_units("lavatory", Occupancy::private_use).hot, 0.5);
  EXPECT_EQ(fixture_units("lavatory", Occupancy::public_use).hot, 1.5);
  EXPECT_EQ(fixture_units("shower", Occupancy::private_use).hot, 1);
  EXPECT_EQ(fixture_units("bath", Occupancy::public_use).hot, 3);
  EXPECT_EQ(fixture_units("service-sink", Occupancy::public_use).hot, 2.25);
  EXPECT_EQ(fixture_units("dishwasher", Occupancy::private_use).hot, 1.4);
  EXPECT_THROW(fixture_units("fountain", Occupancy::public_use), std::logic_error);
}

TEST(FixtureUnits, EveryFixtureAJobMayNameHasThem) {
  for (const tables::Row& row : tables::table("rules_fixtures").rows())
    for (const auto occupancy : {Occupancy::private_use, Occupancy::public_use}) {
      EXPECT_GT(fixture_units(row.text("id"), occupancy).hot, 0) << row.text("id");
    }
}

}  // namespace
}  // namespace firstdraw::rules
