// Numbers as people write them: "12", "-3.5", "1e-3", "3/4", "1-1/2", "1 1/2", "1½".
#pragma once

#include <cstddef>
#include <expected>
#include <string>
#include <string_view>

namespace firstdraw::units {

/// Text with the typographic signs of other keyboards turned into plain ones: "²" → "2", "·" → "*",
/// "Ω" → "ohm", "°" → "deg", "″" → "\"", "½" → " 1/2", thin and fixed blanks → " ".
std::string plain(std::string_view text);

struct Number {
  double value = 0;
  std::size_t length = 0;  // characters used, from the start of the text
};

/// Number at the start of `text` (plain text, no leading blanks). On failure: what is wrong, without the
/// text.
std::expected<Number, std::string> read_number(std::string_view text);

/// `text` in quotes for a message, cut at 40 bytes between characters.
std::string quoted(std::string_view text);

std::string_view trim(std::string_view text);

}  // namespace firstdraw::units
