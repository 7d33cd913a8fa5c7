#include "rules/fixture_units.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

#include "rules/cited_row.hpp"

namespace firstdraw::rules {

namespace {

constexpr double m3_per_s_of_gpm = 3.785411784e-3 / 60;  // exact: US gallon of 231 cubic inches

struct FlowRow {
  double units, flow_m3_per_s;
  Citation citation;
};

const std::vector<FlowRow>& flow_rows() {
  static const std::vector<FlowRow> rows = [] {
    std::vector<FlowRow> all{{0, 0, {}}};
    for (const tables::Row& row : tables::table("peak_flow").rows())
      all.push_back({row.number("fixture_units"), row.number("gpm") * m3_per_s_of_gpm, citation_of(row)});
    return all;
  }();
  return rows;
}

}  // namespace

FixtureUnits fixture_units(std::string_view fixture, Occupancy occupancy) {
  const std::string_view wanted = occupancy == Occupancy::public_use ? "public" : "private";
  for (const tables::Row& row : tables::table("fixture_units").rows())
    if (row.text("fixture") == fixture && row.text("occupancy") == wanted)
      return {row.number("hot_units"), citation_of(row)};
  throw std::logic_error("fixture_units: no fixture " + std::string(fixture));
}

DemandFlow demand_flow(double units) {
  if (!(units >= 0)) throw std::logic_error("demand_flow: units must not be negative");
  const auto& rows = flow_rows();
  const auto next = std::ranges::upper_bound(rows, units, {}, &FlowRow::units);
  if (next == rows.end()) return {rows.back().flow_m3_per_s, units > rows.back().units, rows.back().citation};
  const FlowRow& below = *(next - 1);
  const double frac = (units - below.units) / (next->units - below.units);
  return {std::lerp(below.flow_m3_per_s, next->flow_m3_per_s, frac), false, next->citation};
}

}  // namespace firstdraw::rules
