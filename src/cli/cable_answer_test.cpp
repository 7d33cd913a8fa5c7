#include "cli/cable_answer.hpp"

#include <gmock/gmock.h>

namespace firstdraw::cli {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

SheetInUse sheet() {
  SheetInUse use;
  use.sheet.id = "test";
  use.sheet.rated_voltage_v = 208;
  use.sheet.output = {{10, 24}, {40, 16}, {70, 9}};
  use.sheet.voltage = {{190, 0.88}, {208, 1}, {240, 1.2}};
  use.sheet.cold_start = {{0, 0.25, 0.12}, {20, 0.17, 0.09}};
  use.sheet.max_length = {{20, 208, 0, 110}, {30, 208, 0, 130}};
  use.sheet.max_powered_c = 85;
  return use;
}

TEST(CableAnswer, ReadsTheSheet) {
  const CableAnswer got = answer(sheet(), 40, 208, 10.0, 0.0);
  EXPECT_DOUBLE_EQ(got.output.power_w_per_m, 16);
  EXPECT_DOUBLE_EQ(got.current_a_per_m, 16.0 / 208);
  EXPECT_DOUBLE_EQ(got.start.settled_a_per_m, 0.12);
  EXPECT_THAT(got.max_lengths, SizeIs(2));
  EXPECT_THAT(got.warnings, IsEmpty());
}

TEST(CableAnswer, SaysWhereTheSheetEnds) {
  EXPECT_THAT(answer(sheet(), 75, 208, {}, 0.0).warnings,
              Contains(HasSubstr("output table runs from 10 to 70 °C")));
  EXPECT_THAT(answer(sheet(), 40, 208, {}, -20.0).warnings,
              Contains(HasSubstr("cold-start table does not reach -20 °C")));
  EXPECT_THAT(answer(sheet(), 90, 208, {}, 0.0).warnings,
              Contains(HasSubstr("hotter than the cable may be")));
}

TEST(CableAnswer, RefusesAVoltageThatTheSheetDoesNotCover) {
  const CableAnswer got = answer(sheet(), 40, 120, {}, 0.0);
  EXPECT_FALSE(got.voltage_allowed);
  EXPECT_THAT(got.warnings, Contains(HasSubstr("do not connect it")));
}

TEST(CableAnswer, StartsFromTheQuestionThenTheJobThenTheUsual) {
  SheetInUse use = sheet();
  EXPECT_TRUE(answer(use, 40, 208, {}, {}).start_assumed);
  use.start_c = 12;
  EXPECT_DOUBLE_EQ(answer(use, 40, 208, {}, {}).start_c, 12);
  EXPECT_FALSE(answer(use, 40, 208, {}, {}).start_assumed);
  EXPECT_DOUBLE_EQ(answer(use, 40, 208, {}, 3.0).start_c, 3);
}

TEST(CableAnswer, AMissingSheetIsUnreadableNotAWrongCommandLine) {
  const auto got = find_sheet("no-such-sheet.toml");
  ASSERT_FALSE(got);
  EXPECT_EQ(got.error().code, ExitCode::job_unreadable);
}

}  // namespace
}  // namespace firstdraw::cli
