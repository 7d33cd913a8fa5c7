// What a job's wiring makes of a branch circuit and of a panel's supply. Published tables and worked cases:
// tests/reference/wiring_test.cpp.
#include "power/wiring.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

namespace firstdraw::power {
namespace {

using testing::Contains;
using testing::Field;
using testing::HasSubstr;
using testing::Not;

auto says(const std::string& text) { return Contains(Field(&rules::Reason::sentence, HasSubstr(text))); }
auto cites(const std::string& clause) {
  return Contains(Field(&rules::Reason::citation, Field(&rules::Citation::clause, HasSubstr(clause))));
}

job::Panel panel_us() {
  job::Panel panel;
  panel.voltage_v = 208;
  panel.line_to_line = true;
  return panel;
}

job::Job intl_job() {
  job::Job job;
  job.requirements.rules = rules::RuleSet::intl;
  job.wiring.insulation = "PVC";
  job.wiring.method = "B2";
  job.wiring.make = "class 2";
  return job;
}

const BranchCase short_branch{.load_a = 12, .device_a = 15, .one_way_m = 10, .two_live = true};

TEST(WireBranch, OneCircuitHasTwoLoadedConductorsAndAnEarth) {
  const BranchWiring wiring = wire_branch({}, panel_us(), short_branch);
  EXPECT_EQ(wiring.trouble, "");
  EXPECT_EQ(wiring.conductor, "14 AWG");
  EXPECT_EQ(wiring.earth, "14 AWG");
  EXPECT_EQ(wiring.conduit_kind, "EMT");
  EXPECT_EQ(wiring.conduit, "1/2");
  EXPECT_EQ(wiring.conduit_metric, "16");
  EXPECT_EQ(wiring.circuits_in_conduit, 1);
  EXPECT_THAT(wiring.reasons, says("2 loaded conductors"));
  EXPECT_THAT(wiring.reasons, cites("310.15(E)"));
  EXPECT_THAT(wiring.reasons, Not(cites("250.122(C)")));
}

TEST(WireBranch, CircuitsTogetherLowerTheCapacityAndShareOneEarth) {
  job::Job job;
  job.wiring.circuits_together = 4;  // 8 conductors: 0.7
  BranchCase branch = short_branch;
  branch.two_live = false;
  const BranchWiring wiring = wire_branch(job, panel_us(), branch);
  EXPECT_THAT(wiring.reasons, says("8 current-carrying conductors together: factor 0.7"));
  EXPECT_THAT(wiring.reasons, says("Line and neutral carry the whole current"));
  EXPECT_THAT(wiring.reasons, cites("250.122(C)"));
  EXPECT_THAT(wiring.reasons, says("9 conductors"));
}

TEST(WireBranch, TheNoticeOfTheAuthorityStandsOnceAndLast) {
  const auto reasons = wire_branch({}, panel_us(), short_branch).reasons;
  const std::string notice = rules::authority_notice(rules::RuleSet::us).sentence;
  EXPECT_EQ(std::ranges::count(reasons, notice, &rules::Reason::sentence), 1);
  EXPECT_EQ(reasons.back().sentence, notice);
}

TEST(WireBranch, AUserSaysADropAndAnOverrideIsNamed) {
  job::Job job;
  job.wiring.max_drop_frac = 0.01;
  BranchCase branch = short_branch;
  branch.one_way_m = 60;
  const BranchWiring tight = wire_branch(job, panel_us(), branch);
  EXPECT_EQ(tight.conductor_before_drop, "14 AWG");
  EXPECT_LE(tight.loop_ohm_per_m * 60 * 12, 0.01 * 208);
  job.overrides.push_back({"ambient-factor", 0.5, "measured", "A. Writer"});
  EXPECT_THAT(wire_branch(job, panel_us(), branch).reasons, says("Overridden by A. Writer"));
}

TEST(WireBranch, WhatCannotBeSaysWhyInOneSentence) {
  job::Job job;
  job.wiring.insulation = "THWM-2";
  EXPECT_THAT(wire_branch(job, panel_us(), short_branch).trouble, HasSubstr("did you mean \"THWN-2\""));
  job = {};
  job.wiring.make = "braided";
  EXPECT_THAT(wire_branch(job, panel_us(), short_branch).trouble, HasSubstr("make of conductor"));
  job = {};
  job.wiring.conduit = "ETM";
  EXPECT_THAT(wire_branch(job, panel_us(), short_branch).trouble, HasSubstr("EMT"));
  job = {};
  job.wiring.ambient_c = 95;
  EXPECT_THAT(wire_branch(job, panel_us(), short_branch).trouble, HasSubstr("too hot"));
  job = {};
  EXPECT_THAT(wire_branch(job, panel_us(), {.load_a = 14, .device_a = 15}).trouble, HasSubstr("too small"));
  EXPECT_THAT(wire_branch(job, panel_us(), {.load_a = 0, .device_a = 15}).trouble,
              HasSubstr("without current"));
  job.wiring.make = "solid";
  EXPECT_THAT(wire_branch(job, panel_us(), {.load_a = 40, .device_a = 50}).trouble,
              HasSubstr("no solid conductor"));
  job = {};
  job.wiring.insulation = "XHHW-2";
  const BranchWiring unlisted = wire_branch(job, panel_us(), short_branch);
  EXPECT_EQ(unlisted.conductor, "14 AWG");
  EXPECT_THAT(unlisted.trouble, HasSubstr("no raceway is sized"));
  job.wiring.conduit = "";
  EXPECT_EQ(wire_branch(job, panel_us(), short_branch).trouble, "");
}

TEST(WireBranch, BrokenOverridesAreTrouble) {
  job::Job job;
  job.overrides.push_back({"ambient-facter", 0.5, "measured", "A. Writer"});
  EXPECT_THAT(wire_branch(job, panel_us(), short_branch).trouble, HasSubstr("ambient-factor"));
}

TEST(WireBranch, TheOtherRuleSetHasNoRaceway) {
  job::Panel panel;
  panel.voltage_v = 230;
  const BranchWiring wiring = wire_branch(intl_job(), panel, {.load_a = 14, .device_a = 16, .one_way_m = 20});
  EXPECT_EQ(wiring.trouble, "");
  EXPECT_EQ(wiring.conductor, "1.5 mm2");
  EXPECT_EQ(wiring.conduit, "");
  EXPECT_THAT(wiring.reasons, says("No raceway is sized"));
}

TEST(WireSupply, NothingWithoutALength) {
  const PanelSupply supply = wire_supply({}, panel_us(), {.load_a = 50});
  EXPECT_EQ(supply.conductor, "");
  EXPECT_TRUE(supply.within_advice);
  EXPECT_TRUE(supply.reasons.empty());
}

TEST(WireSupply, ThreePhasesToNeutralFallByOneWayOfTheFullestPhase) {
  job::Panel panel;
  panel.voltage_v = 120;
  panel.main_a = 100;
  panel.supply_length_m = 30;
  const PanelSupply supply = wire_supply({}, panel, {.load_a = 60, .branch_drop_frac = 0.01});
  EXPECT_EQ(supply.conductor, "2 AWG");  // 60 °C: 95 A, next rating 100 A; 3 AWG: 85 A, 90 A
  EXPECT_EQ(supply.earth, "8 AWG");
  EXPECT_NEAR(supply.drop_frac, 0.634e-3 * 60 * 30 / 120, 1e-12);
  EXPECT_NEAR(supply.total_drop_frac, supply.drop_frac + 0.01, 1e-12);
  EXPECT_TRUE(supply.within_advice);
  panel.phases = 1;
  const PanelSupply single = wire_supply({}, panel, {.load_a = 60});
  EXPECT_NEAR(single.drop_frac, 2 * supply.drop_frac, 1e-12);
}

TEST(WireSupply, GrowsUntilBothAdvicesAreKept) {
  job::Panel panel = panel_us();
  panel.supply_length_m = 100;
  const PanelSupply light = wire_supply({}, panel, {.load_a = 30, .branch_drop_frac = 0});
  const PanelSupply tight = wire_supply({}, panel, {.load_a = 30, .branch_drop_frac = 0.035});
  EXPECT_LE(light.drop_frac, 0.03);
  EXPECT_GT(light.drop_frac, 0.015);
  EXPECT_LE(tight.drop_frac, 0.015);
  EXPECT_TRUE(tight.within_advice);
}

TEST(WireSupply, AStatedSizeIsCheckedAndItsEarthGrows) {
  job::Panel panel = panel_us();
  panel.main_a = 60;
  panel.supply_length_m = 20;
  panel.supply_size = "6 AWG";  // 4 AWG is asked for: 55 A and next rating 60 A
  EXPECT_EQ(wire_supply({}, panel, {.load_a = 40}).trouble, "");
  panel.supply_size = "8 AWG";
  const PanelSupply small = wire_supply({}, panel, {.load_a = 40});
  EXPECT_THAT(small.trouble, HasSubstr("8 AWG are stated where the rules ask for 6 AWG"));
  EXPECT_EQ(small.conductor, "8 AWG");
  EXPECT_GT(small.drop_frac, 0);
  panel.supply_size = "3 AWG";  // 52.62 of 26.24 kcmil: 10.38 grows to 20.8 kcmil, 6 AWG
  EXPECT_EQ(wire_supply({}, panel, {.load_a = 40}).earth, "6 AWG");
  panel.supply_size = "6 AVG";
  EXPECT_THAT(wire_supply({}, panel, {.load_a = 40}).trouble, HasSubstr("did you mean \"6 AWG\""));
}

TEST(WireSupply, TooLongForTheAdviceSaysSo) {
  job::Panel panel = panel_us();
  panel.supply_length_m = 5000;
  EXPECT_THAT(wire_supply({}, panel, {.load_a = 60}).trouble, HasSubstr("keeps 60 A over 16404"));
}

}  // namespace
}  // namespace firstdraw::power
