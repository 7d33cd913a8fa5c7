#include "week/calendar.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace firstdraw::week {
namespace {

using testing::HasSubstr;

const Zone& zone() {
  static const Zone read = read_zone("Europe/Berlin", 2024, 2026).value();
  return read;
}
Date date(std::string_view text) { return parse_date(text).value(); }

TEST(Calendar, Holidays) {
  const auto calendar = make_calendar(zone(), {date("2025-12-25"), date("2025-01-01")}, {});
  ASSERT_TRUE(calendar);
  EXPECT_TRUE(is_holiday(*calendar, date("2025-01-01")));
  EXPECT_FALSE(is_holiday(*calendar, date("2026-01-01")));
  EXPECT_EQ(season_of(*calendar, date("2025-01-01")), "");
}

TEST(Calendar, SeasonsRunOverTheTurnOfTheYear) {
  using std::chrono::April, std::chrono::October;
  const auto calendar = make_calendar(zone(), {}, {{"winter", October / 15}, {"summer", April / 1}});
  ASSERT_TRUE(calendar);
  EXPECT_EQ(season_of(*calendar, date("2025-01-01")), "winter");
  EXPECT_EQ(season_of(*calendar, date("2025-03-31")), "winter");
  EXPECT_EQ(season_of(*calendar, date("2025-04-01")), "summer");
  EXPECT_EQ(season_of(*calendar, date("2025-10-14")), "summer");
  EXPECT_EQ(season_of(*calendar, date("2025-12-31")), "winter");
}

TEST(Calendar, EverySlipIsTold) {
  using std::chrono::February, std::chrono::April;
  const auto calendar = make_calendar(zone(), {date("2023-12-25")},
                                      {{"a", February / 29}, {"", April / 1}, {"a", April / 1}}, "site.toml");
  ASSERT_FALSE(calendar);
  ASSERT_EQ(calendar.error().size(), 5u);
  EXPECT_EQ(calendar.error()[0].text(),
            "site.toml: holidays[0]: 2023-12-25 is outside the years 2024 to 2026 of the calendar");
  EXPECT_THAT(calendar.error()[1].text(), HasSubstr("not on 02-29"));
  EXPECT_THAT(calendar.error()[2].text(), HasSubstr("needs a name"));
  EXPECT_THAT(calendar.error()[3].text(), HasSubstr("\"a\" is there twice"));
  EXPECT_THAT(calendar.error()[4].text(), HasSubstr("two seasons begin on 04-01"));
}

TEST(Calendar, DatesAsText) {
  EXPECT_EQ(date_text(date(" 2024-02-29 ")), "2024-02-29");
  for (const char* wrong :
       {"2025-02-29", "2025-13-01", "25-01-01", "2025/01/01", "2025-1-01x", "-025-01-01", ""})
    EXPECT_THAT(parse_date(wrong).error(), HasSubstr("write year, month and day")) << wrong;
}

TEST(Calendar, Weekdays) {
  EXPECT_EQ(weekday_of(date("2025-12-25")), 3);  // a Thursday
  EXPECT_TRUE(is_weekend(date("2025-11-02")));
  EXPECT_FALSE(is_weekend(date("2025-11-03")));
  EXPECT_EQ(days_in_month(2024, 2), 29);
  EXPECT_EQ(days_in_month(2025, 12), 31);
}

}  // namespace
}  // namespace firstdraw::week
