// What a circuit's sheets say: its cable as a tree, wiring, labels, currents to expect.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <regex>

#include "paper/diagrams_circuit.hpp"
#include "paper/install.hpp"
#include "paper/label.hpp"
#include "paper/test_paper.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::paper {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;

class CircuitSheets : public testing::Test {
 protected:
  void SetUp() override {
    job_ = plan::small_job();
    job_.site.project_number = "T-1";
    plan_ = plan::make_plan(job_, {.samples = 0});
    ASSERT_EQ(plan_.circuits.size(), 1U);  // R1 to R4: mix - a - b, then c and d
    currents_ = current_grids(job_, plan_);
  }
  Pack pack() const { return {job_, plan_, drawing_, Show(job_), nullptr, currents_}; }
  const power::Circuit& circuit() const { return plan_.circuits.front(); }

  job::Job job_;
  plan::Plan plan_;
  RiserDrawing drawing_;
  std::vector<CurrentGrid> currents_;
};

TEST_F(CircuitSheets, TheTreeRunsFromTheFeedToEveryEnd) {
  const CableTree tree = cable_tree(plan_, circuit());
  ASSERT_EQ(tree.stretches.size(), circuit().runs.size());
  int ends = 0, tees = std::max(0, tree.from_feed - 1);
  double cable_m = 0;
  for (const CableTree::Stretch& stretch : tree.stretches) {
    ends += stretch.children == 0 ? 1 : 0;
    tees += std::max(0, stretch.children - 1);
    cable_m += stretch.end_m - stretch.begin_m;
    EXPECT_LE(stretch.end_m, tree.longest_m);
  }
  EXPECT_EQ(ends, std::ssize(circuit().end_nodes));
  EXPECT_EQ(tees, std::ssize(circuit().tee_nodes));
  EXPECT_EQ(tree.rows, ends);
  double planned_m = 0;
  for (const int run : circuit().runs) planned_m += plan_.runs[piping::at(run)].cable_length_m;
  EXPECT_NEAR(cable_m, planned_m, 1e-9);
}

TEST_F(CircuitSheets, NoTwoStretchesOfTheTreeLieOnEachOther) {
  const CableTree tree = cable_tree(plan_, circuit());
  for (const CableTree::Stretch& one : tree.stretches)
    for (const CableTree::Stretch& two : tree.stretches) {
      if (&one == &two || one.row != two.row) continue;
      EXPECT_TRUE(one.end_m <= two.begin_m || two.end_m <= one.begin_m);
    }
}

TEST_F(CircuitSheets, EveryPlaceHasItsLabel) {
  const std::vector<Label> labels = circuit_labels(pack(), circuit());
  EXPECT_EQ(labels.size(), 2 + circuit().tee_nodes.size() + circuit().end_nodes.size());
  EXPECT_EQ(labels[0].what, "Panel door");
  EXPECT_EQ(labels[1].what, "Power connection");
  for (const Label& label : labels) {
    EXPECT_EQ(label.code, "firstdraw:T-1/" + circuit().id);
    EXPECT_EQ(label.circuit, circuit().id);
    EXPECT_THAT(label.details.front(), HasSubstr("P1"));
    EXPECT_THAT(label.details.front(), HasSubstr("208 V"));
  }
}

TEST_F(CircuitSheets, TheSheetIsOnePageWithEverythingOfTheCircuit) {
  for (const char* paper : {"letter", "a4"}) {
    TestBook book(std::string("circuit-") + paper, paper);
    EXPECT_EQ(book.with([&](Book& pages) { circuit_sheet(pages, pack(), circuit()); }), 1);
    const std::string text = book.text();
    for (const char* run : {"R1", "R2", "R3", "R4"}) EXPECT_THAT(text, HasSubstr(run));
    for (const int node : circuit().end_nodes) EXPECT_THAT(text, HasSubstr(node_name(plan_, node)));
    EXPECT_THAT(text, HasSubstr("power connection"));
    EXPECT_THAT(text, HasSubstr("208 V"));
    EXPECT_THAT(text, HasSubstr("all right"));
  }
}

// The invented sheet lists outputs from 5 to 75 °C: everything between start and maintain is listed.
TEST_F(CircuitSheets, CurrentsFallWithThePipeAndRiseWithTheVoltage) {
  const CurrentGrid& grid = currents_.front();
  ASSERT_GE(grid.pipes_c.size(), 3U);
  ASSERT_EQ(grid.volts.size(), 3U);
  EXPECT_EQ(grid.pipes_c.front(), job_.requirements.start_c);
  EXPECT_EQ(grid.pipes_c.back(), job_.groups.front().maintain_c);
  EXPECT_THAT(grid.volts, ElementsAre(198, 208, 218));  // 95, 100 and 105 % of 208 V, whole
  for (std::size_t pipe = 0; pipe < grid.pipes_c.size(); ++pipe)
    for (std::size_t volt = 0; volt < 3; ++volt) {
      const power::ExpectedCurrent& value = grid.at(pipe, volt);
      EXPECT_LT(value.least_a, value.current_a);
      EXPECT_GT(value.most_a, value.current_a);
      if (pipe == 0) continue;
      EXPECT_LT(value.current_a, grid.at(pipe - 1, volt).current_a);
    }
}

// Without resistance in the bus wires the current is output times length over voltage.
TEST_F(CircuitSheets, CurrentsAreTheSheetsWhereTheBusWiresDropNothing) {
  for (physics::CableSheet& sheet : job_.cables) sheet.bus_loop_ohm_per_m = 1e-9;
  const auto grids = current_grids(job_, plan_);
  const physics::HeatingCable cable(job_.cables[piping::at(circuit().cable)]);
  double length_m = 0;
  for (const int run : circuit().runs) length_m += plan_.runs[piping::at(run)].cable_length_m;
  for (std::size_t pipe = 0; pipe < grids[0].pipes_c.size(); ++pipe)
    EXPECT_NEAR(grids[0].at(pipe, 1).current_a,
                cable.power_w_per_m(grids[0].pipes_c[pipe], 208) * length_m / 208, 1e-4);
}

TEST(CurrentGrid, TemperaturesAreRoundInTheUnitShown) {
  const auto us = grid_pipes_c((40 - 32) / 1.8, (130 - 32) / 1.8, units::System::us);
  std::vector<double> shown;
  for (const double pipe_c : us) shown.push_back(std::round((1.8 * pipe_c + 32) * 1e6) / 1e6);
  EXPECT_THAT(shown, ElementsAre(40, 60, 80, 100, 130));
  EXPECT_THAT(grid_pipes_c(5, 55, units::System::metric), ElementsAre(5, 20, 30, 40, 55));
  EXPECT_THAT(grid_pipes_c(55, 55, units::System::metric), ElementsAre(55));
  EXPECT_LE(grid_pipes_c(-40, 60, units::System::metric).size(), most_rows);
}

std::string table_text(const Table& table) {
  std::string text;
  for (const Row& row : table.rows)
    for (const std::string& cell : row.cells) text += cell + " | ";
  return std::regex_replace(text, std::regex("\u00A0"), " ");
}

TEST_F(CircuitSheets, OneCircuitIsSwitchedByTheControllerWhenItsContactsDo) {
  plan_.switching = {power::Switching{0, 0, {0}, false, 0, 8.4, 30}};
  const std::string text = table_text(control_wiring(pack(), 0));
  EXPECT_THAT(text, HasSubstr("Controller LINE L1, L2, PE"));
  EXPECT_THAT(text, HasSubstr("Contacts 30 A; the circuit draws 8.4 A"));
  EXPECT_THAT(text, testing::Not(HasSubstr("A1")));
  EXPECT_FALSE(wiring_of(job_, plan_, 0).contactor);
}

TEST_F(CircuitSheets, AContactorTakesEveryBreakersPolesAndSplitsNoCircuit) {
  power::Circuit circuit = plan_.circuits.front();
  circuit.poles = 2;
  plan_.circuits = {circuit, circuit, circuit};
  for (int each = 0; each < 3; ++each) plan_.circuits[piping::at(each)].id = "C0" + std::to_string(each + 1);
  plan_.switching = {power::Switching{0, 0, {0, 1, 2}, true, 6, 18.2, 0}};
  const std::string text = table_text(control_wiring(pack(), 0));
  for (const char* words : {"6 poles in all, each for at least 18.2 A, category AC-1", "Coils A1, A2",
                            "K1 1–2, 3–4;", "K1 5–6, 7–8;", "K2 1–2, 3–4;", "SENSOR S1, S2, SH"})
    EXPECT_THAT(text, HasSubstr(words));
  EXPECT_TRUE(wiring_of(job_, plan_, 0).contactor);
}

TEST_F(CircuitSheets, OnTheNeutralTheOtherWireIsNotSwitched) {
  job_.panels.front().line_to_line = false;
  plan_.circuits.front().poles = 1;
  plan_.circuits.front().phase = "L2";
  plan_.circuits.front().places = {3};
  plan_.switching = {power::Switching{0, 0, {0}, true, 1, 18.2, 0}};
  const std::string text = table_text(control_wiring(pack(), 0));
  EXPECT_THAT(text, HasSubstr("N and earth run through unswitched"));
  EXPECT_THAT(text, HasSubstr("Breaker C01 L2 (place 3)"));
  EXPECT_THAT(text, HasSubstr("K1 1–2;"));
}

}  // namespace
}  // namespace firstdraw::paper
