// Dates and times as loggers write them.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "watch/log_format.hpp"

namespace firstdraw::watch {

/// What a clock showed, as if it were UTC, and how far it is from UTC where the text says so.
struct Stamp {
  std::int64_t clock_ms = 0;
  std::optional<int> utc_offset_s{};
  bool date_only = false;
  bool by_zone_name = false;  // the offset is that of a short name such as "EST"
};

/// "2026-03-04T05:06:07.5+01:00", "04.03.2026 05:06", "3/4/26 5:06:07 p.m.", "4-Mar-2026 17:06",
/// "20260304170607": read with that order of day, month and year. Years of two digits are 1970 to 2069.
std::optional<Stamp> read_stamp(std::string_view text, DateOrder order);
/// The same where date and time stand in two cells.
std::optional<Stamp> read_stamp(std::string_view date, std::string_view clock, DateOrder order);
/// "05:06:07", "5:06 PM": milliseconds after midnight.
bool is_clock(std::string_view text);

/// The three numbers of a date in the order they stand in; `named`: the month is written as a word, so that
/// no order is asked.
struct DateParts {
  std::array<int, 3> number{};
  std::array<int, 3> digits{};
  bool named = false;
};
std::optional<DateParts> date_parts(std::string_view text);

/// "+01:00", "-0500", "UTC+1", "GMT-04:00", "Z", "UTC": seconds.
std::optional<int> read_utc_offset(std::string_view text);
/// "+01:00".
std::string utc_offset_text(int offset_s);

/// Days since 1970-01-01 of a date that exists.
std::optional<std::int64_t> days_of(int year, int month, int day);

/// Rows of one day repeat their date: remembers the last one, and what it came to.
class StampReader {
 public:
  explicit StampReader(DateOrder order) : order_(order) {}
  std::optional<Stamp> read(std::string_view text);

 private:
  DateOrder order_;
  std::string date_;  // "2026-03-04 " as it was last
  std::int64_t day_ms_ = 0;
};

}  // namespace firstdraw::watch
