#include "cli/terminal.hpp"

#include <gtest/gtest.h>

#include "cli/progress.hpp"

namespace firstdraw::cli {
namespace {

Surroundings terminal_of(int columns) {
  Surroundings surroundings;
  surroundings.out_is_terminal = surroundings.err_is_terminal = true;
  surroundings.window_columns = columns;
  surroundings.term = "xterm-256color";
  return surroundings;
}

TEST(Terminal, WidthComesFromColumnsThenTheWindowThenAFile) {
  Surroundings surroundings = terminal_of(123);
  EXPECT_EQ(terminal_for(surroundings, ColourChoice::automatic).width, 123);
  surroundings.columns = "64";
  EXPECT_EQ(terminal_for(surroundings, ColourChoice::automatic).width, 64);
  EXPECT_EQ(terminal_for({}, ColourChoice::automatic).width, 100);
}

TEST(Terminal, IgnoresColumnsThatMakeNoSense) {
  Surroundings surroundings = terminal_of(90);
  for (const char* columns : {"", "wide", "80x", "0", "-5", "7"}) {
    surroundings.columns = columns;
    EXPECT_EQ(terminal_for(surroundings, ColourChoice::automatic).width, 90) << columns;
  }
}

TEST(Terminal, ColourOnlyOnATerminal) {
  EXPECT_TRUE(terminal_for(terminal_of(80), ColourChoice::automatic).colour);
  EXPECT_FALSE(terminal_for({}, ColourChoice::automatic).colour);
  EXPECT_TRUE(terminal_for({}, ColourChoice::always).colour);
  EXPECT_FALSE(terminal_for(terminal_of(80), ColourChoice::never).colour);
}

TEST(Terminal, NoColorAndDumbTerminalsRefuseIt) {
  Surroundings surroundings = terminal_of(80);
  surroundings.no_color = "1";
  EXPECT_FALSE(terminal_for(surroundings, ColourChoice::automatic).colour);
  EXPECT_TRUE(terminal_for(surroundings, ColourChoice::always).colour)
      << "an option is stronger than a variable";
  surroundings.no_color = "";
  EXPECT_TRUE(terminal_for(surroundings, ColourChoice::automatic).colour);
  surroundings.term = "dumb";
  EXPECT_FALSE(terminal_for(surroundings, ColourChoice::automatic).colour);
}

TEST(Terminal, EachStreamIsJudgedByItself) {
  Surroundings surroundings = terminal_of(80);
  surroundings.out_is_terminal = false;
  const Terminal terminal = terminal_for(surroundings, ColourChoice::automatic);
  EXPECT_FALSE(terminal.colour);
  EXPECT_TRUE(terminal.err_colour);
  EXPECT_TRUE(terminal.progress);
}

TEST(ProgressLine, ShowsHowFar) {
  EXPECT_EQ(ProgressLine::line("drawing", 0.0, 80), "▱▱▱▱▱▱▱▱▱▱ drawing");
  EXPECT_EQ(ProgressLine::line("drawing", 0.5, 80), "▰▰▰▰▰▱▱▱▱▱ drawing");
  EXPECT_EQ(ProgressLine::line("drawing", 7.0, 80), "▰▰▰▰▰▰▰▰▰▰ drawing");
  EXPECT_EQ(ProgressLine::line("drawing", 1.0, 12), "▰▰▰▰▰▰▰▰▰▰") << "never more than the line holds";
}

TEST(ProgressLine, TellsTheTimeLeftAtThePaceSoFar) {
  using Seconds = ProgressLine::Seconds;
  EXPECT_EQ(ProgressLine::time_left(Seconds(10), 0.2), ", 40 s left");
  EXPECT_EQ(ProgressLine::time_left(Seconds(60), 0.1), ", 9 min left");
  EXPECT_EQ(ProgressLine::time_left(Seconds(60), 0.01), "") << "too early to tell";
  EXPECT_EQ(ProgressLine::time_left(Seconds(60), 1), "");
}

}  // namespace
}  // namespace firstdraw::cli
