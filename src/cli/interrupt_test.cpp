#include "cli/interrupt.hpp"

#include <gtest/gtest.h>

namespace firstdraw::cli {
namespace {

TEST(Interrupt, NotesTheFirstCtrlC) {
  const Interrupt interrupt;
  EXPECT_FALSE(Interrupt::asked());
  EXPECT_EQ(std::raise(SIGINT), 0);
  EXPECT_TRUE(Interrupt::asked());
}

TEST(Interrupt, ForgetsOldOnesAndGivesTheSignalBack) {
  {
    const Interrupt first;
    EXPECT_EQ(std::raise(SIGINT), 0);
  }
  const Interrupt second;
  EXPECT_FALSE(Interrupt::asked());
}

TEST(InterruptDeathTest, TheSecondCtrlCEndsTheProgram) {
  const auto twice = [] {
    const Interrupt interrupt;
    (void)std::raise(SIGINT);
    (void)std::raise(SIGINT);
  };
  EXPECT_EXIT(twice(), testing::KilledBySignal(SIGINT), "");
}

}  // namespace
}  // namespace firstdraw::cli
