// The offsets of one time zone from UTC: read once, then a value that is handed in.
//
// read_zone is the room's only door to the machine: it reads the time zone data of the operating system
// (/usr/share/zoneinfo, package tzdata) through Howard Hinnant's date library. Everything else in the room
// computes from the Zone alone and touches no file and no clock.
#pragma once

#include <chrono>
#include <cstdint>
#include <expected>
#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::week {

using Date = std::chrono::year_month_day;

/// A stretch of time with one offset; it lasts to the next one.
struct ZoneSpan {
  std::int64_t from_unix_s = 0;  // seconds since 1970-01-01T00:00Z, leap seconds not counted
  int utc_offset_s = 0;          // local clock minus UTC
};

struct Zone {
  std::string name;  // "Europe/Berlin"
  int first_year = 0, last_year = 0;
  std::int64_t from_unix_s = 0, to_unix_s = 0;  // what the spans cover: the years and two days at either end
  std::vector<ZoneSpan> spans;                  // rising, never empty
};

/// The table of a zone for whole years, 1970 to 2037: the data end there, since the library does not read the
/// rule that the files give for later years. On failure one sentence: years out of range, no time zone data
/// on this machine, or no such zone, with the nearest known name.
std::expected<Zone, std::string> read_zone(std::string_view name, int first_year, int last_year);

/// Local clock minus UTC. A moment outside the zone's years throws std::out_of_range.
int utc_offset_s(const Zone& zone, std::int64_t unix_s);
/// When the clock is next changed after a moment; the end of the table when it is not.
std::int64_t next_change_unix_s(const Zone& zone, std::int64_t unix_s);

/// What the clock on the wall says.
struct LocalTime {
  Date date;
  int second_of_day = 0;  // on the clock, 0 to 86399
  int utc_offset_s = 0;

  int month() const { return static_cast<int>(static_cast<unsigned>(date.month())); }
  int hour() const { return second_of_day / 3600; }
};
LocalTime local_time(const Zone& zone, std::int64_t unix_s);

/// The moments at which the clock says this, rising: usually one, none in the gap when it is put forward, two
/// in the hour that comes again when it is put back. `second_of_day` may be 86400, the next midnight.
std::vector<std::int64_t> moments_of(const Zone& zone, const Date& date, int second_of_day);

/// The first moment of a local day: its midnight, or where the clock skips that, the moment of the change.
std::int64_t day_begin(const Zone& zone, const Date& date);
/// 86400 s, or 82800 and 90000 where the clock changes by an hour; 0 for a day that a zone left out.
std::int64_t day_length_s(const Zone& zone, const Date& date);

/// The day after; months and years carry.
Date next_day(const Date& date);
/// Days of a month, 28 to 31.
int days_in_month(int year, int month);
/// The first day of a month; month 13 is January of the next year.
Date first_of_month(int year, int month);

}  // namespace firstdraw::week
