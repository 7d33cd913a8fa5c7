// What the rooms' tables have in common: a citation in every row, names joined by '|', rule sets.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "rules/rules.hpp"
#include "tables/table.hpp"

namespace firstdraw::rules {

Citation citation_of(const tables::Row& row);

/// "us", "intl".
std::string_view name_of(RuleSet rules);

/// Whether the cell `column` holds the rule set, or "*".
bool applies(const tables::Row& row, RuleSet rules);

struct CitedNumber {
  double value = 0;
  Citation citation;
};

/// "unknown energy code "geeg" (did you mean "geg"?); known: …"
std::string unknown_name(std::string_view what, std::string_view name, std::span<const std::string> known);

/// Throws std::logic_error with `unknown_name` unless `name` is known: callers validate what users write.
void require_known(std::string_view what, std::string_view name, std::span<const std::string> known);

/// Nominal size in inches as the codes' tables count it. Sizes that are no inch sizes ("22x1", "28 mm") are
/// taken as the copper tube of that outer diameter (nominal = diameter - 1/8 in, to the nearest 1/8 in: ASTM
/// B88).
double nominal_inches(std::string_view nominal_size, double outer_diameter_m);

}  // namespace firstdraw::rules
