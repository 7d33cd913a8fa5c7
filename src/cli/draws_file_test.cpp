#include "cli/draws_file.hpp"

#include <gmock/gmock.h>

namespace firstdraw::cli {
namespace {

using testing::HasSubstr;

draw::Scene scene() {
  draw::Scene scene;
  for (const char* id : {"O-01", "O-02", "O-02#2"}) {
    draw::Tap tap;
    tap.id = id;
    scene.taps.push_back(tap);
  }
  return scene;
}

std::vector<draw::Draw> draws_of(const std::string& text) {
  const auto draws = read_draws(text, "log.csv", scene());
  if (draws) return *draws;
  ADD_FAILURE() << draws.error().front().text();
  return {};
}

/// Every problem, one a line.
std::string problems_of(const std::string& text) {
  const auto draws = read_draws(text, "log.csv", scene());
  std::string all;
  if (!draws)
    for (const job::Diagnostic& problem : draws.error()) all += problem.text() + "\n";
  return all;
}

TEST(DrawsFile, IsReadInUnitsOfItsHeadings) {
  const auto draws = draws_of("time (h),tap,flow (l/min),duration (s)\n6.5,O-02#2,6,90\n");
  ASSERT_EQ(draws.size(), 1U);
  EXPECT_EQ(draws[0].tap, 2);
  EXPECT_DOUBLE_EQ(draws[0].open_s, 6.5 * 3600);
  EXPECT_DOUBLE_EQ(draws[0].duration_s, 90);
  EXPECT_NEAR(draws[0].flow_m3_per_s, 1e-4, 1e-18);
}

TEST(DrawsFile, TakesUnitsInCellsAndColumnsInAnyOrder) {
  const auto draws = draws_of("tap,duration,flow,time\nO-01,2 min,1.5 gpm,7.25 h\n");
  ASSERT_EQ(draws.size(), 1U);
  EXPECT_DOUBLE_EQ(draws[0].duration_s, 120);
  EXPECT_NEAR(draws[0].flow_m3_per_s, 1.5 * 3.785411784e-3 / 60, 1e-15) << "US gallon: 231 in3, exact";
}

TEST(DrawsFile, RowsMayComeInAnyOrder) {
  const std::string head = "time (s),tap,flow (l/min),duration (s)\n", early = "10,O-02,6,5\n",
                    late = "900,O-01,4,30\n";
  EXPECT_EQ(draws_of(head + early + late), draws_of(head + late + early));
  EXPECT_EQ(draws_of(head + late + early).front().open_s, 10);
}

TEST(DrawsFile, EveryErrorNamesItsLineAndField) {
  const std::string problems = problems_of(
      "time (s),tap,flow (l/min),duration (s)\n"
      "0,O-03,6,60\n"
      "-5,O-01,6,60\n"
      "10,O-01,0,60\n"
      "20,O-01,6,soon\n"
      "30,,6,60\n");
  EXPECT_THAT(problems, HasSubstr("log.csv:2:3: draw · tap"));
  EXPECT_THAT(problems, HasSubstr("did you mean \"O-0"));
  EXPECT_THAT(problems, HasSubstr("log.csv:3:1: draw · time"));
  EXPECT_THAT(problems, HasSubstr("log.csv:4:9: draw · flow"));
  EXPECT_THAT(problems, HasSubstr("log.csv:5:11: draw · duration"));
  EXPECT_THAT(problems, HasSubstr("log.csv:6:4: draw · tap"));
}

TEST(DrawsFile, ColumnsMustBeThere) {
  EXPECT_THAT(problems_of("time (s),tap,flow (l/min)\n1,O-01,6\n"), HasSubstr("duration"));
  EXPECT_THAT(problems_of("time (s),tab,flow (l/min),duration (s)\n1,O-01,6,3\n"),
              HasSubstr("did you mean \"tap\"?"));
  EXPECT_THAT(problems_of("time (s),tap,flow (kg),duration (s)\n1,O-01,6,3\n"), HasSubstr("flow"));
}

TEST(DrawsFile, WithoutDrawsIsAnError) {
  EXPECT_THAT(problems_of("time (s),tap,flow (l/min),duration (s)\n"), HasSubstr("holds no draw"));
}

TEST(DrawsFile, AMissingFileSaysSo) {
  const auto draws = read_draws_file("/no/such/log.csv", scene());
  ASSERT_FALSE(draws.has_value());
  EXPECT_THAT(draws.error().front().text(), HasSubstr("log.csv"));
}

}  // namespace
}  // namespace firstdraw::cli
