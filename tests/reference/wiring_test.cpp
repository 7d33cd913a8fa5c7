// Published tables and worked cases through the wiring of a branch circuit.
#include "power/wiring.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "published.hpp"

namespace firstdraw::power {
namespace {

using reference::published;

job::Panel panel_at(double voltage_v) {
  job::Panel panel;
  panel.voltage_v = voltage_v;
  panel.line_to_line = voltage_v > 200;
  return panel;
}

// nec_branch_circuits.csv B1-B7: worked by hand from the NEC 2023 rules as read. Exact. B6: three circuits
// together, six conductors, 50 °C.
TEST(WireBranchReference, WorkedBranchCircuits) {
  for (const tables::Row& row : published("nec_branch_circuits").rows()) {
    job::Job job;
    job.wiring.ambient_c = row.number("ambient_C");
    job.wiring.terminal_c = row.number("terminal_column_C");
    const int wires = static_cast<int>(row.number("ccc"));
    job.wiring.circuits_together = (wires + 1) / 2;
    const BranchWiring wiring =
        wire_branch(job, panel_at(row.number("V_V")),
                    {.load_a = row.number("load_A_continuous"), .device_a = row.number("ocpd_A")});
    EXPECT_EQ(wiring.trouble, "") << row.text("case");
    EXPECT_EQ(wiring.conductor, row.text("conductor_awg") + " AWG") << row.text("case");
    EXPECT_EQ(wiring.earth, row.text("egc_awg") + " AWG") << row.text("case");
  }
}

// NEC informative Annex C, Table C.1 (memory): nine 12 AWG THHN or THWN-2 in EMT 1/2, no more. Four circuits
// of two wires share one earth: nine. Chapter 9 Tables 4 and 5 (read): 9 x 0.0133 in2 of 0.304 in2. Table
// 310.15(C)(1) for eight: 0.7 x 30 A = 21 A.
TEST(WireBranchReference, FourTwentyAmpereCircuitsInHalfInchConduit) {
  job::Job job;
  job.wiring.circuits_together = 4;
  const BranchCase branch{.load_a = 16, .device_a = 20, .two_live = true};
  const BranchWiring four = wire_branch(job, panel_at(208), branch);
  EXPECT_EQ(four.conductor, "12 AWG");
  EXPECT_EQ(four.conduit, "1/2");
  EXPECT_NEAR(four.fill_frac, 9 * 0.0133 / 0.304, 1e-9);
  EXPECT_NEAR(four.ampacity_a, 20, 1e-9);  // terminals of 60 °C are less than 21 A
  job.wiring.circuits_together = 5;        // ten: 0.5 x 30 A = 15 A, below the load
  EXPECT_EQ(wire_branch(job, panel_at(208), branch).conductor, "10 AWG");
}

// voltage_drop_examples VD4: 120 V, 20 A, 100 ft of 12 AWG stranded, chapter 9 Table 8 (read): 7.92 V, 6.6 %.
// VD6: 230 V, 16 A, 30 m of 2.5 mm2, IEC 60228 at 70 °C: 8.51142 V (computed from read values).
TEST(WireBranchReference, VoltageDropOfTheExamples) {
  job::Job job;
  job.wiring.max_drop_frac = 0.2;  // the examples do not enlarge
  const BranchWiring us = wire_branch(job, panel_at(120), {.load_a = 16, .device_a = 20, .one_way_m = 30.48});
  EXPECT_EQ(us.conductor, "12 AWG");
  EXPECT_NEAR(us.loop_ohm_per_m * us.one_way_m * 20 / 120, 0.066, 5e-5);
  job.requirements.rules = rules::RuleSet::intl;
  job.wiring.insulation = "PVC";
  job.wiring.method = "B2";
  job.wiring.make = "class 2";
  const BranchWiring intl = wire_branch(job, panel_at(230), {.load_a = 16, .device_a = 20, .one_way_m = 30});
  EXPECT_EQ(intl.conductor, "2.5 mm2");
  EXPECT_NEAR(intl.loop_ohm_per_m * intl.one_way_m * 16, 8.51142, 5e-6);
}

// NEC 240.4(B) and Tables 310.16, 250.122 (read): 100 A main, 60 °C terminals: 2 AWG (95 A, next rating 100
// A), earth 8 AWG. IEC 60364-5-52 Table B.52.4 C (read): 63 A on 16 mm2 (76 A), earth 16 mm2.
TEST(WireSupplyReference, ConductorsOfAMain) {
  job::Job job;
  job::Panel panel = panel_at(208);
  panel.main_a = 100;
  panel.supply_length_m = 5;
  const PanelSupply us = wire_supply(job, panel, {.load_a = 60});
  EXPECT_EQ(us.conductor, "2 AWG");
  EXPECT_EQ(us.earth, "8 AWG");
  job.requirements.rules = rules::RuleSet::intl;
  job.wiring.insulation = "PVC";
  job.wiring.method = "C";
  job.wiring.make = "class 2";
  panel.voltage_v = 400;
  panel.main_a = 63;
  const PanelSupply intl = wire_supply(job, panel, {.load_a = 50});
  EXPECT_EQ(intl.conductor, "16 mm2");
  EXPECT_EQ(intl.earth, "16 mm2");
}

}  // namespace
}  // namespace firstdraw::power
