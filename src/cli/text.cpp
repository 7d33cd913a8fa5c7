#include "cli/text.hpp"

#include <locale.h>
#include <wchar.h>

#include <algorithm>

namespace firstdraw::cli {
namespace {

constexpr std::string_view replacement = "\uFFFD";

/// The C library's character tables for UTF-8, whatever the user's locale is.
locale_t utf8_locale() {
  static const locale_t locale = newlocale(LC_CTYPE_MASK, "C.UTF-8", locale_t{});
  return locale;
}

class Utf8Scope {
 public:
  Utf8Scope() : before_(utf8_locale() == locale_t{} ? locale_t{} : uselocale(utf8_locale())) {}
  ~Utf8Scope() {
    if (before_ != locale_t{}) uselocale(before_);
  }
  Utf8Scope(const Utf8Scope&) = delete;
  Utf8Scope& operator=(const Utf8Scope&) = delete;

 private:
  locale_t before_;
};

struct Character {
  std::string_view bytes;
  wchar_t code = 0;
  bool valid = false;
};

Character next_character(std::string_view text) {
  mbstate_t state{};
  Character character;
  const std::size_t length = mbrtowc(&character.code, text.data(), text.size(), &state);
  character.valid = length <= text.size() && length > 0;
  character.bytes = text.substr(0, character.valid ? length : 1);
  return character;
}

std::vector<Character> characters(std::string_view text) {
  const Utf8Scope scope;
  std::vector<Character> result;
  while (!text.empty()) {
    result.push_back(next_character(text));
    text.remove_prefix(result.back().bytes.size());
  }
  return result;
}

int width_of(const Character& character) {
  if (!character.valid) return 1;
  return std::max(0, wcwidth(character.code));
}

bool is_control(const Character& character) { return !character.valid || wcwidth(character.code) < 0; }

constexpr std::string_view blanks = " \n\t";

bool is_unit(std::string_view word) {
  constexpr std::string_view units[] = {"°F", "°C",  "%", "ft", "in", "m",   "mm",  "W",
                                        "kW", "kWh", "A", "V",  "K",  "W/m", "W/ft"};
  word = word.substr(0, word.find_last_not_of(".,;:)") + 1);
  return std::ranges::find(units, word) != std::end(units);
}

std::size_t word_end(std::string_view text, std::size_t start) {
  return std::min(text.find_first_of(blanks, start), text.size());
}

/// Where the word at `start` ends; a number and its unit are one word.
std::size_t whole_word_end(std::string_view text, std::size_t start) {
  const std::size_t end = word_end(text, start);
  const bool is_number = std::string_view("0123456789").contains(text[end - 1]);
  const std::size_t next = text.find_first_not_of(blanks, end);
  if (!is_number || next == std::string_view::npos) return end;
  const std::size_t next_end = word_end(text, next);
  return is_unit(text.substr(next, next_end - next)) ? next_end : end;
}

std::vector<std::string_view> words(std::string_view text) {
  std::vector<std::string_view> result;
  for (std::size_t start = text.find_first_not_of(blanks); start != std::string_view::npos;) {
    const std::size_t end = whole_word_end(text, start);
    result.push_back(text.substr(start, end - start));
    start = text.find_first_not_of(blanks, end);
  }
  return result;
}

/// Pieces of a word that each fit in `width`.
std::vector<std::string> pieces(std::string_view word, int width) {
  const Utf8Scope scope;
  std::vector<std::string> result(1);
  int used = 0;
  for (const Character& character : characters(word)) {
    const int wide = width_of(character);
    if (used + wide > width && used > 0) {
      result.emplace_back();
      used = 0;
    }
    result.back() += character.bytes;
    used += wide;
  }
  return result;
}

}  // namespace

int display_width(std::string_view text) {
  const Utf8Scope scope;
  int width = 0;
  for (const Character& character : characters(text)) width += width_of(character);
  return width;
}

std::string printable(std::string_view text) {
  const Utf8Scope scope;
  std::string result;
  for (const Character& character : characters(text)) {
    if (character.bytes == "\n" || character.bytes == "\t" || character.bytes == "\r") {
      result += ' ';
    } else {
      result += is_control(character) ? replacement : character.bytes;
    }
  }
  return result;
}

std::vector<std::string> wrap(std::string_view text, int width) {
  width = std::max(1, width);
  std::vector<std::string> lines(1);
  int used = 0;
  for (const std::string_view word : words(text)) {
    for (const std::string& piece : pieces(word, width)) {
      const int wide = display_width(piece);
      const int blank = used > 0 ? 1 : 0;
      if (used + blank + wide > width && used > 0) {
        lines.emplace_back();
        used = 0;
      }
      if (used > 0) {
        lines.back() += ' ';
        ++used;
      }
      lines.back() += piece;
      used += wide;
    }
  }
  return lines;
}

int longest_word(std::string_view text) {
  int longest = 0;
  for (const std::string_view word : words(text)) longest = std::max(longest, display_width(word));
  return longest;
}

std::string pad_right(std::string_view text, int width) {
  const int missing = std::max(0, width - display_width(text));
  return std::string(text) + std::string(static_cast<std::size_t>(missing), ' ');
}

std::string pad_left(std::string_view text, int width) {
  const int missing = std::max(0, width - display_width(text));
  return std::string(static_cast<std::size_t>(missing), ' ') + std::string(text);
}

std::string paint(std::string_view text, Style style, bool colour) {
  constexpr std::string_view codes[] = {"", "1", "2", "31", "33", "32", "36"};
  const std::string_view code = codes[static_cast<std::size_t>(style)];
  if (!colour || code.empty() || text.empty()) return std::string(text);
  return "\x1b[" + std::string(code) + "m" + std::string(text) + "\x1b[0m";
}

}  // namespace firstdraw::cli
