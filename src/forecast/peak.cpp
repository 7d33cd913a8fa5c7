// Flow at the supply against fixture units.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "forecast/compare.hpp"
#include "rules/fixture_units.hpp"

namespace firstdraw::forecast {
namespace {

constexpr double litres_per_m3 = 1000;

/// Bathrooms of one household or one guest each; elsewhere fixtures are shared (our reading of the code's
/// headings).
rules::Occupancy occupancy_of(std::string_view building_kind) {
  constexpr std::array<std::string_view, 4> one_household{"apartments", "hotel", "care-home", "nursing-home"};
  return std::ranges::find(one_household, building_kind) == one_household.end()
             ? rules::Occupancy::public_use
             : rules::Occupancy::private_use;
}

/// The table, without the row that stands behind its name.
rules::Citation table_of(rules::Citation citation) {
  citation.clause = citation.clause.substr(0, citation.clause.find(','));
  return citation;
}

}  // namespace

PeakCheck peak_check(const job::Job& job, const draw::Scene& scene, std::span<const draw::Draw> draws) {
  const rules::Occupancy occupancy = occupancy_of(job.requirements.building_kind);
  const draw::PeakFlow flow = draw::peak_flow(draws);
  PeakCheck check;
  check.simulated_l_per_s = flow.largest_m3_per_s * litres_per_m3;
  check.simulated_p99_l_per_s = flow.p99_m3_per_s * litres_per_m3;
  std::string weights;
  for (const draw::Tap& tap : scene.taps) {
    const auto units = rules::fixture_units(job.outlets.at(draw::at(tap.outlet)).fixture, occupancy);
    check.fixture_units += units.hot;
    weights = table_of(units.citation).text();
  }
  const rules::DemandFlow demand = rules::demand_flow(check.fixture_units);
  check.fixture_unit_l_per_s = demand.flow_m3_per_s * litres_per_m3;
  check.basis = fmt::format(
      "hot-water weights of {} use, {}; flow {}{}",
      occupancy == rules::Occupancy::private_use ? "private" : "public", weights, demand.citation.text(),
      demand.beyond_table ? ", whose last row is passed: the flow asked for is larger" : "");
  return check;
}

}  // namespace firstdraw::forecast
