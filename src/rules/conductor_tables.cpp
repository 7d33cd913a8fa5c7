// data/rules_sizes.csv, rules_standard_ratings.csv, rules_wire_insulation.csv, rules_capacity.csv,
// rules_ambient.csv, rules_grouping.csv, rules_equipment_earth.csv, rules_resistance.csv.
#include "rules/conductor_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ranges>
#include <set>
#include <stdexcept>

namespace firstdraw::rules {

namespace {

constexpr double kKm = 1000;

auto rows_of(std::string_view name, RuleSet rules) {
  return tables::table(name).rows() |
         std::views::filter([rules](const tables::Row& row) { return applies(row, rules); });
}

std::vector<std::string> names_of(std::string_view table, std::string_view column, RuleSet rules) {
  std::vector<std::string> names;
  for (const tables::Row& row : rows_of(table, rules)) {
    if (std::ranges::find(names, row.text(column)) == names.end()) names.push_back(row.text(column));
  }
  return names;
}

std::vector<ConductorSize> read_sizes(RuleSet rules) {
  std::vector<ConductorSize> sizes;
  for (const tables::Row& row : rows_of("rules_sizes", rules)) {
    sizes.push_back({row.text("size"), row.number("area_mm2"), row.number_or_nan("area_kcmil"),
                     row.number_or_nan("most_device_a"), citation_of(row)});
  }
  return sizes;
}

/// An empty upper end has no end.
bool within(const tables::Row& row, double value) {
  const double up_to = row.number_or_nan("up_to");
  return std::isnan(up_to) || value <= up_to;
}

}  // namespace

std::span<const ConductorSize> conductor_sizes(RuleSet rules) {
  static const std::vector<ConductorSize> us = read_sizes(RuleSet::us), intl = read_sizes(RuleSet::intl);
  return rules == RuleSet::us ? us : intl;
}

std::vector<double> standard_ratings_a(RuleSet rules, bool shared) {
  std::vector<double> ratings;
  for (const tables::Row& row : rows_of("rules_standard_ratings", rules)) {
    if (!shared || row.text("shared") == "yes") ratings.push_back(row.number("rating_a"));
  }
  return ratings;
}

std::span<const std::string> wire_insulations(RuleSet rules) {
  static const auto us = names_of("rules_wire_insulation", "insulation", RuleSet::us),
                    intl = names_of("rules_wire_insulation", "insulation", RuleSet::intl);
  return rules == RuleSet::us ? us : intl;
}

CitedNumber insulation_limit_c(RuleSet rules, std::string_view insulation) {
  require_known("insulation", insulation, wire_insulations(rules));
  for (const tables::Row& row : rows_of("rules_wire_insulation", rules)) {
    if (row.text("insulation") == insulation) return {row.number("conductor_c"), citation_of(row)};
  }
  throw std::logic_error("insulation known but not found");
}

std::span<const std::string> installation_methods(RuleSet rules) {
  static const auto us = names_of("rules_capacity", "method", RuleSet::us),
                    intl = names_of("rules_capacity", "method", RuleSet::intl);
  return rules == RuleSet::us ? us : intl;
}

std::span<const double> capacity_columns_c(RuleSet rules) {
  const auto read = [](RuleSet of) {
    std::set<double> columns;
    for (const tables::Row& row : rows_of("rules_capacity", of)) columns.insert(row.number("conductor_c"));
    return std::vector<double>(columns.begin(), columns.end());
  };
  static const std::vector<double> us = read(RuleSet::us), intl = read(RuleSet::intl);
  return rules == RuleSet::us ? us : intl;
}

std::optional<CitedNumber> capacity_a(RuleSet rules, double conductor_c, std::string_view method, int loaded,
                                      std::string_view size) {
  for (const tables::Row& row : rows_of("rules_capacity", rules)) {
    if (row.text("size") == size && row.text("method") == method &&
        row.number("conductor_c") == conductor_c && row.number("loaded") >= loaded)
      return CitedNumber{row.number("capacity_a"), citation_of(row)};
  }
  return std::nullopt;
}

std::optional<CitedNumber> ambient_factor(RuleSet rules, double conductor_c, double ambient_c) {
  for (const tables::Row& row : rows_of("rules_ambient", rules)) {
    if (row.number("conductor_c") == conductor_c && ambient_c <= row.number("up_to_c"))
      return CitedNumber{row.number("factor"), citation_of(row)};
  }
  return std::nullopt;
}

std::optional<CitedNumber> grouping_factor(RuleSet rules, int count) {
  for (const tables::Row& row : rows_of("rules_grouping", rules)) {
    if (within(row, count)) return CitedNumber{row.number("factor"), citation_of(row)};
  }
  return std::nullopt;
}

std::optional<EarthSize> earth_size(RuleSet rules, double device_a, double phase_mm2) {
  for (const tables::Row& row : rows_of("rules_equipment_earth", rules)) {
    if (within(row, row.text("by") == "device_a" ? device_a : phase_mm2))
      return EarthSize{row.text("size"), citation_of(row)};
  }
  return std::nullopt;
}

std::span<const std::string> conductor_makes(RuleSet rules) {
  static const auto us = names_of("rules_resistance", "make", RuleSet::us),
                    intl = names_of("rules_resistance", "make", RuleSet::intl);
  return rules == RuleSet::us ? us : intl;
}

bool has_resistance(RuleSet rules, std::string_view size, std::string_view make) {
  for (const tables::Row& row : rows_of("rules_resistance", rules)) {
    if (row.text("size") == size && row.text("make") == make) return true;
  }
  return false;
}

CitedNumber resistance_ohm_per_m(RuleSet rules, std::string_view size, std::string_view make,
                                 double conductor_c) {
  require_known("conductor size", size, names_of("rules_resistance", "size", rules));
  require_known("make of conductor", make, names_of("rules_resistance", "make", rules));
  for (const tables::Row& row : rows_of("rules_resistance", rules)) {
    if (row.text("size") != size || row.text("make") != make) continue;
    const double warmer = 1 + row.number("per_k") * (conductor_c - row.number("at_c"));
    return {row.number("r_ohm_per_km") / kKm * warmer, citation_of(row)};
  }
  throw std::logic_error(fmt::format("no resistance of a conductor of {}, {}", size, make));
}

}  // namespace firstdraw::rules
