#include "watch/log_words.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <utility>

#include "units/number.hpp"
#include "units/unit_table.hpp"

namespace firstdraw::watch {
namespace {

using units::Kind;
using namespace std::string_view_literals;

struct Quantity {
  std::string_view name;
  Kind kind;
};
constexpr std::array quantities{
    Quantity{"temperature", Kind::temperature}, Quantity{"current", Kind::current},
    Quantity{"voltage", Kind::voltage},         Quantity{"power", Kind::power},
    Quantity{"duty", Kind::fraction},           Quantity{"on", Kind::fraction},
    Quantity{"set-point", Kind::temperature}};

/// Words and beginnings of words, the telling ones first: a "setpoint temp" is a set-point, a "heater
/// current" is a current. Some German, French and Spanish ones: loggers are set to their users' languages.
struct Told {
  std::string_view word, quantity;
};
constexpr std::array told{Told{"setpoint", "set-point"},
                          Told{"sollwert", "set-point"},
                          Told{"consigne", "set-point"},
                          Told{"consigna", "set-point"},
                          Told{"duty", "duty"},
                          Told{"output", "duty"},
                          Told{"current", "current"},
                          Told{"amps", "current"},
                          Told{"amperage", "current"},
                          Told{"strom", "current"},
                          Told{"courant", "current"},
                          Told{"corriente", "current"},
                          Told{"voltage", "voltage"},
                          Told{"volts", "voltage"},
                          Told{"spannung", "voltage"},
                          Told{"tension", "voltage"},
                          Told{"power", "power"},
                          Told{"watts", "power"},
                          Told{"leistung", "power"},
                          Told{"puissance", "power"},
                          Told{"potencia", "power"},
                          Told{"temp", "temperature"},
                          Told{"sensor", "temperature"},
                          Told{"pipe", "temperature"},
                          Told{"water", "temperature"},
                          Told{"ambient", "temperature"},
                          Told{"air", "temperature"},
                          Told{"fuhler", "temperature"},
                          Told{"luft", "temperature"},
                          Told{"relay", "on"},
                          Told{"contactor", "on"},
                          Told{"heating", "on"},
                          Told{"heater", "on"},
                          Told{"status", "on"},
                          Told{"on", "on"}};

/// What loggers have beside readings of heating cable.
constexpr std::array left_out_words{"humidity"sv, "rh"sv,  "feuchte"sv,  "battery"sv, "batt"sv, "batterie"sv,
                                    "flow"sv,     "dew"sv, "pressure"sv, "signal"sv,  "rssi"sv, "energy"sv};
/// Without a unit these only count or name rows.
constexpr std::array counting_words{"record"sv, "index"sv, "sample"sv,  "no"sv,      "nr"sv,   "number"sv,
                                    "serial"sv, "event"sv, "comment"sv, "coupler"sv, "host"sv, "stopped"sv,
                                    "line"sv,   "row"sv,   "note"sv,    "device"sv,  "id"sv};

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
bool is_word_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
         static_cast<unsigned char>(c) >= 0x80;
}
std::string lowered(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(), lower);
  return out;
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
}

constexpr std::array kinds_read{Kind::temperature, Kind::current, Kind::voltage, Kind::power};

/// The unit as the units room shows it; empty: none of those that are read.
std::string known_unit(std::string_view text) {
  std::string clean = clean_unit(text);
  if (clean.empty()) return {};
  if (clean == "%") return clean;
  for (const Kind kind : kinds_read) {
    if (const auto* unit = units::find_unit(clean, kind)) return std::string(unit->name);
  }
  return {};
}

/// A unit of something that nobody reads here: gpm, %RH, kWh, Hz.
bool other_unit(std::string_view text) {
  const std::string clean = lowered(clean_unit(text));
  return clean.starts_with("%rh") || clean.starts_with("% rh") || clean == "%rf" || clean == "% rf" ||
         (clean.size() > 1 && units::find_unit_of_other_kind(clean, Kind::fraction) != nullptr);
}

std::string quantity_of_unit(const std::string& unit) {
  if (unit == "%") return "duty";
  for (const Kind kind : kinds_read) {
    if (!unit.empty() && units::find_unit(unit, kind) != nullptr)
      return std::string(std::ranges::find(quantities, kind, &Quantity::kind)->name);
  }
  return {};
}

std::string folded(std::string text) {
  constexpr std::array<std::pair<std::string_view, std::string_view>, 8> plain{
      {{"ü", "u"}, {"ö", "o"}, {"ä", "a"}, {"é", "e"}, {"è", "e"}, {"ó", "o"}, {"Ü", "u"}, {"É", "e"}}};
  for (const auto& [from, to] : plain) replace_all(text, from, to);
  return text;
}

std::string quantity_of_words(std::string_view name) {
  std::vector<std::string> words = words_of(folded(std::string(name)));
  for (std::size_t i = 0; i + 1 < words.size(); ++i) {
    if (words[i] == "set" && (words[i + 1] == "point" || words[i + 1] == "pt" || words[i + 1] == "temp"))
      return "set-point";
  }
  for (const Told& one : told) {
    for (const std::string& word : words) {
      const bool whole = word == one.word;
      const bool inside = one.word.size() >= 4 && word.find(one.word) != std::string::npos;
      if (whole || inside) return std::string(one.quantity);
    }
  }
  return std::ranges::find(words, "sp") != words.end() ? "set-point" : "";
}

bool has_word_of(std::string_view name, std::span<const std::string_view> listed) {
  const auto words = words_of(folded(std::string(name)));
  return std::ranges::any_of(
      words, [listed](const std::string& word) { return std::ranges::find(listed, word) != listed.end(); });
}

/// Splits "Pipe (°F)", "Pipe [°F]", "Pipe, °F" and "Pipe °F".
std::pair<std::string, std::string> name_and_unit(const std::string& header) {
  for (const std::string_view pair : {"()"sv, "[]"sv, "{}"sv}) {
    const std::size_t open = header.rfind(pair[0]), close = header.rfind(pair[1]);
    if (open == std::string::npos || close == std::string::npos || close < open) continue;
    const std::string inside = header.substr(open + 1, close - open - 1);
    if (!known_unit(inside).empty() || other_unit(inside))
      return {std::string(units::trim(header.substr(0, open))), inside};
  }
  for (const std::string_view sign : {","sv, "/"sv, "_"sv, " "sv}) {
    std::size_t at = sign == "," ? header.find(sign) : header.rfind(sign);
    if (at == std::string::npos) continue;
    std::string unit(units::trim(header.substr(at + 1)));
    if (sign == ",") unit = unit.substr(0, unit.find(" ("));
    // One letter behind a blank or a line is a name more often: "Riser A", "probe_C".
    const bool one_letter = clean_unit(unit).size() == 1 && sign != "," && sign != "/";
    const bool after_temp = header.find("emp") != std::string::npos &&
                            units::find_unit(clean_unit(unit), Kind::temperature) != nullptr;
    if (!known_unit(unit).empty() && (!one_letter || after_temp))
      return {std::string(units::trim(header.substr(0, at))), unit};
  }
  return {header, ""};
}

}  // namespace

Kind kind_of_quantity(std::string_view quantity) {
  const auto* found = std::ranges::find(quantities, quantity, &Quantity::name);
  return found == quantities.end() ? Kind::fraction : found->kind;
}

std::vector<std::string> quantity_names() {
  std::vector<std::string> names;
  for (const Quantity& quantity : quantities) names.emplace_back(quantity.name);
  return names;
}

std::string clean_header(std::string_view cell) {
  std::string text(units::trim(cell));
  replace_all(text, "\u00c2\u00b0", "°");  // UTF-8 that was read as Latin-1 on its way
  replace_all(text, "\ufffd", "°");
  replace_all(text, "\u00a0", " ");
  replace_all(text, "\n", " ");
  return text;
}

std::string clean_unit(std::string_view text) {
  std::string unit = clean_header(text);
  replace_all(unit, "?C", "°C");
  replace_all(unit, "?F", "°F");
  replace_all(unit, "\u00ba", "°");
  const std::string small = lowered(unit);
  if (small == "deg. c" || small == "deg.c" || small == "grad c") return "°C";
  if (small == "deg. f" || small == "deg.f") return "°F";
  return unit;
}

std::optional<bool> switched_word(std::string_view cell) {
  constexpr std::array on{"on"sv, "true"sv, "yes"sv, "closed"sv, "ein"sv, "an"sv, "marche"sv, "heating"sv};
  constexpr std::array off{"off"sv, "false"sv, "no"sv, "open"sv, "aus"sv, "arret"sv, "idle"sv};
  const std::string word = lowered(cell);
  if (std::ranges::find(on, word) != on.end()) return true;
  if (std::ranges::find(off, word) != off.end()) return false;
  return std::nullopt;
}

bool says_missing(std::string_view cell) {
  constexpr std::array marks{
      "nan"sv,          "na"sv,           "n/a"sv,          "-"sv,      "--"sv,      "---"sv,  "----"sv,
      "null"sv,         "none"sv,         "nil"sv,          "#n/a"sv,   "#value!"sv, "err"sv,  "error"sv,
      "fault"sv,        "fail"sv,         "invalid"sv,      "bad"sv,    "missing"sv, "void"sv, "ol"sv,
      "open"sv,         "short"sv,        "-.-"sv,          "?"sv,      "*"sv,       "***"sv,  "no data"sv,
      "sensor fault"sv, "disconnected"sv, "out of range"sv, "\u2013"sv, "inf"sv,     "-inf"sv};
  return cell.empty() || std::ranges::find(marks, lowered(cell)) != marks.end();
}

bool is_missing_number(double value) {
  constexpr std::array marks{-999.0,  -9999.0,  9999.0,  999.9,  -999.9, 99999.0, -99999.0, -3276.8, 3276.7,
                             32767.0, -32768.0, 65535.0, 6553.5, -888.8, -127.0,  999.0,    850.0};
  return std::ranges::find(marks, value) != marks.end();
}

HeaderWords read_header(std::string_view header) {
  HeaderWords words;
  const std::string clean = clean_header(header);
  const auto [name, unit] = name_and_unit(clean);
  words.name = name;
  words.unit = known_unit(unit);
  words.left_out = has_word_of(name, left_out_words) ||
                   (words.unit.empty() && (other_unit(unit) || has_word_of(name, counting_words)));
  // "#" above a count of the rows.
  words.left_out |= words_of(name).empty() && words.unit.empty();
  const std::string by_unit = quantity_of_unit(words.unit), by_words = quantity_of_words(name);
  // The unit decides, but a set-point has that of a temperature.
  words.quantity = by_unit.empty() ? by_words : by_unit;
  if (by_unit == "temperature" && by_words == "set-point") words.quantity = by_words;
  return words;
}

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words;
  bool inside = false, digits = false;
  for (const char letter : text) {
    if (!is_word_letter(letter)) {
      inside = false;
      continue;
    }
    const bool digit = letter >= '0' && letter <= '9';
    if (!inside || digit != digits) words.emplace_back();
    words.back() += lower(letter);
    inside = true;
    digits = digit;
  }
  return words;
}

std::string slug_of(std::string_view text) {
  std::string slug;
  for (const char letter : folded(std::string(text))) {
    const bool plain = is_word_letter(letter) && static_cast<unsigned char>(letter) < 0x80;
    if (plain) {
      slug += lower(letter);
    } else if (!slug.empty() && slug.back() != '-') {
      slug += '-';
    }
  }
  while (!slug.empty() && slug.back() == '-') slug.pop_back();
  return slug;
}

}  // namespace firstdraw::watch
