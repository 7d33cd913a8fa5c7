// The units that firstdraw reads and shows, and the spellings it accepts for them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "units/quantity.hpp"

namespace firstdraw::units {

/// value_si = (value - offset) * numerator / denominator. Two factors, so that the decimal a person writes
/// and the decimal in SI round to the same double: 22 mm is 22 * 1 / 1000, the very double 0.022.
struct Unit {
  Kind kind;
  std::string_view name;       // as shown
  std::string_view spellings;  // separated by '|', in the form of `unit_key`, lower case
  double numerator = 1, denominator = 1, offset = 0;
  bool first_letter_exact = false;  // mW is not MW

  double to_si(double value) const { return (value - offset) * numerator / denominator; }
  double from_si(double si) const { return si * denominator / numerator + offset; }
};

/// Unit of `kind` written as `text` ("Btu/(h ft)", "BTU/hr-ft", ""); nullptr if there is none.
const Unit* find_unit(std::string_view text, Kind kind);

/// The first kind, other than `kind`, that has this unit; nullptr if there is none.
const Unit* find_unit_of_other_kind(std::string_view text, Kind kind);

/// Names of the units of a kind, for messages.
std::vector<std::string> unit_names(Kind kind);

/// "length", "power per length"…
std::string_view kind_name(Kind kind);

/// How a quantity is shown in one system of units.
struct Display {
  const Unit* unit = nullptr;
  int decimals = 0;
  bool trimmed = false;  // no zeros at the end, in tables either
};
const Display& display(Kind kind, System system);

/// The unit whose numerator, denominator and offset are 1, 1, 0.
const Unit& si_unit(Kind kind);

}  // namespace firstdraw::units
