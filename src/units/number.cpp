#include "units/number.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <utility>

namespace firstdraw::units {

namespace {

constexpr std::array<std::pair<std::string_view, std::string_view>, 42> kPlain{{
    {"\u00b2", "2"},    {"\u00b3", "3"},    {"\u00b7", "*"},    {"\u22c5", "*"},    {"\u2219", "*"},
    {"\u00d7", "*"},    {"\u2126", "ohm"},  {"\u03a9", "ohm"},  {"\u00b0", "deg"},  {"\u00ba", "deg"},
    {"\u2103", "degC"}, {"\u2109", "degF"}, {"\u2032", "'"},    {"\u2018", "'"},    {"\u2019", "'"},
    {"\u2033", "\""},   {"\u201c", "\""},   {"\u201d", "\""},   {"\u00b5", "u"},    {"\u03bc", "u"},
    {"\u2212", "-"},    {"\u2010", "-"},    {"\u2011", "-"},    {"\u2013", "-"},    {"\u2044", "/"},
    {"\u2215", "/"},    {"\u00a0", " "},    {"\u202f", " "},    {"\u2009", " "},    {"\u2007", " "},
    {"\u00bc", " 1/4"}, {"\u00bd", " 1/2"}, {"\u00be", " 3/4"}, {"\u215b", " 1/8"}, {"\u215c", " 3/8"},
    {"\u215d", " 5/8"}, {"\u215e", " 7/8"}, {"\u2153", " 1/3"}, {"\u2154", " 2/3"}, {"\u212a", "K"},
    {"\u2113", "L"},    {"\t", " "},
}};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::size_t digits_at(std::string_view text, std::size_t at) {
  std::size_t end = at;
  while (end < text.size() && is_digit(text[end])) ++end;
  return end - at;
}

/// Length of "12", "12.5", ".5", "1e-3" at the start of `text`, 0 if there is none.
std::size_t decimal_length(std::string_view text) {
  const std::size_t whole = digits_at(text, 0);
  std::size_t end = whole;
  std::size_t decimals = 0;
  if (end < text.size() && text[end] == '.') {
    decimals = digits_at(text, end + 1);
    if (decimals > 0) end += 1 + decimals;
  }
  if (whole + decimals == 0) return 0;
  if (end < text.size() && (text[end] == 'e' || text[end] == 'E')) {
    std::size_t power = end + 1;
    if (power < text.size() && (text[power] == '-' || text[power] == '+')) ++power;
    if (const std::size_t n = digits_at(text, power); n > 0) end = power + n;
  }
  return end;
}

double to_double(std::string_view digits) {
  double value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error == std::errc::result_out_of_range) return HUGE_VAL;
  return end == digits.data() + digits.size() ? value : HUGE_VAL;
}

/// "3/4" at `at`: its length, 0 if there is none.
std::size_t fraction_length(std::string_view text, std::size_t at) {
  const std::size_t above = digits_at(text, at);
  if (above == 0 || at + above >= text.size() || text[at + above] != '/') return 0;
  const std::size_t below = digits_at(text, at + above + 1);
  return below == 0 ? 0 : above + 1 + below;
}

std::optional<double> fraction_value(std::string_view text) {
  const std::size_t slash = text.find('/');
  const double below = to_double(text.substr(slash + 1));
  if (below == 0) return std::nullopt;
  return to_double(text.substr(0, slash)) / below;
}

/// Where the fraction of a mixed number starts after a whole number that ends at `at`; npos if it has none.
std::size_t mixed_fraction_at(std::string_view text, std::size_t at) {
  std::size_t start = at;
  if (start < text.size() && text[start] == '-') {
    ++start;
  } else {
    while (start < text.size() && text[start] == ' ') ++start;
  }
  return start > at && fraction_length(text, start) > 0 ? start : std::string_view::npos;
}

std::expected<Number, std::string> read_unsigned(std::string_view text) {
  const auto finished = [](std::optional<double> value,
                           std::size_t length) -> std::expected<Number, std::string> {
    if (!value) return std::unexpected("has a fraction that divides by zero");
    if (!std::isfinite(*value)) return std::unexpected("has a number too large to use");
    return Number{*value, length};
  };
  if (const std::size_t n = fraction_length(text, 0); n > 0)
    return finished(fraction_value(text.substr(0, n)), n);
  const std::size_t n = decimal_length(text);
  if (n == 0) return std::unexpected("does not start with a number");
  double value = to_double(text.substr(0, n));
  if (n == digits_at(text, 0)) {
    if (const std::size_t at = mixed_fraction_at(text, n); at != std::string_view::npos) {
      const std::size_t length = fraction_length(text, at);
      const auto part = fraction_value(text.substr(at, length));
      return finished(part ? std::optional(value + *part) : std::nullopt, at + length);
    }
  }
  return finished(value, n);
}

}  // namespace

std::string plain(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const std::string_view rest = text.substr(i);
    bool replaced = false;
    for (const auto& [from, to] : kPlain) {
      if (!rest.starts_with(from)) continue;
      out += to;
      i += from.size();
      replaced = true;
      break;
    }
    if (!replaced) out += text[i++];
  }
  return out;
}

std::expected<Number, std::string> read_number(std::string_view text) {
  const bool negative = text.starts_with('-');
  std::size_t sign = negative || text.starts_with('+') ? 1 : 0;
  while (sign > 0 && sign < text.size() && text[sign] == ' ') ++sign;
  auto number = read_unsigned(text.substr(sign));
  if (!number) return number;
  const std::size_t end = sign + number->length;
  if (end < text.size() && text[end] == ',') {
    return std::unexpected("has a comma in its number: write a decimal point, and no thousands separator");
  }
  if (negative) number->value = -number->value;
  number->length = end;
  return number;
}

std::string quoted(std::string_view text) {
  constexpr std::size_t kLongest = 40;
  if (text.size() <= kLongest) return "\"" + std::string(text) + "\"";
  std::size_t end = kLongest;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  return "\"" + std::string(text.substr(0, end)) + "…\"";
}

std::string_view trim(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

}  // namespace firstdraw::units
