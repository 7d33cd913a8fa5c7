#include "job/values.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace firstdraw::job {

namespace {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

std::string lower(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? char(c - 'A' + 'a') : c; });
  return out;
}

std::optional<double> plain_number(std::string_view text) {
  double value = 0;
  const char* first = text.data();
  const char* last = first + text.size();
  const auto [end, error] = std::from_chars(first, last, value);
  if (error != std::errc() || end != last || !std::isfinite(value)) return std::nullopt;
  return value;
}

Read<double> in_range(double value, const Range& range) {
  if (auto wrong = out_of_range(value, range)) return std::unexpected(*wrong);
  return value;
}

}  // namespace

std::optional<std::string> out_of_range(double value, const Range& range) {
  if (std::isfinite(value) && range.holds(value)) return std::nullopt;
  return fmt::format("must be {}", range.says);
}

Read<double> read_quantity(std::string_view text, units::Kind kind, std::optional<std::string_view> bare_unit,
                           const Range& range) {
  const auto value = units::parse(text, kind, bare_unit);
  if (!value) return std::unexpected(value.error());
  return in_range(*value, range);
}

Read<double> read_number(std::string_view text, const Range& range) {
  const auto value = plain_number(trimmed(text));
  if (!value) return std::unexpected(fmt::format("\"{}\" is no plain number", text));
  return in_range(*value, range);
}

Read<int> read_integer(std::string_view text, const Range& range) {
  const auto value = read_number(text, range);
  if (!value) return std::unexpected(value.error());
  if (*value != std::trunc(*value) || std::abs(*value) > 1e9) {
    return std::unexpected(fmt::format("\"{}\" is no whole number", text));
  }
  return static_cast<int>(*value);
}

Read<bool> read_flag(std::string_view text) {
  constexpr std::array<std::string_view, 4> yes{"yes", "true", "y", "1"}, no{"no", "false", "n", "0"};
  const std::string word = lower(trimmed(text));
  if (std::ranges::find(yes, word) != yes.end()) return true;
  if (std::ranges::find(no, word) != no.end()) return false;
  return std::unexpected(fmt::format("yes or no was expected, not \"{}\"", text));
}

Read<double> read_price(std::string_view text, std::string_view base_unit, units::Kind kind) {
  const std::string expected = fmt::format(
      "\"{}\" is no price: write an amount and what it is for, such as \"12.50 per {}\"", text, base_unit);
  const auto slash = text.find('/');
  const auto word = text.find(" per ");
  const auto cut = std::min(slash, word);
  if (cut == std::string_view::npos) return std::unexpected(expected);
  const auto amount = plain_number(trimmed(text.substr(0, cut)));
  const std::string_view unit = trimmed(text.substr(cut + (cut == slash ? 1 : 5)));
  if (!amount || *amount < 0) return std::unexpected(expected);
  if (unit == base_unit) return *amount;  // no arithmetic, so that writing and reading is exact
  const auto one = units::to_si(1, unit, kind);
  const auto base = units::to_si(1, base_unit, kind);
  if (!one || !base) return std::unexpected(one ? expected : one.error());
  return *amount / *one * *base;
}

std::optional<std::string> wrong_id(std::string_view text) {
  if (text.empty()) return "an id must not be empty";
  if (text != trimmed(text)) return fmt::format("the id \"{}\" must not begin or end with a blank", text);
  if (text.front() == '#')
    return fmt::format("the id \"{}\" must not begin with #, which marks a comment", text);
  const auto control = [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; };
  if (std::ranges::any_of(text, control))
    return "an id must not hold line breaks or other control characters";
  return std::nullopt;
}

std::vector<std::string> split_runs(std::string_view list) {
  std::vector<std::string> runs;
  while (!list.empty()) {
    const auto cut = std::min(list.find(';'), list.size());
    if (const auto run = trimmed(list.substr(0, cut)); !run.empty()) runs.emplace_back(run);
    list.remove_prefix(std::min(cut + 1, list.size()));
  }
  return runs;
}

std::string join_runs(const std::vector<std::string>& runs) {
  return fmt::format("{}", fmt::join(runs, "; "));
}

std::string exact_number(double value) { return fmt::format("{}", value); }

}  // namespace firstdraw::job
