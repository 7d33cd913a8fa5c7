#include "units/clock.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <stdexcept>

namespace firstdraw::units {
namespace {

using testing::HasSubstr;

double time_of(std::string_view text) {
  const auto time_s = parse_time_of_day(text);
  EXPECT_TRUE(time_s) << text << ": " << (time_s ? "" : time_s.error());
  return time_s.value_or(-1);
}

int days_of(std::string_view text) {
  const auto days = parse_weekdays(text);
  EXPECT_TRUE(days) << text << ": " << (days ? "" : days.error());
  return days.value_or(0);
}

std::string complaint_about_days(std::string_view text) {
  const auto days = parse_weekdays(text);
  EXPECT_FALSE(days) << text;
  return days ? "" : days.error();
}

TEST(TimeOfDay, AsWritten) {
  EXPECT_EQ(time_of("00:00"), 0);
  EXPECT_EQ(time_of("5:00"), 5 * 3600);
  EXPECT_EQ(time_of("22:00"), 22 * 3600);
  EXPECT_EQ(time_of(" 06:30 "), 6.5 * 3600);
  EXPECT_EQ(time_of("23:59:59"), 86399);
  EXPECT_EQ(time_of("24:00"), 86400);
}

TEST(TimeOfDay, OnAClockOfTwelveHours) {
  EXPECT_EQ(time_of("10 pm"), 22 * 3600);
  EXPECT_EQ(time_of("10:30PM"), 22.5 * 3600);
  EXPECT_EQ(time_of("5:15 am"), 5.25 * 3600);
  EXPECT_EQ(time_of("12 am"), 0);  // midnight
  EXPECT_EQ(time_of("12:00 pm"), 12 * 3600);
  EXPECT_EQ(time_of("12:30 am"), 1800);
}

TEST(TimeOfDay, RejectsWhatIsNone) {
  for (const auto* text : {"", "22", "22 h", "25:00", "24:01", "12:60", "-1:00", "12:00:60", "1:2:3:4",
                           "13 pm", "0 am", "noon", "22:00 mon", "1e1:00", "012:00", "12:", ":30", "am"}) {
    const auto time_s = parse_time_of_day(text);
    EXPECT_FALSE(time_s) << text << " read as " << time_s.value_or(0);
  }
  EXPECT_THAT(parse_time_of_day("half past ten").error(), HasSubstr("write it as \"22:00\" or \"10 pm\""));
}

TEST(TimeOfDay, EverySecondReadsBack) {
  for (int second = 0; second <= 86400; ++second) {
    ASSERT_EQ(parse_time_of_day(time_of_day_text(second)), second);
  }
  EXPECT_EQ(time_of_day_text(79200), "22:00");
  EXPECT_EQ(time_of_day_text(18015), "05:00:15");
  for (const double wrong : {-1.0, 0.5, 86401.0}) EXPECT_THROW(time_of_day_text(wrong), std::logic_error);
}

TEST(Weekdays, AsWritten) {
  EXPECT_EQ(days_of("all"), 0b1111111);
  EXPECT_EQ(days_of("mon-fri"), 0b0011111);
  EXPECT_EQ(days_of("sat,sun"), 0b1100000);
  EXPECT_EQ(days_of("Mon, Wed , fri"), 0b0010101);
  EXPECT_EQ(days_of("Monday - Tuesday, sunday"), 0b1000011);
  EXPECT_EQ(days_of("fri-mon"), 0b1110001);  // over the weekend
  EXPECT_EQ(days_of("tue-mon"), 0b1111111);
  EXPECT_EQ(days_of("sun"), 0b1000000);
  EXPECT_EQ(days_of("thurs"), 0b0001000);
}

TEST(Weekdays, NamesTheNearest) {
  EXPECT_THAT(complaint_about_days("mon-fry"), HasSubstr("\"fry\" is no day of the week"));
  EXPECT_THAT(complaint_about_days("wendesday"), HasSubstr("did you mean \"wednesday\"?"));
  for (const auto* text : {"", "mo", "mon,", "mon-wed-fri", "mon fri", "-", "all,mon"})
    complaint_about_days(text);
}

TEST(Weekdays, EverySetReadsBack) {
  for (int days = 1; days < 128; ++days) {
    ASSERT_EQ(parse_weekdays(weekdays_text(static_cast<std::uint8_t>(days))), days);
  }
  EXPECT_EQ(weekdays_text(0b0011111), "mon-fri");
  EXPECT_EQ(weekdays_text(0b1100000), "sat,sun");
  EXPECT_EQ(weekdays_text(0b1110101), "mon,wed,fri-sun");
  EXPECT_THROW(weekdays_text(0), std::logic_error);
}

}  // namespace
}  // namespace firstdraw::units
