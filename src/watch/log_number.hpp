// Numbers as loggers write them: decimal point or comma, thousands parted, a unit behind.
#pragma once

#include <optional>
#include <string_view>

namespace firstdraw::watch {

struct LogNumber {
  double value = 0;
  std::string_view rest;  // behind it, trimmed: "°C" of "51.3 °C"
};

/// The number at the start of a cell. `decimal` is '.' or ','; the other one parts thousands, as do blanks
/// (also the narrow ones) and apostrophes, in groups of three and nowhere else. A comma and a point each
/// once and in that order decide for themselves nothing: what does not fit is no number.
std::optional<LogNumber> log_number(std::string_view cell, char decimal);

/// What a cell says about the decimal sign.
enum class DecimalHint { none, point, comma, either };  // either: "1,234" with one sign before three digits
DecimalHint decimal_hint(std::string_view cell);

}  // namespace firstdraw::watch
