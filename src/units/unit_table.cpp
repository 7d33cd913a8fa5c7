#include "units/unit_table.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <span>
#include <stdexcept>
#include <utility>

#include "units/number.hpp"

namespace firstdraw::units {

namespace {

// International foot 0.3048 m, pound 0.45359237 kg, US gallon 231 in3 (exact, NIST SP 811 Appendix B).
// Btu: International Table, 1055.05585262 J, NIST SP 811 B.8. All from memory.
constexpr double kBtuJ = 1055.05585262;
constexpr double kGallonM3 = 3.785411784e-3;
constexpr double kFluidOunceM3 = kGallonM3 / 128;
constexpr double kDegreesPerHalfTurn = 180;
constexpr double kPi = 3.14159265358979323846;

using enum Kind;
constexpr bool kExact = true;

constexpr Unit kUnits[] = {
    {length, "m", "m"},
    {length, "mm", "mm", 1, 1000},
    {length, "cm", "cm", 1, 100},
    {length, "km", "km", 1000},
    {length, "ft", "ft|'", 3048, 10000},
    {length, "in", "in|\"|''", 254, 10000},
    {length, "yd", "yd|yds", 9144, 10000},

    {area, "m²", "m2"},
    {area, "mm²", "mm2", 1, 1e6},
    {area, "cm²", "cm2", 1, 1e4},
    {area, "ft²", "ft2|sf", 9290304, 1e8},
    {area, "in²", "in2", 64516, 1e8},

    {volume, "m³", "m3"},
    {volume, "L", "l", 1, 1000},
    {volume, "mL", "ml", 1, 1e6, 0, kExact},
    {volume, "cm³", "cm3", 1, 1e6},
    {volume, "ft³", "ft3|cf", 28316846592, 1e12},
    {volume, "gal", "gal|usgal|gals", 3785411784, 1e12},
    {volume, "fl oz", "floz|oz", kFluidOunceM3},

    {volume_flow, "m³/s", "m3/s"},
    {volume_flow, "m³/h", "m3/h", 1, 3600},
    {volume_flow, "L/s", "l/s", 1, 1000},
    {volume_flow, "L/min", "l/min|lpm", 1, 60000},
    {volume_flow, "L/h", "l/h|lph", 1, 3.6e6},
    {volume_flow, "mL/s", "ml/s", 1, 1e6, 0, kExact},
    {volume_flow, "gpm", "gpm|gal/min", kGallonM3, 60},
    {volume_flow, "gph", "gph|gal/h", kGallonM3, 3600},

    {mass, "kg", "kg"},
    {mass, "g", "g", 1, 1000},
    {mass, "lb", "lb", 45359237, 1e8},

    {temperature, "°C", "c"},
    {temperature, "°F", "f", 5, 9, 32},

    {temperature_difference, "K", "k"},
    {temperature_difference, "°C", "c"},
    {temperature_difference, "°F", "f", 5, 9},

    {conductivity, "W/(m·K)", "w/mk|w/m/k|w/mc|w/m/c"},
    {conductivity, "mW/(m·K)", "mw/mk|mw/m/k", 1, 1000, 0, kExact},
    {conductivity, "Btu·in/(h·ft²·°F)", "btuin/hft2f|btuin/h/ft2/f|btuin/ft2hf", kBtuJ * 0.0254 * 9,
     3600 * 0.09290304 * 5},
    {conductivity, "Btu/(h·ft·°F)", "btu/hftf|btu/h/ft/f|btu/fthf", kBtuJ * 9, 3600 * 0.3048 * 5},

    {film_coefficient, "W/(m²·K)", "w/m2k|w/m2/k|w/m2c|w/m2/c"},
    {film_coefficient, "Btu/(h·ft²·°F)", "btu/hft2f|btu/h/ft2/f|btu/ft2hf", kBtuJ * 9, 3600 * 0.09290304 * 5},

    {power, "W", "w"},
    {power, "kW", "kw", 1000},
    {power, "MW", "mw", 1e6, 1, 0, kExact},
    {power, "mW", "mw", 1, 1000, 0, kExact},
    {power, "Btu/h", "btu/h|btuh", kBtuJ, 3600},

    {power_per_length, "W/m", "w/m"},
    {power_per_length, "W/ft", "w/ft|w/'", 10000, 3048},
    {power_per_length, "kW/m", "kw/m", 1000},
    {power_per_length, "Btu/(h·ft)", "btu/hft|btu/h/ft|btuh/ft|btu/fth", kBtuJ, 3600 * 0.3048},

    {energy, "J", "j|ws"},
    {energy, "kJ", "kj", 1000},
    {energy, "MJ", "mj", 1e6, 1, 0, kExact},
    {energy, "Wh", "wh", 3600},
    {energy, "kWh", "kwh", 3.6e6},
    {energy, "MWh", "mwh", 3.6e9, 1, 0, kExact},
    {energy, "Btu", "btu", kBtuJ},

    {voltage, "V", "v|vac|vdc"},
    {voltage, "kV", "kv", 1000},
    {voltage, "mV", "mv", 1, 1000, 0, kExact},

    {current, "A", "a"},
    {current, "mA", "ma", 1, 1000, 0, kExact},
    {current, "µA", "ua", 1, 1e6},
    {current, "kA", "ka", 1000},

    {current_per_length, "A/m", "a/m"},
    {current_per_length, "A/ft", "a/ft", 10000, 3048},
    {current_per_length, "mA/m", "ma/m", 1, 1000, 0, kExact},
    {current_per_length, "mA/ft", "ma/ft", 10, 3048, 0, kExact},

    {resistance, "Ω", "ohm"},
    {resistance, "mΩ", "mohm", 1, 1000, 0, kExact},
    {resistance, "kΩ", "kohm|kiloohm|kilohm", 1000},
    {resistance, "MΩ", "mohm", 1e6, 1, 0, kExact},
    {resistance, "MΩ", "megohm|megaohm", 1e6},
    {resistance, "GΩ", "gohm|gigohm|gigaohm", 1e9},
    {resistance, "TΩ", "tohm|teraohm", 1e12},

    {resistance_per_length, "Ω/m", "ohm/m"},
    {resistance_per_length, "mΩ/m", "mohm/m", 1, 1000, 0, kExact},
    {resistance_per_length, "Ω/km", "ohm/km", 1, 1000},
    {resistance_per_length, "Ω/ft", "ohm/ft", 10000, 3048},
    {resistance_per_length, "mΩ/ft", "mohm/ft", 10, 3048, 0, kExact},
    {resistance_per_length, "Ω/kft", "ohm/kft|ohm/1000ft", 10, 3048},

    {capacitance_per_length, "F/m", "f/m"},
    {capacitance_per_length, "nF/m", "nf/m", 1, 1e9},
    {capacitance_per_length, "pF/m", "pf/m", 1, 1e12},
    {capacitance_per_length, "µF/km", "uf/km", 1, 1e9},
    {capacitance_per_length, "nF/km", "nf/km", 1, 1e12},
    {capacitance_per_length, "nF/ft", "nf/ft", 1, 304800000},
    {capacitance_per_length, "pF/ft", "pf/ft", 1, 304800000000},

    {frequency, "Hz", "hz"},
    {frequency, "kHz", "khz", 1000},

    {duration, "s", "s"},
    {duration, "ms", "ms", 1, 1000, 0, kExact},
    {duration, "min", "min", 60},
    {duration, "h", "h", 3600},
    {duration, "d", "d", 86400},
    {duration, "week", "week|weeks|wk", 604800},

    {angle, "rad", "rad"},
    {angle, "°", "deg", kPi, kDegreesPerHalfTurn},

    {fraction, "", ""},
    {fraction, "%", "%", 1, 100},

    {capacitance, "F", "f"},
    {capacitance, "µF", "uf", 1, 1e6},
    {capacitance, "nF", "nf", 1, 1e9},
    {capacitance, "pF", "pf", 1, 1e12},
};

// A size is written in the units of a length.
Kind written_kind(Kind kind) { return kind == size ? length : kind; }

const std::map<std::string_view, std::string_view>& words() {
  static const std::map<std::string_view, std::string_view> map{
      {"meter", "m"},        {"meters", "m"},       {"metre", "m"},        {"metres", "m"},
      {"foot", "ft"},        {"feet", "ft"},        {"inch", "in"},        {"inches", "in"},
      {"ins", "in"},         {"yard", "yd"},        {"yards", "yd"},       {"watt", "w"},
      {"watts", "w"},        {"hr", "h"},           {"hrs", "h"},          {"hour", "h"},
      {"hours", "h"},        {"minute", "min"},     {"minutes", "min"},    {"mins", "min"},
      {"sec", "s"},          {"secs", "s"},         {"second", "s"},       {"seconds", "s"},
      {"day", "d"},          {"days", "d"},         {"volt", "v"},         {"volts", "v"},
      {"amp", "a"},          {"amps", "a"},         {"ampere", "a"},       {"amperes", "a"},
      {"ohms", "ohm"},       {"liter", "l"},        {"liters", "l"},       {"litre", "l"},
      {"litres", "l"},       {"gallon", "gal"},     {"gallons", "gal"},    {"pound", "lb"},
      {"pounds", "lb"},      {"lbs", "lb"},         {"celsius", "c"},      {"centigrade", "c"},
      {"fahrenheit", "f"},   {"kelvin", "k"},       {"degree", "deg"},     {"degrees", "deg"},
      {"degs", "deg"},       {"radian", "rad"},     {"radians", "rad"},    {"btus", "btu"},
      {"percent", "%"},      {"per", "/"},          {"hertz", "hz"},       {"millimeter", "mm"},
      {"millimeters", "mm"}, {"millimetre", "mm"},  {"millimetres", "mm"}, {"centimeter", "cm"},
      {"centimeters", "cm"}, {"centimetre", "cm"},  {"centimetres", "cm"}, {"kilowatt", "kw"},
      {"kilowatts", "kw"},   {"megohms", "megohm"}, {"gigohms", "gigohm"}, {"square", "sq"},
      {"cubic", "cu"},
  };
  return map;
}

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

std::string lowered(std::string_view text) {
  std::string out(text);
  std::ranges::transform(out, out.begin(), lower);
  return out;
}

void replace_all(std::string& text, std::string_view from, std::string_view to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
}

/// The one form that all spellings of a unit share: words shortened, lower case, no separators or brackets.
std::string unit_key(std::string_view plain_text) {
  std::string key;
  for (std::size_t i = 0; i < plain_text.size();) {
    if (!is_letter(plain_text[i])) {
      constexpr std::string_view kSeparators = " .*-()[]^";
      if (!kSeparators.contains(plain_text[i])) key += plain_text[i];
      ++i;
      continue;
    }
    std::size_t end = i;
    while (end < plain_text.size() && is_letter(plain_text[end])) ++end;
    const std::string word = lowered(plain_text.substr(i, end - i));
    const auto known = words().find(word);
    key += known == words().end() ? word : std::string(known->second);
    i = end;
  }
  constexpr std::array<std::pair<std::string_view, std::string_view>, 8> kJoined{{{"degf", "f"},
                                                                                  {"fdeg", "f"},
                                                                                  {"degc", "c"},
                                                                                  {"cdeg", "c"},
                                                                                  {"sqft", "ft2"},
                                                                                  {"sqin", "in2"},
                                                                                  {"sqm", "m2"},
                                                                                  {"cuft", "ft3"}}};
  for (const auto& [from, to] : kJoined) replace_all(key, from, to);
  return key;
}

bool spelled(const Unit& unit, std::string_view key) {
  std::string_view rest = unit.spellings;
  while (true) {
    const std::size_t bar = rest.find('|');
    if (rest.substr(0, bar) == key) return true;
    if (bar == std::string_view::npos) return false;
    rest.remove_prefix(bar + 1);
  }
}

bool balanced(std::string_view text) {
  return std::ranges::count(text, '(') == std::ranges::count(text, ')') &&
         std::ranges::count(text, '[') == std::ranges::count(text, ']');
}

const Unit* find_where(std::string_view text, auto&& wanted) {
  const std::string simple = plain(trim(text));
  if (!balanced(simple)) return nullptr;
  const std::string key = unit_key(simple);
  for (const Unit& unit : kUnits) {
    if (!wanted(unit.kind) || !spelled(unit, key)) continue;
    if (!unit.first_letter_exact || simple.front() == unit.name.front()) return &unit;
  }
  return nullptr;
}

struct DisplayChoice {
  Kind kind;
  std::string_view metric;
  int metric_decimals;
  std::string_view us;
  int us_decimals;
  bool trimmed;
};

constexpr DisplayChoice kDisplays[] = {
    {length, "m", 2, "ft", 1, false},
    {size, "mm", 1, "in", 3, true},
    {area, "m²", 2, "ft²", 1, false},
    {volume, "L", 2, "gal", 2, false},
    {volume_flow, "L/min", 1, "gpm", 2, false},
    {mass, "kg", 2, "lb", 2, false},
    {temperature, "°C", 1, "°F", 1, false},
    {temperature_difference, "K", 1, "°F", 1, false},
    {conductivity, "W/(m·K)", 4, "Btu·in/(h·ft²·°F)", 3, false},
    {film_coefficient, "W/(m²·K)", 1, "Btu/(h·ft²·°F)", 2, false},
    {power, "W", 0, "W", 0, false},
    {power_per_length, "W/m", 1, "W/ft", 2, false},
    {energy, "kWh", 1, "kWh", 1, false},
    {voltage, "V", 1, "V", 1, true},
    {current, "A", 2, "A", 2, false},
    {current_per_length, "A/m", 3, "A/ft", 3, false},
    {resistance, "Ω", 2, "Ω", 2, false},
    {resistance_per_length, "Ω/km", 2, "Ω/kft", 2, false},
    {capacitance_per_length, "nF/m", 3, "nF/ft", 3, false},
    {frequency, "Hz", 1, "Hz", 1, true},
    {duration, "h", 1, "h", 1, false},
    {angle, "°", 0, "°", 0, true},
    {fraction, "%", 1, "%", 1, false},
    {capacitance, "nF", 1, "nF", 1, true},
};

Display make_display(Kind kind, std::string_view name, int decimals, bool trimmed) {
  const Unit* unit = find_unit(name, kind);
  if (unit == nullptr) throw std::logic_error("unit table: no unit to show a quantity in");
  return {unit, decimals, trimmed};
}

}  // namespace

const Unit* find_unit(std::string_view text, Kind kind) {
  return find_where(text, [wanted = written_kind(kind)](Kind k) { return k == wanted; });
}

const Unit* find_unit_of_other_kind(std::string_view text, Kind kind) {
  if (trim(text).empty()) return nullptr;
  return find_where(text, [other = written_kind(kind)](Kind k) { return k != other; });
}

std::vector<std::string> unit_names(Kind kind) {
  std::vector<std::string> names;
  for (const Unit& unit : kUnits) {
    const bool wanted = unit.kind == written_kind(kind) && !unit.name.empty();
    if (wanted && std::ranges::find(names, unit.name) == names.end()) names.emplace_back(unit.name);
  }
  return names;
}

std::string_view kind_name(Kind kind) {
  constexpr std::array<std::string_view, 24> kNames{"length",
                                                    "size",
                                                    "area",
                                                    "volume",
                                                    "flow",
                                                    "mass",
                                                    "temperature",
                                                    "temperature difference",
                                                    "thermal conductivity",
                                                    "film coefficient",
                                                    "power",
                                                    "power per length",
                                                    "energy",
                                                    "voltage",
                                                    "current",
                                                    "current per length",
                                                    "resistance",
                                                    "resistance per length",
                                                    "capacitance per length",
                                                    "frequency",
                                                    "duration",
                                                    "angle",
                                                    "share",
                                                    "capacitance"};
  return kNames.at(static_cast<std::size_t>(kind));
}

const Display& display(Kind kind, System system) {
  static const auto all = [] {
    std::map<std::pair<Kind, System>, Display> map;
    for (const DisplayChoice& choice : kDisplays) {
      map[{choice.kind, System::metric}] =
          make_display(choice.kind, choice.metric, choice.metric_decimals, choice.trimmed);
      map[{choice.kind, System::us}] =
          make_display(choice.kind, choice.us, choice.us_decimals, choice.trimmed);
    }
    return map;
  }();
  return all.at({kind, system});
}

const Unit& si_unit(Kind kind) {
  const auto* unit = std::ranges::find_if(kUnits, [wanted = written_kind(kind)](const Unit& u) {
    return u.kind == wanted && u.numerator == 1 && u.denominator == 1 && u.offset == 0;
  });
  return *unit;
}

}  // namespace firstdraw::units
