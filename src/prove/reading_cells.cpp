#include "prove/reading_cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "job/context.hpp"
#include "job/values.hpp"
#include "units/number.hpp"

namespace firstdraw::prove {
namespace {

using units::Kind;

bool digit(char c) { return c >= '0' && c <= '9'; }

std::string lower(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(),
                         [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return out;
}

/// Kinds of reading whose instruments show one of two units a thousandfold apart: a bare number is refused.
bool needs_unit(What what) {
  constexpr std::array all{What::insulation_resistance, What::supply_insulation, What::capacitance,
                           What::trip_current,          What::leakage_current,   What::trip_time};
  return holds(all, what);
}

bool over_range_possible(What what) {
  constexpr std::array all{What::loop_resistance, What::open_resistance, What::earth_resistance,
                           What::sensor_resistance};
  return holds(all, what);
}

/// ">2000 MΩ", "≥ 2 GΩ", "over 2 GΩ", "more than 2 GΩ": what follows the sign.
std::optional<std::string_view> beyond(std::string_view text) {
  for (const std::string_view sign : {">=", "=>", "≥", ">", "over ", "more than ", "at least "}) {
    if (lower(text.substr(0, sign.size())) == sign) return units::trim(text.substr(sign.size()));
  }
  return std::nullopt;
}

job::Range range_of(What what, Kind kind) {
  constexpr job::Range measured{-60, 200, false, "between -60 °C and 200 °C (-76 °F and 392 °F)"};
  constexpr job::Range low_voltage{0, 1000, false, "between 0 V and 1000 V"};
  if (kind == Kind::temperature) return measured;
  if (kind == Kind::voltage) return low_voltage;
  if (kind == Kind::fraction) return job::range::fraction;
  if (what == What::trip_time) return {0, 3600, false, "between 0 s and 1 h"};
  return job::range::not_negative;
}

Cell<double> read_number_of(What what, std::string_view text, std::string_view unit, units::System system) {
  const Kind kind = *help_of(what).kind;
  std::optional<std::string_view> bare;
  if (!unit.empty()) {
    bare = unit;
  } else if (kind == Kind::resistance) {
    bare = "ohm";
  } else {
    bare = units::display_unit(kind, system);
  }
  if (unit.empty() && (needs_unit(what) || kind == Kind::fraction)) bare.reset();
  return job::read_quantity(text, kind, bare, range_of(what, kind));
}

std::string over_range_refused(What what) {
  return fmt::format(
      "OL says no figure; write the end of the instrument's range, such as {}",
      what == What::insulation_resistance || what == What::supply_insulation ? "\">2000 MΩ\"" : "\">20 kΩ\"");
}

bool over_range(std::string_view text) {
  const std::string word = lower(text);
  return word == "ol" || word == "o.l" || word == "o.l." || word == "0l" || word == "overload" ||
         word == "∞" || word == "infinite" || word == "open loop";
}

struct Words {
  What what;
  std::string_view yes, no;  // separated by '|'
};
constexpr std::array yes_no_words{
    Words{What::continuity, "closed|continuous|ok|pass", "open|ol|broken|fail"},
    Words{What::trip_button, "ok|pass|tripped|opened", "fail|failed"},
    Words{What::insulation_seen, "ok|dry|in place", "wet|missing|bare|damp"},
    Words{What::insulation_walked, "ok|dry|in place", "wet|missing|bare|damp"},
    Words{What::contactor, "closed|on", "open|off"},
    Words{What::breaker, "closed|on", "open|off|tripped"},
};

bool listed(std::string_view words, std::string_view word) {
  while (!words.empty()) {
    const auto bar = std::min(words.find('|'), words.size());
    if (words.substr(0, bar) == word) return true;
    words.remove_prefix(std::min(bar + 1, words.size()));
  }
  return false;
}

Kind error_kind(What what) {
  const Kind kind = *help_of(what).kind;
  return kind == Kind::temperature ? Kind::temperature_difference : kind;
}

/// "2 % of reading" -> "2 %"; nullopt: no share of the reading.
std::optional<std::string_view> share_of_reading(std::string_view part) {
  for (const std::string_view tail : {"of reading", "of the reading", "rdg", "of value"}) {
    if (lower(part).ends_with(tail)) return units::trim(part.substr(0, part.size() - tail.size()));
  }
  if (part.ends_with('%')) return part;
  return std::nullopt;
}

std::optional<std::string> add_part(What what, std::string_view part, units::System system,
                                    InstrumentError& error) {
  const auto share = share_of_reading(part);
  const Kind kind = share ? Kind::fraction : error_kind(what);
  std::optional<std::string_view> bare = units::display_unit(kind, system);
  if (needs_unit(what) || kind == Kind::fraction) bare.reset();
  const auto value = job::read_quantity(share.value_or(part), kind, bare,
                                        share ? job::range::fraction : job::range::not_negative);
  if (!value) return value.error();
  double& sum = share ? error.frac : error.abs;
  sum += *value;
  return job::out_of_range(sum, share ? job::range::fraction : job::range::not_negative);
}

bool is_leap(int year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

std::optional<int> digits_at(std::string_view text, std::size_t at, std::size_t count) {
  if (at + count > text.size() || !std::ranges::all_of(text.substr(at, count), digit)) return std::nullopt;
  int value = 0;
  for (const char c : text.substr(at, count)) value = value * 10 + (c - '0');
  return value;
}

bool is_date(std::string_view text) {
  constexpr std::array<int, 12> days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const auto year = digits_at(text, 0, 4), month = digits_at(text, 5, 2), day = digits_at(text, 8, 2);
  if (!year || !month || !day || text[4] != '-' || text[7] != '-' || *month < 1 || *month > 12) return false;
  const int last = days.at(static_cast<std::size_t>(*month - 1)) + (*month == 2 && is_leap(*year) ? 1 : 0);
  return *day >= 1 && *day <= last;
}

/// "14:05", "14:05:30", both with "Z" or "+02:00" behind.
bool is_time(std::string_view text) {
  const auto pair = [&](std::size_t at, int most) {
    const auto value = digits_at(text, at, 2);
    return value && *value <= most;
  };
  if (!pair(0, 23) || text.substr(2, 1) != ":" || !pair(3, 59)) return false;
  text.remove_prefix(5);
  if (text.starts_with(':')) {
    if (!pair(1, 59)) return false;
    text.remove_prefix(3);
  }
  if (text.empty() || text == "Z") return true;
  const bool signed_zone = text.size() == 6 && (text[0] == '+' || text[0] == '-') && text[3] == ':';
  return signed_zone && pair(1, 14) && pair(4, 59);
}

}  // namespace

Cell<bool> read_yes_no(What what, std::string_view text) {
  const std::string word = lower(units::trim(text));
  if (const auto* words = std::ranges::find(yes_no_words, what, &Words::what); words != yes_no_words.end()) {
    if (listed(words->yes, word)) return true;
    if (listed(words->no, word)) return false;
  }
  return job::read_flag(text);
}

namespace {

/// "Beside the cable", "off-pipe": as sensor_positions() has it.
Cell<CellValue> read_position(std::string_view text) {
  std::string word = as_name(text);
  if (const auto article = word.find("-the-"); article != std::string::npos) word.erase(article, 4);
  std::ranges::replace(word, '-', ' ');
  if (sensor_position_named(word)) return CellValue{0, false, word};
  const std::vector<std::string> known(sensor_positions().begin(), sensor_positions().end());
  const std::string hint = job::did_you_mean(word, known);
  return std::unexpected(fmt::format("\"{}\" is no place of a sensor; expected {}{}", text,
                                     job::one_of(known), hint.empty() ? "" : ", " + hint));
}

}  // namespace

Cell<CellValue> read_value(What what, std::string_view text, std::string_view unit, units::System system) {
  text = units::trim(text);
  if (what == What::sensor_position) return read_position(text);
  if (is_text(what)) return CellValue{0, false, std::string(text)};
  if (is_yes_no(what)) {
    const auto yes = read_yes_no(what, text);
    if (!yes) return std::unexpected(yes.error());
    return CellValue{*yes ? 1.0 : 0.0, false, {}};
  }
  if (over_range(text)) {
    if (over_range_possible(what)) return CellValue{over_range_ohm, true, {}};
    return std::unexpected(over_range_refused(what));
  }
  if (text.starts_with('<'))
    return std::unexpected("a value below the instrument's range cannot be used; write the figure it shows");
  const auto rest = beyond(text);
  const auto value = read_number_of(what, rest.value_or(text), unit, system);
  if (!value) return std::unexpected(value.error());
  return CellValue{*value, rest.has_value(), {}};
}

Cell<InstrumentError> read_error(What what, std::string_view text, units::System system) {
  if (!help_of(what).kind)
    return std::unexpected(fmt::format("{} is no figure: it has no instrument error", name_of(what)));
  InstrumentError error;
  text = units::trim(text);
  while (true) {
    for (const std::string_view sign : {"±", "+-", "+/-"}) {
      if (text.starts_with(sign)) text = units::trim(text.substr(sign.size()));
    }
    // "1e+06": no end of a part.
    auto plus = text.find('+');
    while (plus != std::string_view::npos && plus > 1 && lower(text.substr(plus - 1, 1)) == "e" &&
           digit(text[plus - 2]))
      plus = text.find('+', plus + 1);
    if (auto wrong = add_part(what, units::trim(text.substr(0, plus)), system, error))
      return std::unexpected(*wrong + "; an error is written as \"2 % + 0.05 A\"");
    if (plus == std::string_view::npos) return error;
    text = units::trim(text.substr(plus + 1));
  }
}

std::string error_text(What what, const InstrumentError& error, units::System system) {
  std::string share = units::exact_text(error.frac, Kind::fraction, system) + " of reading";
  if (error.abs == 0) return share;
  const Kind kind = error_kind(what);
  const std::string more =  // "5 %" would be a share of the reading
      kind == Kind::fraction ? job::exact_number(error.abs) : units::exact_text(error.abs, kind, system);
  return error.frac == 0 ? more : share + " + " + more;
}

std::string value_text(const Reading& reading, units::System system) {
  if (is_text(reading.what)) return reading.text;
  if (is_yes_no(reading.what)) return reading.value != 0 ? "yes" : "no";
  return (reading.at_least ? ">" : "") +
         units::exact_text(reading.value, *help_of(reading.what).kind, system);
}

Cell<double> read_minutes(std::string_view text, std::string_view unit) {
  if (unit.empty() || unit == "min") {
    if (const auto number = job::read_number(text, job::range::not_negative)) return *number;
  }
  const auto seconds =
      job::read_quantity(text, Kind::duration, unit.empty() ? "min" : unit, job::range::not_negative);
  if (!seconds) return std::unexpected(seconds.error());
  return *seconds / 60;
}

Cell<double> read_times(std::string_view text) {
  constexpr job::Range times{0.1, 100, false, "between 0.1 and 100 times the rated current"};
  text = units::trim(text);
  if (lower(text).starts_with("x")) {
    text = units::trim(text.substr(1));
  } else if (lower(text).ends_with("x")) {
    text = units::trim(text.substr(0, text.size() - 1));
  }
  return job::read_number(text, times);
}

std::optional<std::string> wrong_date(std::string_view text, bool with_time) {
  const bool day = text.size() >= 10 && is_date(text.substr(0, 10));
  if (day && text.size() == 10) return std::nullopt;
  if (day && with_time && (text[10] == 'T' || text[10] == ' ') && is_time(text.substr(11)))
    return std::nullopt;
  return with_time ? fmt::format("\"{}\" is no date and time of the form 2026-11-29T14:05", text)
                   : fmt::format("\"{}\" is no date of the form 2026-11-29", text);
}

std::string with_decimal_point(std::string_view text) {
  std::string out(text);
  if (text.contains('.')) return out;
  for (std::size_t at = 0; at + 1 < out.size(); ++at) {
    if (out[at] == ',' && digit(out[at + 1]) && (at == 0 || digit(out[at - 1]))) out[at] = '.';
  }
  return out;
}

std::string as_name(std::string_view text) {
  std::string out = lower(units::trim(text));
  std::ranges::replace_if(out, [](char c) { return c == ' ' || c == '_'; }, '-');
  return out;
}

}  // namespace firstdraw::prove
