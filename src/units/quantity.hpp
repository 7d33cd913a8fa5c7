// Reading and writing quantities with units as people write them: "1-1/2 in", "115F", "0.25 Btu.in/h.ft2.F".
// Inside the program every quantity is a double in the SI unit named by its variable; units exist only at
// the border, and this is the border.
#pragma once

#include <expected>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace firstdraw::units {

/// What a quantity measures. `length` (of pipe: m, ft) and `size` (of a section: mm, in) differ only in
/// the unit they are shown in, `temperature` (a level) and `temperature_difference` also in their zero.
enum class Kind {
  length,                  // m
  size,                    // m
  area,                    // m2
  volume,                  // m3
  volume_flow,             // m3/s
  mass,                    // kg
  temperature,             // degC
  temperature_difference,  // K
  conductivity,            // W/(m K)
  film_coefficient,        // W/(m2 K)
  power,                   // W
  power_per_length,        // W/m
  energy,                  // J
  voltage,                 // V
  current,                 // A
  current_per_length,      // A/m
  resistance,              // ohm
  resistance_per_length,   // ohm/m
  capacitance_per_length,  // F/m
  frequency,               // Hz
  duration,                // s
  angle,                   // rad
  fraction,                // 1 (0.8 or "80 %")
  capacitance,             // F
};

enum class System { metric, us };

/// Reads one quantity into SI. `bare_unit` is the unit of a number written without one (a CSV column
/// headed "length (ft)"); without it a bare number is an error, except for `fraction`.
/// Fractions and mixed numbers ("3/4 in", "1-1/2 in"), feet and inches (`12' 6"`, "12 ft 6 in"), a comma as
/// thousands separator never: a comma is an error. Unit names ignore case only where unambiguous.
/// On failure: one sentence that says what was expected, naming the nearest known unit.
std::expected<double, std::string> parse(std::string_view text, Kind kind,
                                         std::optional<std::string_view> bare_unit = std::nullopt);

/// SI value of one `unit` of `kind` applied to `value` ("12", "ft" → 3.6576).
std::expected<double, std::string> to_si(double value, std::string_view unit, Kind kind);

/// `value_si` in the unit; the unit must be one that `parse` knows for `kind` (throws std::logic_error).
double from_si(double value_si, std::string_view unit, Kind kind);

/// The unit a quantity of this kind is shown in: "ft" or "m", "in" or "mm", "°F" or "°C", "Btu/h·ft" or
/// "W/m"… Electrical quantities and heating power per length (W/ft, W/m) keep watts in both systems.
std::string_view display_unit(Kind kind, System system);

/// Number with the decimals that suit the unit, and the unit: "115 °F", "12.5 ft", "6.3 W/m". Zeros at the
/// end are left out; a duration is shown in s, min, h or d, a resistance in Ω, kΩ, MΩ or GΩ as suits it.
/// A value that is not finite is shown as "–".
std::string show(double value_si, Kind kind, System system);
/// The number alone, for table cells under a heading that names `display_unit` (a duration: h). Columns
/// line up: zeros at the end are kept, except in sizes.
std::string show_number(double value_si, Kind kind, System system);

/// Text that `parse` reads back to the very same double: in the unit that `show` takes when at most ten
/// digits do it, else in SI. For writing files. A value that is not finite throws std::logic_error.
std::string exact_text(double value_si, Kind kind, System system);

/// Known name closest to `word` by edit distance, if close enough to be a likely slip; else the only one that
/// begins with it.
std::optional<std::string> nearest(std::string_view word, std::span<const std::string> known);

}  // namespace firstdraw::units
