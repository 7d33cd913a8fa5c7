#include "units/quantity.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>
#include <vector>

#include "units/number.hpp"
#include "units/unit_table.hpp"

namespace firstdraw::units {

namespace {

using Parsed = std::expected<double, std::string>;

std::string article(Kind kind) {
  const std::string_view name = kind_name(kind);
  constexpr std::string_view kVowels = "aeiou";
  return fmt::format("{} {}", kVowels.contains(name.front()) ? "an" : "a", name);
}

std::string joined(const std::vector<std::string>& names) {
  return fmt::format("{}", fmt::join(names, ", "));
}

std::string unknown_unit(std::string_view unit, Kind kind) {
  const std::vector<std::string> known = unit_names(kind);
  std::string message = fmt::format("unknown unit {} for {}", quoted(unit), article(kind));
  if (const auto near = nearest(unit, known)) {
    message += fmt::format(" (did you mean \"{}\"?)", *near);
  } else if (const Unit* other = find_unit_of_other_kind(unit, kind)) {
    message += fmt::format(" (it measures {})", article(other->kind));
  }
  return fmt::format("{}; known: {}", message, joined(known));
}

Parsed finite(double value, std::string_view text) {
  if (std::isfinite(value)) return value;
  return std::unexpected(fmt::format("{} is too large to use", quoted(text)));
}

/// The second part of "12 ft 6 in": inches below 12.
Parsed read_inches(std::string_view rest, std::string_view text, Kind kind) {
  const auto number = read_number(rest);
  if (!number) return std::unexpected(fmt::format("{} {}", quoted(text), number.error()));
  const Unit* unit = find_unit(rest.substr(number->length), kind);
  if (unit == nullptr || unit->name != "in") {
    return std::unexpected(
        fmt::format("{}: after feet only inches can follow, as in 12' 6\" or \"12 ft 6 in\"", quoted(text)));
  }
  if (std::signbit(number->value) || number->value >= 12) {
    return std::unexpected(fmt::format("{}: inches after feet must be from 0 to less than 12", quoted(text)));
  }
  return number->value;
}

bool is_length(Kind kind) { return kind == Kind::length || kind == Kind::size; }

/// "12' 6\"" when `unit_text` holds a second number; nullopt otherwise.
std::optional<Parsed> read_feet_and_inches(double feet, std::string_view unit_text, std::string_view text,
                                           Kind kind) {
  const std::size_t second = unit_text.find_first_of("0123456789");
  if (!is_length(kind) || second == std::string_view::npos) return std::nullopt;
  std::size_t start = second;
  if (start > 0 && unit_text[start - 1] == '.') --start;
  const Unit* unit = find_unit(unit_text.substr(0, start), kind);
  if (unit == nullptr || unit->name != "ft") return std::nullopt;
  const Parsed inches = read_inches(unit_text.substr(start), text, kind);
  if (!inches) return inches;
  const double total = std::copysign(std::abs(feet) * 12 + *inches, feet);
  return finite(find_unit("in", kind)->to_si(total), text);
}

std::string expected_unit(std::string_view text, Kind kind) {
  return fmt::format("{} has no unit; write {} with one of: {}", quoted(text), article(kind),
                     joined(unit_names(kind)));
}

std::string no_zero(std::string number) {
  if (number.find('.') != std::string::npos) {
    number.erase(number.find_last_not_of('0') + 1);
    if (number.ends_with('.')) number.pop_back();
  }
  return number;
}

/// Fixed decimals; fewer for large numbers, more where all of them would be zero.
std::string decimal(double value, int decimals, bool trimmed) {
  const double size = std::abs(value);
  int places = size >= 999.5 ? 0 : decimals;
  if (size > 0 && size < 0.5 * std::pow(10, -decimals)) {
    places = static_cast<int>(std::min(12.0, 1 - std::floor(std::log10(size))));
  }
  std::string text = fmt::format("{:.{}f}", value, places);
  if (text.find_first_not_of("-0.") == std::string::npos) text.erase(0, text.starts_with('-') ? 1 : 0);
  return trimmed ? no_zero(text) : text;
}

constexpr std::string_view kNoNumber = "–";

Display duration_display(double duration_s) {
  const auto in = [](std::string_view name, int decimals) {
    return Display{find_unit(name, Kind::duration), decimals, true};
  };
  const double size = std::abs(duration_s);
  if (size < 120) return in("s", 1);
  if (size < 2 * 3600) return in("min", 1);
  return size < 48 * 3600 ? in("h", 1) : in("d", 1);
}

Display resistance_display(double ohm) {
  const double size = std::abs(ohm);
  const auto in = [](std::string_view name) { return Display{find_unit(name, Kind::resistance), 2, true}; };
  if (size < 1e4) return in("Ω");
  if (size < 1e6) return in("kΩ");
  return size < 1e10 ? in("MΩ") : in("GΩ");
}

Display best_display(double value_si, Kind kind, System system) {
  if (kind == Kind::duration) return duration_display(value_si);
  if (kind == Kind::resistance) return resistance_display(value_si);
  return display(kind, system);
}

bool same_bits(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

std::string with_unit(std::string_view number, std::string_view unit) {
  return unit.empty() ? std::string(number) : fmt::format("{} {}", number, unit);
}

/// Shortest decimal of at most ten digits in `unit` that reads back to `value_si`.
std::optional<std::string> short_text(double value_si, const Unit& unit) {
  constexpr int kMostDigits = 10;
  const double value = unit.from_si(value_si);
  if (!std::isfinite(value)) return std::nullopt;
  for (int digits = 1; digits <= kMostDigits; ++digits) {
    const std::string text = fmt::format("{:.{}g}", value, digits);
    const auto number = read_number(text);
    if (number && number->length == text.size() && same_bits(unit.to_si(number->value), value_si)) {
      return with_unit(fmt::format("{}", number->value), unit.name);
    }
  }
  return std::nullopt;
}

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// Edit distance with swaps of neighbours, ignoring case.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> cost(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) cost[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) cost[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      cost[i][j] = std::min({cost[i - 1][j] + 1, cost[i][j - 1] + 1, cost[i - 1][j - 1] + (same ? 0 : 1)});
      const bool swapped =
          i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
      if (swapped) cost[i][j] = std::min(cost[i][j], cost[i - 2][j - 2] + 1);
    }
  }
  return cost[a.size()][b.size()];
}

/// The one known name that begins with `word`, of three letters or more; nullptr if there is none or several.
const std::string* only_completion(std::string_view word, std::span<const std::string> known) {
  if (word.size() < 3) return nullptr;
  const auto completes = [word](const std::string& name) {
    return name.size() > word.size() &&
           std::ranges::equal(word, name.substr(0, word.size()), {}, lower, lower);
  };
  const auto first = std::ranges::find_if(known, completes);
  if (first == known.end() || std::any_of(first + 1, known.end(), completes)) return nullptr;
  return &*first;
}

}  // namespace

std::expected<double, std::string> parse(std::string_view text, Kind kind,
                                         std::optional<std::string_view> bare_unit) {
  const std::string written = plain(trim(text));
  const std::string_view simple = trim(written);
  if (simple.empty()) return std::unexpected(fmt::format("empty; expected {}", article(kind)));
  const auto number = read_number(simple);
  if (!number)
    return std::unexpected(fmt::format("{} {}; expected {}", quoted(text), number.error(), article(kind)));
  const std::string_view unit_text = trim(simple.substr(number->length));
  if (const auto both = read_feet_and_inches(number->value, unit_text, text, kind)) return *both;
  if (unit_text.empty() && kind != Kind::fraction && !bare_unit)
    return std::unexpected(expected_unit(text, kind));
  const std::string_view wanted = unit_text.empty() ? bare_unit.value_or("") : unit_text;
  const Unit* unit = find_unit(wanted, kind);
  if (unit == nullptr)
    return std::unexpected(fmt::format("{}: {}", quoted(text), unknown_unit(wanted, kind)));
  return finite(unit->to_si(number->value), text);
}

std::expected<double, std::string> to_si(double value, std::string_view unit, Kind kind) {
  const Unit* known = find_unit(unit, kind);
  if (known == nullptr) return std::unexpected(unknown_unit(unit, kind));
  return known->to_si(value);
}

double from_si(double value_si, std::string_view unit, Kind kind) {
  const Unit* known = find_unit(unit, kind);
  if (known == nullptr) throw std::logic_error(unknown_unit(unit, kind));
  return known->from_si(value_si);
}

std::string_view display_unit(Kind kind, System system) { return display(kind, system).unit->name; }

std::string show(double value_si, Kind kind, System system) {
  if (!std::isfinite(value_si)) return std::string(kNoNumber);
  const Display how = best_display(value_si, kind, system);
  return with_unit(decimal(how.unit->from_si(value_si), how.decimals, true), how.unit->name);
}

std::string show_number(double value_si, Kind kind, System system) {
  if (!std::isfinite(value_si)) return std::string(kNoNumber);
  const Display& how = display(kind, system);
  return decimal(how.unit->from_si(value_si), how.decimals, how.trimmed);
}

std::string exact_text(double value_si, Kind kind, System system) {
  if (!std::isfinite(value_si))
    throw std::logic_error("exact_text: a value that is not finite cannot be written");
  if (auto text = short_text(value_si, *best_display(value_si, kind, system).unit)) return *std::move(text);
  return with_unit(fmt::format("{}", value_si), si_unit(kind).name);
}

std::optional<std::string> nearest(std::string_view word, std::span<const std::string> known) {
  constexpr std::size_t kLongest = 64;
  if (word.empty() || word.size() > kLongest) return std::nullopt;
  const std::size_t slip = std::max<std::size_t>(1, word.size() / 3);
  std::size_t best = std::numeric_limits<std::size_t>::max();
  const std::string* found = nullptr;
  for (const std::string& candidate : known) {
    const std::size_t distance = edit_distance(word, candidate);
    if (distance >= best || distance > slip || distance >= std::max(word.size(), candidate.size())) continue;
    best = distance;
    found = &candidate;
  }
  if (found == nullptr) found = only_completion(word, known);
  return found == nullptr ? std::nullopt : std::optional(*found);
}

}  // namespace firstdraw::units
