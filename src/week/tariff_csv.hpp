// Reads a tariff from a plain table of our own, for tariffs that are in no public record. Columns and an
// example: docs/week.md.
#pragma once

#include <string_view>

#include "week/tariff_json.hpp"

namespace firstdraw::week {

/// Columns charge, name, days, from, to, months, up_to, price, demand_price, ratchet; each row is a charge:
/// energy (also where blank), flat_demand, fixed_per_month, fixed_per_day, minimum_per_month or
/// minimum_per_year. Every hour of the year must have one price of energy: gaps and overlaps are errors.
/// `file` names it in messages, which carry line, column and field.
job::Result<TariffImport> read_tariff_csv(std::string_view text, std::string_view file,
                                          const TariffAsked& asked);

}  // namespace firstdraw::week
