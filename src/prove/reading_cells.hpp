// Cells of a readings file: one value each way. Private to the room.
#pragma once

#include <algorithm>
#include <expected>
#include <optional>
#include <string>
#include <string_view>

#include "prove/reading.hpp"

namespace firstdraw::prove {

template <class Items, class T>
bool holds(const Items& items, const T& wanted) {
  return std::ranges::find(items, wanted) != std::ranges::end(items);
}

template <class T>
using Cell = std::expected<T, std::string>;

/// A measured value with what its cell says of it.
struct CellValue {
  double value = 0;
  bool at_least = false;
  std::string text;
};

/// What an ohmmeter that shows OL is taken to say: more than this (our choice: every usual multimeter's range
/// goes beyond it).
inline constexpr double over_range_ohm = 1e6;

/// `unit`: of the heading; empty: the job's usual one, where there is no doubt which that is.
Cell<CellValue> read_value(What what, std::string_view text, std::string_view unit, units::System system);
Cell<bool> read_yes_no(What what, std::string_view text);
/// "2 % + 0.05 A"; a share is always of the reading.
Cell<InstrumentError> read_error(What what, std::string_view text, units::System system);
std::string error_text(What what, const InstrumentError& error, units::System system);
std::string value_text(const Reading& reading, units::System system);
/// "12", "5 min", "30 s" -> minutes.
Cell<double> read_minutes(std::string_view text, std::string_view unit);
/// "5", "5x", "x5".
Cell<double> read_times(std::string_view text);
/// "2026-11-29", with "T14:05" or " 14:05" and seconds and a zone where `with_time`.
std::optional<std::string> wrong_date(std::string_view text, bool with_time);

/// "12,5 A" -> "12.5 A".
std::string with_decimal_point(std::string_view text);
/// Lower case, blanks and underscores as '-'.
std::string as_name(std::string_view text);

}  // namespace firstdraw::prove
