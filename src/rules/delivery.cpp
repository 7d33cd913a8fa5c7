// At the tap: longest untraced pipe to a fixture, hottest water at an outlet, burn times.
// data/rules_runout.csv, rules_outlets.csv, rules_fixtures.csv, rules_buildings.csv, rules_burns.csv.
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "rules/cited_row.hpp"
#include "rules/rules.hpp"
#include "units/quantity.hpp"

namespace firstdraw::rules {

namespace {

constexpr std::string_view kNone = "none";

/// One row of rules_runout.csv.
struct RunoutRow {
  std::string rule, use;  // use: "yes" public lavatory, "no", "any"
  double nominal_in;      // infinite: any size
  RunoutLimit limit;
};

RunoutRow runout_row(const tables::Row& row) {
  constexpr double kInchM = 0.0254;
  const std::string& size = row.text("nominal_size");
  const double nominal_in =
      size.empty() ? HUGE_VAL : units::parse(size, units::Kind::size, "in").value() / kInchM;
  return {row.text("rule"),
          row.text("public_lavatory"),
          nominal_in,
          {units::to_si(row.number_or_nan("length_ft"), "ft", units::Kind::length).value(),
           units::to_si(row.number_or_nan("volume_l"), "L", units::Kind::volume).value(), citation_of(row)}};
}

const std::vector<RunoutRow>& runout_rows() {
  static const std::vector<RunoutRow> rows = [] {
    std::vector<RunoutRow> all;
    for (const tables::Row& row : tables::table("rules_runout").rows()) all.push_back(runout_row(row));
    return all;
  }();
  return rows;
}

/// One row of rules_outlets.csv.
struct OutletRow {
  std::string rules, fixtures, buildings;
  OutletLimit limit;
};

const std::vector<OutletRow>& outlet_rows() {
  static const std::vector<OutletRow> rows = [] {
    std::vector<OutletRow> all;
    for (const tables::Row& row : tables::table("rules_outlets").rows()) {
      all.push_back({row.text("rules"),
                     row.text("fixtures"),
                     row.text("buildings"),
                     {row.number_or_nan("limit_c"), citation_of(row)}});
    }
    return all;
  }();
  return rows;
}

std::vector<std::string> first_column(std::string_view table, std::string_view column) {
  std::vector<std::string> names;
  for (const tables::Row& row : tables::table(table).rows()) {
    if (std::ranges::find(names, row.text(column)) == names.end()) names.push_back(row.text(column));
  }
  return names;
}

/// Whether `names` ("shower|bath" or "*") holds `name`.
bool holds(std::string_view names, std::string_view name) {
  if (names == "*") return true;
  while (true) {
    const std::size_t bar = names.find('|');
    if (names.substr(0, bar) == name) return true;
    if (bar == std::string_view::npos) return false;
    names.remove_prefix(bar + 1);
  }
}

}  // namespace

std::span<const std::string> runout_rules() {
  static const std::vector<std::string> all = [] {
    auto names = first_column("rules_runout", "rule");
    names.emplace_back(kNone);
    return names;
  }();
  return all;
}

std::optional<RunoutLimit> runout_limit(std::string_view rule, std::string_view nominal_size,
                                        double outer_diameter_m, bool public_lavatory) {
  require_known("runout rule", rule, runout_rules());
  const double nominal_in = nominal_inches(nominal_size, outer_diameter_m);
  constexpr double kRoundingIn = 1e-6;
  std::optional<RunoutLimit> largest;
  for (const RunoutRow& row : runout_rows()) {
    if (row.rule != rule || (row.use != "any" && (row.use == "yes") != public_lavatory)) continue;
    largest = row.limit;
    if (nominal_in <= row.nominal_in + kRoundingIn) break;
  }
  return largest;
}

std::span<const std::string> fixtures() {
  static const std::vector<std::string> all = first_column("rules_fixtures", "id");
  return all;
}

std::span<const std::string> building_kinds() {
  static const std::vector<std::string> all = first_column("rules_buildings", "id");
  return all;
}

OutletLimit outlet_limit(RuleSet rules, std::string_view fixture, std::string_view building_kind) {
  require_known("fixture", fixture, fixtures());
  require_known("building kind", building_kind, building_kinds());
  for (const OutletRow& row : outlet_rows()) {
    if (row.rules != name_of(rules) || !holds(row.fixtures, fixture)) continue;
    if (holds(row.buildings, building_kind)) return row.limit;
  }
  throw std::logic_error("rules_outlets.csv has no row for " + std::string(fixture));
}

std::span<const BurnTime> burn_times() {
  static const std::vector<BurnTime> all = [] {
    std::vector<BurnTime> times;
    for (const tables::Row& row : tables::table("rules_burns").rows()) {
      times.push_back({row.number("water_c"), row.number("second_degree_s"), row.number("third_degree_s"),
                       citation_of(row)});
    }
    return times;
  }();
  return all;
}

}  // namespace firstdraw::rules
