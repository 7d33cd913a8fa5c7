// The panel's face: odd positions left, even ones right, every circuit once, nothing on top of another.
#include "paper/panel_picture.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "paper/fit_label.hpp"
#include "paper/test_ink.hpp"
#include "paper/test_panel.hpp"

namespace firstdraw::paper {
namespace {

using testing::IsEmpty;
constexpr double width_mm = 176;  // upright A4 between its margins

class PanelPicture : public testing::Test {
 protected:
  void SetUp() override {
    auto created = Typesetter::create();
    ASSERT_TRUE(created) << created.error();
    type_.emplace(std::move(*created));
  }
  PanelFace face_of(const TestPanelCase& of) {
    made_ = test_panel(of);
    return panel_face(made_.job, made_.plan, made_.plan.panels.front());
  }
  std::optional<Typesetter> type_;
  TestPanel made_;
};

TEST_F(PanelPicture, CountsPositionsFromPlacesOrFreePolesRoundedUpToEven) {
  EXPECT_EQ(face_of({.circuits = 1}).positions, 4);  // 1 and 3
  EXPECT_EQ(face_of({.circuits = 1, .free_poles = 17}).positions, 18);
}

// Two pairs of three lines: 12 A at 208 V are 2496 VA, half to each line.
TEST_F(PanelPicture, ALoadBetweenTwoLinesGivesHalfToEach) {
  const PanelFace face = face_of({.circuits = 2});
  EXPECT_NEAR(face.line_va[0], 1248, 1e-9);
  EXPECT_NEAR(face.line_va[1], 2496, 1e-9);
  EXPECT_NEAR(face.line_va[2], 1248, 1e-9);
}

// Balanced: power of a line over line-to-neutral voltage is the line current, sqrt(3) times that of a pair
// (closed form of a symmetric delta).
TEST_F(PanelPicture, BalancedPairsGiveTheLineCurrentOfADelta) {
  const PanelFace face = face_of({.circuits = 3});
  const double root3 = std::sqrt(3.0);
  for (const double line_va : face.line_va) EXPECT_NEAR(line_va / (208 / root3), 12 * root3, 1e-9);
}

TEST_F(PanelPicture, TheSumOfTheLinesIsTheLoadOfThePanel) {
  for (const bool pairs : {true, false}) {
    const PanelFace face = face_of({.circuits = 13, .line_to_line = pairs});
    EXPECT_NEAR(std::accumulate(face.line_va.begin(), face.line_va.end(), 0.0), 13 * 12 * 208.0, 1e-6);
  }
}

TEST_F(PanelPicture, EveryPositionAndCircuitStandsOnce) {
  const PanelFace face = face_of({.circuits = 20, .free_poles = 42});
  LabelKeeper kept(*type_);
  draw_panel_face(kept, face, {0, panel_rows(face)}, width_mm);
  for (int place = 1; place <= face.positions; ++place)
    EXPECT_EQ(kept.count_of(std::to_string(place)), 1U) << place;
  for (const power::Circuit& circuit : made_.plan.circuits) EXPECT_EQ(kept.count_of(circuit.id), 1U);
  EXPECT_EQ(kept.count_of("free"), 42U - 40U);
}

TEST_F(PanelPicture, OddPositionsStandLeftOfEvenOnesOfTheSameRow) {
  const PanelFace face = face_of({.circuits = 4});
  LabelKeeper kept(*type_);
  draw_panel_face(kept, face, {0, panel_rows(face)}, width_mm);
  const auto room_of = [&](const std::string& text) {
    return std::ranges::find(kept.labels, text, &LabelKeeper::Label::text)->room;
  };
  EXPECT_LT(room_of("1").right_mm, width_mm / 2);
  EXPECT_GT(room_of("2").left_mm, width_mm / 2);
  EXPECT_DOUBLE_EQ(room_of("1").top_mm, room_of("2").top_mm);
  EXPECT_LT(room_of("1").top_mm, room_of("3").top_mm);
}

TEST_F(PanelPicture, APositionThatIsNotGivenAsFreeIsNotClaimed) {
  LabelKeeper kept(*type_);
  const PanelFace face = face_of({.circuits = 1});
  draw_panel_face(kept, face, {0, panel_rows(face)}, width_mm);
  EXPECT_EQ(kept.count_of("free"), 0U);
  EXPECT_EQ(kept.count_of("not ours: not known"), 2U);
}

TEST_F(PanelPicture, NothingOverflowsOrOverlapsHoweverLongTheNames) {
  for (const bool pairs : {true, false}) {
    const PanelFace face = face_of({.circuits = 40,
                                    .line_to_line = pairs,
                                    .panel_name = std::string(200, 'W'),
                                    .prefix = "CIRCUIT-4-EAST-",
                                    .node_prefix = "NODE-OF-THE-FOURTH-LEVEL-EAST-BRANCH-"});
    for (int first = 0; first < panel_rows(face); first += 13) {
      const PanelRows rows{first, std::min(13, panel_rows(face) - first)};
      LabelKeeper kept(*type_);
      draw_panel_face(kept, face, rows, width_mm);
      EXPECT_THAT(kept.clashes(), IsEmpty());
      EXPECT_THAT(kept.outside(width_mm, panel_face_height_mm(rows.count)), IsEmpty());
      for (const auto& label : kept.labels) EXPECT_GE(label.size_pt, least_label_pt) << label.text;
    }
  }
}

TEST_F(PanelPicture, ACircuitWithoutAPlaceIsNamed) {
  made_ = test_panel({.circuits = 2});
  made_.plan.circuits[1].places.clear();
  const PanelFace face = panel_face(made_.job, made_.plan, made_.plan.panels.front());
  EXPECT_THAT(face.unplaced, testing::ElementsAre("C02"));
}

}  // namespace
}  // namespace firstdraw::paper
