// One-line diagrams: every circuit of a panel once, nothing too small to read, nothing on top of another.
#include "paper/one_line.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "paper/fit_label.hpp"
#include "paper/test_ink.hpp"
#include "paper/test_panel.hpp"

namespace firstdraw::paper {
namespace {

using testing::IsEmpty;

constexpr double page_mm = 160, width_mm = 243;  // a wide sheet of letter paper

class OneLine : public testing::Test {
 protected:
  void SetUp() override {
    auto created = Typesetter::create();
    ASSERT_TRUE(created) << created.error();
    type_.emplace(std::move(*created));
  }

  OneLinePanel panel_of(const TestPanelCase& of) {
    made_ = test_panel(of);
    return one_line_of(made_.job, made_.plan, made_.plan.panels.front());
  }
  std::string svg_of(const TestPanelCase& of) {
    made_ = test_panel(of);
    return one_line_svg(made_.job, made_.plan, made_.plan.panels.front(), *type_);
  }

  std::optional<Typesetter> type_;
  TestPanel made_;
};

std::size_t times(const std::string& text, const std::string& word) {
  std::size_t found = 0;
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) ++found;
  return found;
}

TEST_F(OneLine, HoldsEveryCircuitOnce) {
  const std::string svg = svg_of({.circuits = 40});
  for (const power::Circuit& circuit : made_.plan.circuits) {
    EXPECT_EQ(times(svg, "<g id=\"one-line-" + circuit.id + "\">"), 1U) << circuit.id;
    EXPECT_EQ(times(svg, ">" + circuit.id + "</text>"), 1U) << circuit.id;
  }
}

TEST_F(OneLine, SaysBreakerTripPositionsWiresWayConnectionAndCable) {
  made_ = test_panel({.circuits = 1});
  power::Circuit& circuit = made_.plan.circuits.front();
  circuit.tee_nodes = {0};
  made_.plan.panels.front().least_main_a = 15;
  const std::string svg = one_line_svg(made_.job, made_.plan, made_.plan.panels.front(), *type_);
  for (const char* word : {"20 A, 2 poles", "30 mA", "L1-L2, positions 1, 3", "2 × 12 AWG, earth 12 AWG",
                           "EMT 1/2, 18 m one way", "N0", "LT-12", "30 m, 1 end, 1 tee", "Controller main",
                           "on run R1", "main not given; heating asks for 15.0 A"})
    EXPECT_NE(svg.find(word), std::string::npos) << word;
}

TEST_F(OneLine, AMissingProtectionOrConductorIsSaid) {
  made_ = test_panel({.circuits = 1});
  made_.plan.circuits.front().ground_fault = false;
  made_.plan.circuits.front().wiring.conductor.clear();
  const std::string svg = one_line_svg(made_.job, made_.plan, made_.plan.panels.front(), *type_);
  EXPECT_NE(svg.find("NO ground-fault protection"), std::string::npos);
  EXPECT_NE(svg.find("no conductor will do"), std::string::npos);
}

TEST_F(OneLine, CircuitsOfAGroupStandTogetherUnderTheirController) {
  const OneLinePanel panel = panel_of({.circuits = 6});
  ASSERT_EQ(panel.groups.size(), 2U);
  EXPECT_EQ(panel.groups[0].circuits.size(), 3U);
  EXPECT_EQ(panel.groups[0].circuits[1].id, "C03");
}

TEST_F(OneLine, SheetsHoldEveryRowOnceAndFitTheirHeight) {
  const OneLinePanel panel = panel_of({.circuits = 40});
  const std::vector<OneLineSheet> sheets = one_line_sheets(panel, page_mm);
  EXPECT_GE(sheets.size(), 3U);
  std::size_t circuits = 0;
  for (const OneLineSheet& sheet : sheets) {
    EXPECT_LE(one_line_height_mm(sheet), page_mm);
    EXPECT_EQ(sheet.rows.front().circuit, -1) << "a sheet begins with the controller";
    for (const OneLineRow& row : sheet.rows) circuits += row.circuit >= 0 ? 1 : 0;
  }
  EXPECT_EQ(circuits, 40U);
  EXPECT_TRUE(sheets.front().first && sheets.back().last && !sheets.front().last);
}

TEST_F(OneLine, NothingOverflowsOrOverlapsHoweverLongTheNames) {
  const std::string tail = " of the northern service corridor behind the laundry, upper level, east side";
  for (const rules::RuleSet rules : {rules::RuleSet::us, rules::RuleSet::intl}) {
    const OneLinePanel panel = panel_of({.circuits = 40,
                                         .panel_id = "HEATING-PANEL-LEVEL-4-EAST",
                                         .panel_name = "Panel" + tail,
                                         .prefix = "CIRCUIT-4-EAST-",
                                         .node_prefix = "NODE-OF-THE-FOURTH-LEVEL-EAST-BRANCH-",
                                         .rules = rules});
    for (const OneLineSheet& sheet : one_line_sheets(panel, page_mm)) {
      LabelKeeper kept(*type_);
      draw_one_line(kept, panel, sheet, width_mm);
      EXPECT_THAT(kept.clashes(), IsEmpty());
      EXPECT_THAT(kept.outside(width_mm, one_line_height_mm(sheet)), IsEmpty());
      for (const auto& label : kept.labels) EXPECT_GE(label.size_pt, least_label_pt) << label.text;
    }
  }
}

TEST_F(OneLine, TheLegendFitsItsWidth) {
  for (const SymbolSet set : {SymbolSet::us, SymbolSet::intl}) {
    LabelKeeper kept(*type_);
    const double height_mm = one_line_legend(kept, {0, 0}, width_mm, set);
    EXPECT_THAT(kept.clashes(), IsEmpty());
    EXPECT_THAT(kept.outside(width_mm, height_mm), IsEmpty());
  }
}

TEST_F(OneLine, ALabelThatDoesNotFitIsMadeSmallerThenCut) {
  LabelKeeper kept(*type_);
  const TextStyle style{8, 400};
  const double wide_mm = type_->width_mm("power connection", style);
  fit_label(kept, {0, 5}, "power connection", style, 0.8 * wide_mm);
  fit_label(kept, {0, 9}, "power connection", style, 0.3 * wide_mm);
  EXPECT_EQ(kept.labels[0].text, "power connection");
  EXPECT_LT(kept.labels[0].size_pt, 8);
  EXPECT_TRUE(kept.labels[1].text.ends_with("…"));
  EXPECT_LE(kept.labels[1].room.right_mm, 0.3 * wide_mm);
}

}  // namespace
}  // namespace firstdraw::paper
