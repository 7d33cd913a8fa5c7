#include "settings/scald.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include "physics/skin_burn.hpp"
#include "rules/rules.hpp"

namespace firstdraw::settings {
namespace {

using draw::at;

constexpr std::size_t most_taps = 20;

/// Straight in the logarithm of the time through two published points, also beyond them.
double through(const rules::BurnTime& a, const rules::BurnTime& b, double water_c) {
  const double share = (water_c - a.water_c) / (b.water_c - a.water_c);
  return a.second_degree_s * std::pow(b.second_degree_s / a.second_degree_s, share);
}

}  // namespace

double published_second_degree_s(double water_c) {
  const auto times = rules::burn_times();
  if (times.empty() || water_c < times.front().water_c) return std::numeric_limits<double>::infinity();
  const auto hotter = std::ranges::upper_bound(times, water_c, {}, &rules::BurnTime::water_c);
  if (hotter == times.end()) return times.back().second_degree_s;
  const auto i = static_cast<std::size_t>(hotter - times.begin());  // at least 1
  double seconds = 0;
  if (i >= 2) seconds = through(times[i - 2], times[i - 1], water_c);
  if (i + 1 < times.size()) seconds = std::max(seconds, through(times[i], times[i + 1], water_c));
  return std::clamp(seconds, times[i].second_degree_s, through(times[i - 1], times[i], water_c));
}

double second_degree_s(double water_c) {
  const physics::BurnLaw& law = physics::henriques();
  return std::min(physics::burn_time_s(law, physics::usual_skin(), water_c, law.second_degree),
                  published_second_degree_s(water_c));
}

std::vector<TapScald> scald_list(const job::Job& job, const draw::Scene& scene,
                                 std::span<const double> hottest_c) {
  std::vector<TapScald> all;
  for (std::size_t t = 0; t < scene.taps.size(); ++t) {
    if (!std::isfinite(hottest_c[t])) continue;
    const job::Outlet& outlet = job.outlets.at(at(scene.taps[t].outlet));
    TapScald tap;
    tap.tap = scene.taps[t].id;
    tap.hottest_c = hottest_c[t];
    tap.limit_c =
        rules::outlet_limit(job.requirements.rules, outlet.fixture, job.requirements.building_kind).water_c;
    tap.valve = outlet.safe_outlet_valve;
    all.push_back(std::move(tap));
  }
  std::ranges::sort(all, {}, [](const TapScald& tap) { return std::tuple(-tap.hottest_c, tap.tap); });
  if (all.size() > most_taps) all.resize(most_taps);
  for (TapScald& tap : all) tap.second_degree_s = second_degree_s(tap.hottest_c);
  return all;
}

}  // namespace firstdraw::settings
