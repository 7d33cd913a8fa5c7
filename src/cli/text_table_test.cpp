#include "cli/text_table.hpp"

#include <gmock/gmock.h>

#include <sstream>

namespace firstdraw::cli {
namespace {

using testing::HasSubstr;
using testing::Not;

TextTable runs() {
  TextTable table({{"Run", ""},
                   {"Where it goes", "", Column::Kind::wrapping_text},
                   {"Length", "ft", Column::Kind::number}});
  table.add_row({{"R-01"}, {"from the mixing valve to the foot of riser A"}, {"12.5"}});
  table.add_row({{"R-2"}, {"riser"}, {"120.0"}});
  return table;
}

int widest(const std::string& text) {
  std::istringstream lines(text);
  int most = 0;
  for (std::string line; std::getline(lines, line);) most = std::max(most, display_width(line));
  return most;
}

TEST(TextTable, SetsNumbersRightAndTextLeft) {
  EXPECT_EQ(runs().render(80, false),
            "                                                    Length\n"
            "Run   Where it goes                                     ft\n"
            "────  ────────────────────────────────────────────  ──────\n"
            "R-01  from the mixing valve to the foot of riser A    12.5\n"
            "R-2   riser                                          120.0\n");
}

TEST(TextTable, WrapsProseToFit) {
  EXPECT_EQ(runs().render(36, false),
            "                              Length\n"
            "Run   Where it goes               ft\n"
            "────  ──────────────────────  ──────\n"
            "R-01  from the mixing valve     12.5\n"
            "      to the foot of riser A\n"
            "R-2   riser                    120.0\n");
}

TEST(TextTable, DealsColumnsOutWhenTheyCannotFit) {
  const std::string text = runs().render(24, false);
  EXPECT_LE(widest(text), 24);
  EXPECT_THAT(text, HasSubstr("      Length\nRun       ft\n"));
  EXPECT_THAT(text, HasSubstr("R-2    120.0\n")) << "the first column is repeated beside what was left over";
}

TEST(TextTable, NeverCutsANumber) {
  for (int width = 1; width < 60; ++width) {
    EXPECT_THAT(runs().render(width, false), HasSubstr("120.0")) << width;
  }
}

TEST(TextTable, PaintsWithoutMovingAnything) {
  TextTable table({{"A", ""}, {"B", "", Column::Kind::number}});
  table.add_row({{"x", Style::red}, {"1"}});
  const std::string painted = table.render(80, true);
  EXPECT_THAT(painted, HasSubstr("\x1b[31mx\x1b[0m  1\n"));
  EXPECT_THAT(table.render(80, false), Not(HasSubstr("\x1b")));
}

TEST(TextTable, LeavesNoBlanksAtLineEnds) {
  std::istringstream lines(runs().render(36, false));
  for (std::string line; std::getline(lines, line);) EXPECT_FALSE(line.ends_with(' ')) << line;
}

TEST(TextTable, DisarmsCellText) {
  TextTable table(std::vector<Column>{{"A", ""}});
  table.add_row(std::vector<Cell>{{"x\x1b[2J"}});
  EXPECT_THAT(table.render(80, false), Not(HasSubstr("\x1b")));
}

TEST(TextTable, RefusesARaggedRow) {
  TextTable table({{"A", ""}, {"B", ""}});
  EXPECT_THROW(table.add_row(std::vector<Cell>{{"only one"}}), std::logic_error);
}

}  // namespace
}  // namespace firstdraw::cli
