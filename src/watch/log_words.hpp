// Words that loggers use: in headers, for units, for switches and for readings that are missing.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/quantity.hpp"

namespace firstdraw::watch {

/// "temperature", "current"… as a LogColumn has them; what cannot be told is a fraction.
units::Kind kind_of_quantity(std::string_view quantity);
std::vector<std::string> quantity_names();

/// A header cell in one line, with plain blanks and without what broken encodings leave before a degree sign.
std::string clean_header(std::string_view cell);
/// The same of a unit, so that the units room knows it.
std::string clean_unit(std::string_view text);

/// "on", "true", "closed" and their opposites.
std::optional<bool> switched_word(std::string_view cell);
/// A text that loggers write for a missing reading: "NaN", "---", "#N/A".
bool says_missing(std::string_view cell);
/// A number that some write for it: -999, 9999.
bool is_missing_number(double value);

/// What a header says of its column.
struct HeaderWords {
  std::string name;       // without the unit
  std::string unit;       // "°F"; empty: none given
  std::string quantity;   // empty: the words do not tell
  bool left_out = false;  // a humidity, a battery, a flow: nothing that is read
};
HeaderWords read_header(std::string_view header);

/// "Pipe sensor 2" → "pipe-sensor-2".
std::string slug_of(std::string_view text);
/// Letters and digits in lower case, each stretch a word: "R-04 Temp" → r, 04, temp.
std::vector<std::string> words_of(std::string_view text);

}  // namespace firstdraw::watch
