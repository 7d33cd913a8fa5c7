// The days of a site: its zone, holidays and seasons. A value; nothing here touches a file or a clock.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/diagnostic.hpp"
#include "week/zone.hpp"

namespace firstdraw::week {

/// From this day of every year on, until the next season begins.
struct Season {
  std::string name;
  std::chrono::month_day from;
};

struct Calendar {
  Zone zone;
  std::vector<Date> holidays;   // rising
  std::vector<Season> seasons;  // rising within the year; may be empty
};

/// Sorts the lists and judges them: dates that do not exist, a holiday outside the zone's years, a season
/// that begins on 29 February, two that begin on one day, names that are empty or there twice.
/// `file` names where the lists were read.
job::Result<Calendar> make_calendar(Zone zone, std::vector<Date> holidays, std::vector<Season> seasons,
                                    std::string_view file = {});

/// "2025-12-25". On failure: one sentence that says what was expected.
std::expected<Date, std::string> parse_date(std::string_view text);
std::string date_text(const Date& date);
/// "2025-03-09 03:00 -04:00": local clock and its distance from UTC, so that a doubled hour stays clear.
std::string moment_text(const Zone& zone, std::int64_t unix_s);

/// Monday is 0.
int weekday_of(const Date& date);
bool is_weekend(const Date& date);  // Saturday, Sunday
bool is_holiday(const Calendar& calendar, const Date& date);
/// Empty when the calendar has no seasons. Before the first of the year the last one still runs.
std::string_view season_of(const Calendar& calendar, const Date& date);

}  // namespace firstdraw::week
