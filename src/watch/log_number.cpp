#include "watch/log_number.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string>

#include "units/number.hpp"

namespace firstdraw::watch {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string_view without_blanks(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

/// Bytes of a sign that parts thousands at the start of `text`; 0: none.
std::size_t parting_sign(std::string_view text, char decimal) {
  if (text.empty()) return 0;
  const char other = decimal == '.' ? ',' : '.';
  if (text.front() == other || text.front() == ' ' || text.front() == '\'') return 1;
  constexpr std::array<std::string_view, 4> narrow{"\u00a0", "\u202f", "\u2009", "\u2019"};
  const auto* found =
      std::ranges::find_if(narrow, [text](std::string_view sign) { return text.starts_with(sign); });
  return found == narrow.end() ? 0 : found->size();
}

std::size_t digits_of(std::string_view text) {
  return static_cast<std::size_t>(std::ranges::find_if_not(text, is_digit) - text.begin());
}

/// Moves the whole part of `text` to `plain`, groups of three joined. false: no number begins here.
bool take_whole(std::string_view& text, char decimal, std::string& plain) {
  const std::size_t first = digits_of(text);
  plain += text.substr(0, first);
  text.remove_prefix(first);
  for (std::size_t sign = parting_sign(text, decimal); first > 0 && first <= 3 && sign > 0;
       sign = parting_sign(text, decimal)) {
    if (digits_of(text.substr(sign)) != 3) break;
    plain += text.substr(sign, 3);
    text.remove_prefix(sign + 3);
  }
  return first > 0;
}

/// Behind a number there may be a unit, no more digits or signs of numbers.
bool may_follow(std::string_view rest) {
  return rest.empty() || (!is_digit(rest.front()) && rest.front() != '.' && rest.front() != ',' &&
                          rest.front() != '/' && rest.front() != ':' && rest.front() != '-');
}

void take_power(std::string_view& text, std::string& plain) {
  if (text.empty() || (text.front() != 'e' && text.front() != 'E')) return;
  const std::size_t sign = text.size() > 1 && (text[1] == '-' || text[1] == '+') ? 2 : 1;
  const std::size_t digits = digits_of(text.substr(std::min(sign, text.size())));
  if (digits == 0) return;
  plain += text.substr(0, sign + digits);
  text.remove_prefix(sign + digits);
}

std::optional<LogNumber> slow_number(std::string_view text, char decimal) {
  std::string plain;
  constexpr std::string_view long_minus = "\u2212";
  if (text.starts_with(long_minus)) {
    plain = "-";
    text.remove_prefix(long_minus.size());
  } else if (!text.empty() && (text.front() == '-' || text.front() == '+')) {
    if (text.front() == '-') plain = "-";
    text.remove_prefix(1);
  }
  bool digits = take_whole(text, decimal, plain);
  if (!text.empty() && text.front() == decimal) {
    const std::size_t decimals = digits_of(text.substr(1));
    digits |= decimals > 0;
    plain += '.';
    plain += text.substr(1, decimals);
    text.remove_prefix(1 + decimals);
  }
  if (!digits) return std::nullopt;
  take_power(text, plain);
  double value = 0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
  if (error != std::errc{} || end == plain.data() || !may_follow(text)) return std::nullopt;
  return LogNumber{value, without_blanks(text)};
}

}  // namespace

std::optional<LogNumber> log_number(std::string_view cell, char decimal) {
  // The usual cell is "51.3": nothing to take apart.
  if (decimal == '.' && !cell.empty() && (is_digit(cell.front()) || cell.front() == '-')) {
    double value = 0;
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    if (error == std::errc{} && end == cell.data() + cell.size() && std::isfinite(value))
      return LogNumber{value, {}};
  }
  return slow_number(without_blanks(cell), decimal);
}

DecimalHint decimal_hint(std::string_view cell) {
  const auto point = log_number(cell, '.'), comma = log_number(cell, ',');
  const bool has_sign = cell.find_first_of(".,") != std::string_view::npos;
  if (!has_sign || (!point && !comma)) return DecimalHint::none;
  if (point && comma) return point->value == comma->value ? DecimalHint::none : DecimalHint::either;
  return point ? DecimalHint::point : DecimalHint::comma;
}

}  // namespace firstdraw::watch
