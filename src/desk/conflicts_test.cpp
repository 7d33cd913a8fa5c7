// Edits that come late: what somebody else changed since is shown, and nothing of it is lost.
#include <gmock/gmock.h>

#include "desk/desk.hpp"
#include "desk/examples.hpp"
#include "job/test_folder.hpp"

namespace firstdraw::desk {
namespace {

using testing::ElementsAre;

/// Two people at the clinic: Ann was first, Ben still sees revision 1.
class Late : public testing::Test {
 protected:
  void SetUp() override {
    auto opened = Desk::open(folder.path, plan::Options{0, 1, 1});
    ASSERT_TRUE(opened);
    desk = *std::move(opened);
  }
  void ann(const std::vector<Change>& changes) {
    const auto now = desk->edit({desk->now()->revision, "hers", "Ann", changes});
    ASSERT_TRUE(now) << texts_of(now.error().problems) << now.error().conflicts.size();
  }
  std::expected<Shared, Refused> ben(const Change& change, std::int64_t base = 1) {
    const Shared before = desk->now();
    auto answer = desk->edit({base, "his", "Ben", {change}});
    EXPECT_TRUE(answer || desk->now() == before) << "nothing is changed by halves";
    return answer;
  }
  /// "row column: was -> now, yours"; empty: it was made.
  std::vector<std::string> clashes(const std::expected<Shared, Refused>& answer) {
    std::vector<std::string> all;
    if (answer) return all;
    EXPECT_TRUE(answer.error().problems.empty()) << texts_of(answer.error().problems);
    for (const Conflict& each : answer.error().conflicts)
      all.push_back(each.row + " " + each.column + ": " + each.was + " -> " + each.now + ", " + each.yours);
    return all;
  }
  std::string length(const std::string& run) { return cell_of(desk->now()->text, "runs", run, "length"); }

  job::TestFolder folder{"examples/clinic"};
  std::unique_ptr<Desk> desk;
};

TEST_F(Late, APasteOverACellOfSomebodyElseIsAConflict) {
  const std::string third = length("R-03"), second = length("R-02");
  ann({SetCell{"runs", "R-03", "length", "25"}});
  EXPECT_THAT(clashes(ben(Paste{"runs", "R-02", "length", "19\n26\n"})),
              ElementsAre("R-03 length: " + third + " -> 25, 26"));
  EXPECT_EQ(length("R-03"), "25");
  EXPECT_EQ(length("R-02"), second);
  EXPECT_TRUE(ben(Paste{"runs", "R-02", "length", "19"})) << "a cell that nobody touched";
  EXPECT_TRUE(ben(Paste{"runs", "R-03", "length", "25"})) << "what stands there already";
  EXPECT_TRUE(ben(Paste{"runs", "R-03", "length", "26"}, desk->now()->revision)) << "he has seen hers";
  EXPECT_EQ(length("R-03"), "26");
}

TEST_F(Late, APasteOfRowsIsAConflictWhenARowIsGone) {
  ann({RemoveRow{"outlets", "O-04"}});
  EXPECT_THAT(clashes(ben(Paste{"outlets", "O-03", "note", "a\nb\n"})), ElementsAre("O-04 : O-04 -> , "));
  EXPECT_EQ(desk->last_editor("outlets", "O-04", ""), "Ann");
  EXPECT_EQ(cell_of(desk->now()->text, "outlets", "O-05", "note"), "");
  EXPECT_TRUE(ben(Paste{"outlets", "O-03", "note", "a"})) << "one row is named, wherever it stands";
}

TEST_F(Late, ARowThatSomebodyElseChangedIsNotTakenOut) {
  ann({SetCell{"outlets", "O-04", "note", "measured on site"}});
  EXPECT_THAT(clashes(ben(RemoveRow{"outlets", "O-04"})), ElementsAre("O-04 note:  -> measured on site, "));
  EXPECT_EQ(cell_of(desk->now()->text, "outlets", "O-04", "note"), "measured on site");
  EXPECT_TRUE(ben(RemoveRow{"outlets", "O-05"})) << "another row";
  EXPECT_TRUE(ben(RemoveRow{"outlets", "O-04"}, desk->now()->revision)) << "he has seen hers";
}

TEST_F(Late, ARowThatSomebodyElseChangedIsNotRenamed) {
  const std::string before = length("R-03");
  ann({SetCell{"runs", "R-03", "length", "25"}});
  EXPECT_THAT(clashes(ben(Rename{"runs", "R-03", "R-99"})),
              ElementsAre("R-03 length: " + before + " -> 25, R-99"));
  EXPECT_TRUE(ben(Rename{"runs", "R-04", "R-98"})) << "another row";
  EXPECT_TRUE(ben(Rename{"runs", "R-03", "R-99"}, desk->now()->revision));
  EXPECT_EQ(length("R-99"), "25");
}

TEST_F(Late, WhatWasTakenBackIsNoConflict) {
  ann({SetCell{"runs", "R-03", "length", "25"}});
  ASSERT_TRUE(desk->undo("Ann"));
  EXPECT_TRUE(ben(Paste{"runs", "R-03", "length", "26"}));
  EXPECT_EQ(length("R-03"), "26");
}

}  // namespace
}  // namespace firstdraw::desk
