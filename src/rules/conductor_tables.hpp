// Look-ups in the tables of conductors: sizes, capacities, factors, resistances. Each value with its
// citation.
#pragma once

#include <expected>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "rules/cited_row.hpp"

namespace firstdraw::rules {

/// A copper conductor that circuits are built of; the list rises.
struct ConductorSize {
  std::string size;  // "12 AWG", "2.5 mm2"
  double area_mm2 = 0;
  double area_kcmil = 0;     // NaN in intl
  double most_device_a = 0;  // small-conductor rule, NEC 240.4(D); NaN where there is none
  Citation citation;
};
std::span<const ConductorSize> conductor_sizes(RuleSet rules);

/// Standard ratings of overcurrent devices, A, rising: 240.6(A), preferred values of IEC 60898-1; `shared`:
/// only those a circuit that feeds several heaters may have (us: 210.18, and 210.23(A) takes out 10 A).
std::vector<double> standard_ratings_a(RuleSet rules, bool shared);

/// Insulations with the temperature their conductor may have: "THWN-2", "XLPE" …
std::span<const std::string> wire_insulations(RuleSet rules);
/// Throws std::logic_error with the nearest name for an unknown insulation.
CitedNumber insulation_limit_c(RuleSet rules, std::string_view insulation);

/// Conductor temperatures of the capacity tables, °C, rising.
std::span<const double> capacity_columns_c(RuleSet rules);
/// Capacity at 30 °C, one circuit, A. `method`: "raceway" (us), "A1" … "C" (intl). None beyond the table.
std::optional<CitedNumber> capacity_a(RuleSet rules, double conductor_c, std::string_view method, int loaded,
                                      std::string_view size);
std::span<const std::string> installation_methods(RuleSet rules);
/// Factor for the air; none when the air is hotter than the table allows the conductor.
std::optional<CitedNumber> ambient_factor(RuleSet rules, double conductor_c, double ambient_c);
/// Factor for `count` current-carrying conductors (us) or circuits (intl); none beyond the table.
std::optional<CitedNumber> grouping_factor(RuleSet rules, int count);

/// Earth conductor for a device (us) or for a line conductor (intl); none beyond the table.
struct EarthSize {
  std::string size;
  Citation citation;
};
std::optional<EarthSize> earth_size(RuleSet rules, double device_a, double phase_mm2);

/// "stranded", "solid" (us); "class 2", "class 5" (intl).
std::span<const std::string> conductor_makes(RuleSet rules);
/// Whether the table has the size in that make: large ones are not made solid.
bool has_resistance(RuleSet rules, std::string_view size, std::string_view make);
/// Resistance of one conductor, ohm/m, dc. `make`: "stranded", "solid" (us), "class 2" (solid or stranded),
/// "class 5" (fine-stranded; intl). Throws std::logic_error for a size or make that is not in the table.
CitedNumber resistance_ohm_per_m(RuleSet rules, std::string_view size, std::string_view make,
                                 double conductor_c);

}  // namespace firstdraw::rules
