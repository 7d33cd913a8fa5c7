// Published kinds of draw, hourly shapes and tapping profiles, from the built-in tables.
#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>

#include "draw/control.hpp"
#include "draw/demand.hpp"
#include "tables/table.hpp"

namespace firstdraw::draw {

namespace {

constexpr double l_per_min = 1e-3 / 60, kwh_j = 3.6e6;
constexpr double water_j_per_m3_k = 1.163 * kwh_j;
constexpr double mixed_where_no_peak_c = 40;  // 30 K above the regulation's cold water of 10 degC

std::vector<DrawKind> read_kinds() {
  std::vector<DrawKind> kinds;
  for (const tables::Row& row : tables::table("draw_kinds").rows())
    kinds.push_back({row.text("fixture"), row.number("per_day"), row.number("duration_s"),
                     row.number("duration_cv"), row.number("flow_l_per_min") * l_per_min,
                     row.number("flow_cv"), row.number_or_nan("use_c"), row.text("source"),
                     row.text("basis")});
  return kinds;
}

std::array<double, 24> hours_of(const tables::Row& row) {
  std::array<double, 24> hours{};
  for (std::size_t hour = 0; hour < hours.size(); ++hour)
    hours[hour] = row.number((hour < 10 ? "h0" : "h") + std::to_string(hour));
  return hours;
}

double sum(const std::array<double, 24>& hours) { return std::accumulate(hours.begin(), hours.end(), 0.0); }

/// The tables give hours on one scale for weekdays and weekends: their sums tell how busy weekends are.
void finish(UseProfile& profile) {
  const double weekday = sum(profile.weekday_hours), weekend = sum(profile.weekend_hours);
  profile.weekday_frac[5] = profile.weekday_frac[6] = weekend / weekday;
  for (double& hour : profile.weekday_hours) hour /= weekday;
  for (double& hour : profile.weekend_hours) hour /= weekend;
}

std::vector<UseProfile> read_profiles() {
  std::vector<UseProfile> profiles;
  for (const tables::Row& row : tables::table("hourly_profiles").rows()) {
    const bool weekday = row.text("day") == "weekday";
    if (weekday) profiles.emplace_back().id = row.text("profile");
    UseProfile& profile = profiles.back();
    profile.draws_frac = row.number("draws_frac");
    (weekday ? profile.weekday_hours : profile.weekend_hours) = hours_of(row);
    if (!weekday) profile.source += "; weekends: ";
    profile.source += row.text("source");
    profile.basis = row.text("basis");
  }
  for (UseProfile& profile : profiles) finish(profile);
  return profiles;
}

const std::vector<UseProfile>& profiles() {
  static const std::vector<UseProfile> all = read_profiles();
  return all;
}

using Tappings = std::vector<std::pair<std::string, std::vector<TappingDraw>>>;

double clock_s(const std::string& text) {
  return std::stod(text.substr(0, 2)) * hour_s + std::stod(text.substr(3)) * minute_s;
}

Tappings read_tappings() {
  Tappings all;
  for (const tables::Row& row : tables::table("tapping_profiles").rows()) {
    if (all.empty() || all.back().first != row.text("profile")) all.push_back({row.text("profile"), {}});
    all.back().second.push_back({clock_s(row.text("time")), row.number("useful_energy_kwh") * kwh_j,
                                 row.number("flow_l_per_min") * l_per_min, row.number("useful_c"),
                                 row.number_or_nan("peak_c")});
  }
  return all;
}

const Tappings& tappings() {
  static const Tappings all = read_tappings();
  return all;
}

}  // namespace

std::span<const DrawKind> published_kinds() {
  static const std::vector<DrawKind> kinds = read_kinds();
  return kinds;
}

const UseProfile* published_profile(std::string_view id) {
  const auto found = std::ranges::find(profiles(), id, &UseProfile::id);
  return found == profiles().end() ? nullptr : &*found;
}

std::vector<std::string> published_profile_ids() {
  std::vector<std::string> ids;
  for (const UseProfile& profile : profiles()) ids.push_back(profile.id);
  return ids;
}

std::string published_profile_for(std::string_view building) {
  for (const tables::Row& row : tables::table("building_profiles").rows())
    if (row.text("building") == building) return row.text("profile");
  return {};
}

std::span<const TappingDraw> tapping_profile(std::string_view name) {
  const auto found = std::ranges::find(tappings(), name, &Tappings::value_type::first);
  if (found == tappings().end()) return {};
  return found->second;
}

std::vector<std::string> tapping_profile_names() {
  std::vector<std::string> names;
  for (const auto& [name, draws] : tappings()) names.push_back(name);
  return names;
}

std::vector<Draw> tapping_draws(std::string_view name, int tap, double begin_s, double end_s, double hot_c,
                                double cold_c) {
  if (!(hot_c > cold_c)) throw std::logic_error("tapping profile: hot water no hotter than cold");
  std::vector<Draw> draws;
  for (double day = std::floor(begin_s / day_s); day * day_s < end_s; ++day) {
    for (const TappingDraw& row : tapping_profile(name)) {
      const double open_s = day * day_s + row.time_s;
      if (open_s < begin_s || open_s >= end_s) continue;
      const double mixed_c = std::isnan(row.peak_c) ? mixed_where_no_peak_c : row.peak_c;
      const double hot_m3_per_s = row.flow_m3_per_s * hot_share(mixed_c, hot_c, cold_c);
      const double volume_m3 = row.energy_j / (water_j_per_m3_k * (hot_c - cold_c));
      draws.push_back({tap, open_s, volume_m3 / hot_m3_per_s, hot_m3_per_s});
    }
  }
  return draws;
}

}  // namespace firstdraw::draw
