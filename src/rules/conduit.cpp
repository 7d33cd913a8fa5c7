// data/rules_conduit_us.csv, rules_conduit_fill_us.csv, rules_wire_area_us.csv.
#include "rules/conduit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "rules/cited_row.hpp"

namespace firstdraw::rules {

namespace {

constexpr double kInchM = 0.0254;
constexpr double kPercent = 100;

std::vector<std::string> distinct(std::string_view table, std::string_view column) {
  std::vector<std::string> names;
  for (const tables::Row& row : tables::table(table).rows()) {
    if (std::ranges::find(names, row.text(column)) == names.end()) names.push_back(row.text(column));
  }
  return names;
}

struct Wire {
  double diameter_in = 0, area_in2 = 0;
};

Wire wire_of(const RacewayConductors& one) {
  if (one.count < 1) throw std::logic_error("conduit_for: a bundle has at least one conductor");
  if (one.outer_diameter_m) {
    const double diameter_in = *one.outer_diameter_m / kInchM;
    if (!(diameter_in > 0)) throw std::logic_error("conduit_for: a diameter must be positive");
    return {diameter_in, std::numbers::pi * diameter_in * diameter_in / 4};
  }
  require_known("insulation", one.insulation, conduit_insulations());
  require_known("conductor size", one.size, distinct("rules_wire_area_us", "size"));
  for (const tables::Row& row : tables::table("rules_wire_area_us").rows()) {
    if (row.text("size") == one.size && row.text("insulation") == one.insulation)
      return {row.number("outer_diameter_in"), row.number("area_in2")};
  }
  throw std::logic_error(fmt::format("no area of {} {}", one.size, one.insulation));
}

struct Bundle {
  int count = 0;
  double area_in2 = 0;
  Wire thickest;
  bool alike = true;
};

Bundle bundle_of(std::span<const RacewayConductors> conductors) {
  Bundle bundle;
  for (const RacewayConductors& one : conductors) {
    const Wire wire = wire_of(one);
    bundle.alike = bundle.alike && (bundle.count == 0 || wire.area_in2 == bundle.thickest.area_in2);
    bundle.count += one.count;
    bundle.area_in2 += one.count * wire.area_in2;
    if (wire.area_in2 > bundle.thickest.area_in2) bundle.thickest = wire;
  }
  if (bundle.count == 0) throw std::logic_error("conduit_for: a bundle has at least one conductor");
  return bundle;
}

/// "one", "two", "many", "nipple": row of Table 1 and column of Table 4.
const tables::Row& fill_rule(const std::vector<tables::Row>& rows, int count, bool nipple) {
  for (const tables::Row& row : rows) {
    const double up_to = row.number_or_nan("up_to");
    if (nipple ? row.text("case") == "nipple" : std::isnan(up_to) || count <= up_to) return row;
  }
  throw std::logic_error("rules_conduit_fill_us.csv has no row for the number of conductors");
}

/// Note 7: the greatest number of like conductors is rounded up when its decimal is 0.8 or more.
bool fits(const Bundle& bundle, double allowed_in2) {
  constexpr double kNote7 = 0.2, kRound = 1e-9;
  if (bundle.area_in2 <= allowed_in2 * (1 + kRound)) return true;
  if (!bundle.alike || bundle.count < 2) return false;
  return bundle.count <= std::floor(allowed_in2 / bundle.thickest.area_in2 + kNote7 + kRound);
}

void caution_jam(const Bundle& bundle, const tables::Row& conduit, Ruling& ruling) {
  constexpr double kJamFrom = 2.8, kJamTo = 3.2;
  const double ratio = conduit.number("inner_diameter_in") / bundle.thickest.diameter_in;
  if (bundle.count != 3 || ratio < kJamFrom || ratio > kJamTo) return;
  ruling.say(fmt::format("Three conductors can jam here: the raceway is {:.2f} times as wide as one of them.",
                         ratio),
             {"NFPA 70 (NEC)", "2023", "Chapter 9 Table 1 informational note 2", "read"}, "raceway");
}

ConduitChoice chosen(const Bundle& bundle, const tables::Row& conduit, Ruling& ruling) {
  caution_jam(bundle, conduit, ruling);
  const double fill_frac = bundle.area_in2 / conduit.number("area_in2");
  ruling.say(
      fmt::format("{} conductors of {:.4f} in2 together fill {} {} to {:.1f} %.", bundle.count,
                  bundle.area_in2, conduit.text("kind"), conduit.text("trade_size"), kPercent * fill_frac),
      citation_of(conduit), "raceway");
  return {conduit.text("trade_size"), conduit.text("metric_size"), fill_frac,
          bundle.area_in2 * kInchM * kInchM, ruling.reasons()};
}

}  // namespace

std::span<const std::string> conduit_kinds() {
  static const std::vector<std::string> kinds = distinct("rules_conduit_us", "kind");
  return kinds;
}

std::span<const std::string> conduit_insulations() {
  static const std::vector<std::string> names = distinct("rules_wire_area_us", "insulation");
  return names;
}

std::expected<ConduitChoice, std::string> conduit_for(std::string_view kind,
                                                      std::span<const RacewayConductors> conductors,
                                                      bool nipple, std::span<const Override> overrides) {
  require_known("raceway", kind, conduit_kinds());
  Ruling ruling(RuleSet::us, overrides);
  const Bundle bundle = bundle_of(conductors);
  const std::vector<tables::Row> fills = tables::table("rules_conduit_fill_us").rows();
  const tables::Row& fill = fill_rule(fills, bundle.count, nipple);
  const double most_frac = ruling.apply("raceway-fill", fill.number("fill_frac"),
                                        fmt::format("{} conductors may fill {:g} % of the raceway.",
                                                    bundle.count, kPercent * fill.number("fill_frac")),
                                        citation_of(fill));
  const std::string column = "fill_" + fill.text("case") + "_in2";
  for (const tables::Row& conduit : tables::table("rules_conduit_us").rows()) {
    if (conduit.text("kind") != kind) continue;
    const double allowed_in2 =
        ruling.overridden("raceway-fill") ? most_frac * conduit.number("area_in2") : conduit.number(column);
    if (fits(bundle, allowed_in2)) return chosen(bundle, conduit, ruling);
  }
  return std::unexpected(fmt::format("no {} of the table holds {} conductors of {:.4f} in2 together", kind,
                                     bundle.count, bundle.area_in2));
}

}  // namespace firstdraw::rules
