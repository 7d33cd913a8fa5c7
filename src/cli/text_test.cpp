#include "cli/text.hpp"

#include <gmock/gmock.h>

namespace firstdraw::cli {
namespace {

using testing::ElementsAre;

TEST(DisplayWidth, CountsColumnsNotBytes) {
  EXPECT_EQ(display_width(""), 0);
  EXPECT_EQ(display_width("115 °F"), 6);
  EXPECT_EQ(display_width("e\u0301"), 1) << "a combining accent takes no column";
  EXPECT_EQ(display_width("湯"), 2) << "a wide character takes two";
  EXPECT_EQ(display_width("\xff"), 1) << "a broken byte is shown as one replacement";
}

TEST(Printable, KeepsTextAndDropsWhatSteersTheTerminal) {
  EXPECT_EQ(printable("Büro 2·3"), "Büro 2·3");
  EXPECT_EQ(printable("a\x1b[31mb"), "a\uFFFD[31mb");
  EXPECT_EQ(printable("a\tb\nc"), "a b c");
  EXPECT_EQ(printable("\x07\xc3"), "\uFFFD\uFFFD");
  EXPECT_EQ(printable("\xc2\x9b"
                      "31m"),
            "\uFFFD31m")
      << "the one-character escape of 8-bit terminals";
}

TEST(Wrap, BreaksAtBlanks) {
  EXPECT_THAT(wrap("hot at every tap", 8), ElementsAre("hot at", "every", "tap"));
  EXPECT_THAT(wrap("  hot   tap ", 20), ElementsAre("hot tap"));
  EXPECT_THAT(wrap("", 10), ElementsAre(""));
}

TEST(Wrap, KeepsANumberWithItsUnit) {
  EXPECT_THAT(wrap("water at 115 °F, here", 13), ElementsAre("water at", "115 °F, here"));
  EXPECT_THAT(wrap("needs 30 % more", 8), ElementsAre("needs", "30 %", "more"));
  EXPECT_THAT(wrap("run 12 in level", 6), ElementsAre("run", "12 in", "level"));
}

TEST(Wrap, BreaksAWordThatIsTooLongBetweenCharacters) {
  EXPECT_THAT(wrap("°°°°°", 2), ElementsAre("°°", "°°", "°"));
  EXPECT_THAT(wrap("湯湯", 3), ElementsAre("湯", "湯"));
  EXPECT_THAT(wrap("ab", 0), ElementsAre("a", "b"));
}

TEST(Pad, FillsColumns) {
  EXPECT_EQ(pad_right("°F", 4), "°F  ");
  EXPECT_EQ(pad_left("°F", 4), "  °F");
  EXPECT_EQ(pad_left("long", 2), "long");
}

TEST(Paint, OnlyWithColour) {
  EXPECT_EQ(paint("stop", Style::red, true), "\x1b[31mstop\x1b[0m");
  EXPECT_EQ(paint("stop", Style::red, false), "stop");
  EXPECT_EQ(paint("stop", Style::plain, true), "stop");
  EXPECT_EQ(paint("", Style::red, true), "");
}

}  // namespace
}  // namespace firstdraw::cli
