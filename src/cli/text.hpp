// UTF-8 text on a terminal: how wide it is, how it wraps, and what must never reach the terminal.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::cli {

/// Terminal columns of UTF-8 text: 0 for combining marks, 2 for wide characters.
int display_width(std::string_view text);

/// `text` with control characters and broken UTF-8 replaced by U+FFFD, so that a name in a job cannot steer
/// the terminal. Tabs and line ends become blanks.
std::string printable(std::string_view text);

/// Lines of at most `width` columns, broken at blanks; a word longer than that is broken between characters.
/// Never empty: empty text gives one empty line. `width` below 1 counts as 1.
std::vector<std::string> wrap(std::string_view text, int width);

/// Columns of the longest word of `text`.
int longest_word(std::string_view text);

/// `text` with blanks to fill `width` columns.
std::string pad_right(std::string_view text, int width);
std::string pad_left(std::string_view text, int width);

enum class Style { plain, bold, dim, red, yellow, green, cyan };

/// `text` between the terminal's codes for `style`; unchanged without colour.
std::string paint(std::string_view text, Style style, bool colour);

}  // namespace firstdraw::cli
