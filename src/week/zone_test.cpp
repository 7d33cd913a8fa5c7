// Offsets against the law's rules and against the C library, which reads the same files by its own code.
#include "week/zone.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <ctime>
#include <stdexcept>

#include "week/calendar.hpp"

namespace firstdraw::week {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Zone zone_of(std::string_view name, int first = 2025, int last = 2025) {
  auto zone = read_zone(name, first, last);
  if (!zone) throw std::runtime_error(zone.error());
  return *zone;
}
Date day(int year, unsigned month, unsigned day) {
  return {std::chrono::year(year), std::chrono::month(month), std::chrono::day(day)};
}
std::vector<Date> days_of_length(const Zone& zone, int year, std::int64_t length_s) {
  std::vector<Date> found;
  for (Date d = day(year, 1, 1); d <= day(year, 12, 31); d = next_day(d)) {
    if (day_length_s(zone, d) == length_s) found.push_back(d);
  }
  return found;
}
Date sunday_after(const Date& first, int weeks) {
  return std::chrono::sys_days(first) + std::chrono::days((6 - weekday_of(first)) + 7 * weeks);
}

// Energy Policy Act of 2005, section 110: from the second Sunday of March to the first of November, at 2 h.
TEST(Zone, UnitedStatesRule) {
  const Zone zone = zone_of("America/Chicago", 2007, 2037);
  for (int year = 2007; year <= 2037; ++year) {
    EXPECT_THAT(days_of_length(zone, year, 82800), ElementsAre(sunday_after(day(year, 3, 1), 1)));
    EXPECT_THAT(days_of_length(zone, year, 90000), ElementsAre(sunday_after(day(year, 11, 1), 0)));
    EXPECT_EQ(days_of_length(zone, year, 86400).size(), std::chrono::year(year).is_leap() ? 364u : 363u);
  }
}

// Directive 2000/84/EC: from the last Sunday of March to the last of October, at 1 h UTC in all of the Union.
TEST(Zone, EuropeanRule) {
  for (const char* name : {"Europe/Berlin", "Europe/Lisbon", "Europe/Helsinki"}) {
    const Zone zone = zone_of(name, 2002, 2037);
    for (int year = 2002; year <= 2037; ++year) {
      const Date spring = sunday_after(day(year, 3, 25), 0), autumn = sunday_after(day(year, 10, 25), 0);
      EXPECT_THAT(days_of_length(zone, year, 82800), ElementsAre(spring)) << name;
      EXPECT_THAT(days_of_length(zone, year, 90000), ElementsAre(autumn)) << name;
      const std::int64_t noon_before = day_begin(zone, spring) - 43200;
      EXPECT_EQ(next_change_unix_s(zone, noon_before) % 86400, 3600) << name;
    }
  }
}

// The C library, in the same words: date, clock and offset every 6 h 7 min of 1970 to 2037.
TEST(Zone, AgainstTheCLibrary) {
  const char* old = std::getenv("TZ");
  const std::string before = old == nullptr ? "" : old;
  for (const char* name : {"America/New_York", "Europe/London", "Australia/Lord_Howe", "Asia/Kathmandu",
                           "Pacific/Apia", "America/Sao_Paulo", "Europe/Dublin", "America/St_Johns"}) {
    const Zone zone = zone_of(name, 1970, 2037);
    setenv("TZ", (":" + std::string(name)).c_str(), 1);
    tzset();
    for (std::int64_t at = 0; at < 2145916800; at += 22020) {
      const std::time_t moment = at;
      std::tm theirs{};
      localtime_r(&moment, &theirs);
      const LocalTime ours = local_time(zone, at);
      ASSERT_EQ(ours.utc_offset_s, theirs.tm_gmtoff) << name << " " << at;
      ASSERT_EQ(ours.second_of_day, theirs.tm_hour * 3600 + theirs.tm_min * 60 + theirs.tm_sec) << name;
      ASSERT_EQ(ours.date, day(theirs.tm_year + 1900, static_cast<unsigned>(theirs.tm_mon + 1),
                               static_cast<unsigned>(theirs.tm_mday)))
          << name << " " << at;
      ASSERT_EQ(weekday_of(ours.date), (theirs.tm_wday + 6) % 7) << name;
    }
  }
  before.empty() ? unsetenv("TZ") : setenv("TZ", before.c_str(), 1);
  tzset();
}

TEST(Zone, ThereAndBack) {
  for (const char* name : {"America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu", "UTC"}) {
    const Zone zone = zone_of(name);
    for (std::int64_t at = zone.from_unix_s; at < zone.to_unix_s; at += 599) {
      const LocalTime local = local_time(zone, at);
      EXPECT_THAT(moments_of(zone, local.date, local.second_of_day), testing::Contains(at));
    }
  }
}

TEST(Zone, GapAndDoubledHour) {
  const Zone zone = zone_of("America/New_York");
  EXPECT_THAT(moments_of(zone, day(2025, 3, 9), 2 * 3600 + 1800), IsEmpty());
  EXPECT_THAT(moments_of(zone, day(2025, 11, 2), 3600), ElementsAre(1762059600, 1762063200));
  EXPECT_EQ(moment_text(zone, 1762059600), "2025-11-02 01:00 -04:00");
  EXPECT_EQ(moment_text(zone, 1762063200), "2025-11-02 01:00 -05:00");
}

// Sao Paulo put its clock forward at midnight; Samoa left out 30 December 2011.
TEST(Zone, DaysWithoutMidnightAndNoDayAtAll) {
  const Zone brazil = zone_of("America/Sao_Paulo", 2018, 2018);
  EXPECT_EQ(day_length_s(brazil, day(2018, 11, 4)), 82800);
  EXPECT_EQ(moment_text(brazil, day_begin(brazil, day(2018, 11, 4))), "2018-11-04 01:00 -02:00");
  const Zone samoa = zone_of("Pacific/Apia", 2011, 2011);
  EXPECT_EQ(day_length_s(samoa, day(2011, 12, 30)), 0);
  EXPECT_EQ(day_length_s(samoa, day(2011, 12, 29)), 86400);
}

TEST(Zone, UnknownNameTellsTheNearest) {
  const auto nearest = [](const char* name) { return read_zone(name, 2025, 2025).error(); };
  EXPECT_THAT(nearest("America/New York"), HasSubstr("(did you mean \"America/New_York\"?)"));
  EXPECT_THAT(nearest("Europe/Berln"), HasSubstr("(did you mean \"Europe/Berlin\"?)"));
  EXPECT_THAT(nearest("berlin"), HasSubstr("(did you mean \"Europe/Berlin\"?)"));
  EXPECT_THAT(nearest("Chicgo"), HasSubstr("(did you mean \"America/Chicago\"?)"));
  EXPECT_THAT(nearest(""), HasSubstr("expected a name of the IANA list"));
}

TEST(Zone, YearsOutsideTheData) {
  EXPECT_THAT(read_zone("UTC", 2030, 2038).error(), HasSubstr("expected years from 1970 to 2037"));
  EXPECT_FALSE(read_zone("UTC", 2026, 2025));
  const Zone zone = zone_of("UTC");
  EXPECT_THROW(utc_offset_s(zone, zone.to_unix_s), std::out_of_range);
  EXPECT_THROW(day_begin(zone, day(2027, 1, 1)), std::out_of_range);
}

}  // namespace
}  // namespace firstdraw::week
