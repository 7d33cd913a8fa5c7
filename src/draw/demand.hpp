// Who opens which tap when. Draws are rectangular pulses of hot water; they come from a seeded stochastic
// description, a published tapping profile or a recording.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::draw {

struct Draw {
  int tap = -1;  // index into Scene.taps
  double open_s = 0, duration_s = 0;
  double flow_m3_per_s = 0;  // hot water in the runout
  bool operator==(const Draw&) const = default;
};
/// By opening time, then tap: the order every consumer expects.
void sort_draws(std::vector<Draw>& draws);

/// Kind of draw at a fixture: log-normal duration and flow, each by mean and coefficient of variation.
struct DrawKind {
  std::string fixture;  // rules::fixtures()
  double per_day = 0;   // one fixture, an average weekday
  double mean_duration_s = 0, duration_cv = 0;
  double mean_flow_m3_per_s = 0, flow_cv = 0;  // of mixed water
  double use_c = 0;                            // temperature of the mixed water; NaN: all hot
  std::string source, basis;
};

/// When people of one kind use water: relative by hour, by weekday; `draws_frac` scales the kinds' per_day.
struct UseProfile {
  std::string id;
  std::array<double, 24> weekday_hours{}, weekend_hours{};  // each adds up to 1
  std::array<double, 7> weekday_frac{1, 1, 1, 1, 1, 1, 1};
  double draws_frac = 1;
  std::vector<DrawKind> kinds;  // replaces the published kinds of the same fixture
  std::string source, basis;
};

/// Published kinds, one for each fixture (data/draw_kinds.csv).
std::span<const DrawKind> published_kinds();
/// Published hourly shapes (data/hourly_profiles.csv); nullptr when unknown. They carry no kinds.
const UseProfile* published_profile(std::string_view id);
std::vector<std::string> published_profile_ids();
/// Id of the published profile of a building kind (data/building_profiles.csv, kinds of
/// rules_buildings.csv); empty when unknown.
std::string published_profile_for(std::string_view building);

/// One tap as the generator sees it.
struct TapUse {
  int tap = -1;
  std::uint64_t key = 0;  // of the tap's id: what its draws are seeded by, so that order does not matter
  DrawKind kind;
  const UseProfile* profile = nullptr;
};

struct StochasticOptions {
  double begin_s = 0, end_s = 0;
  std::uint64_t seed = 1;
  double hot_c = 60, cold_c = 10;  // for the share of hot water in what is drawn
  /// Spread of the daily count beyond Poisson: the day's rate is gamma distributed with this coefficient of
  /// variation (Buchberger & Wells 1996 found counts too variable for Poisson).
  double daily_cv = 0.3;
};
/// Poisson arrivals by hour and weekday; a tap that is open when the next draw comes opens again after it
/// closes. Same seed, same draws, whatever the order of taps; each tap and day has a stream of its own.
std::vector<Draw> stochastic_draws(std::span<const TapUse> taps, const StochasticOptions& options);

/// Regulation (EU) 812/2013, Annex VII table 3: "3XS" ... "4XL"; one day of draws at one tap, repeated daily.
/// Volume follows from energy at the hot water's temperature, 1.163 kWh/(m3 K) as the regulation counts; the
/// flow is that of water mixed to the peak temperature, or 40 degC where the table gives none. Throws
/// std::logic_error unless the hot water is hotter than the cold.
struct TappingDraw {
  double time_s = 0, energy_j = 0, flow_m3_per_s = 0, useful_c = 0, peak_c = 0;
};
std::span<const TappingDraw> tapping_profile(std::string_view name);  // empty when unknown
std::vector<std::string> tapping_profile_names();
std::vector<Draw> tapping_draws(std::string_view name, int tap, double begin_s, double end_s, double hot_c,
                                double cold_c);

/// Share of hot water in a mix, 0...1 (1 when the mix is as hot as the hot water or more).
double hot_share(double mixed_c, double hot_c, double cold_c);

/// Largest simultaneous flow of a set of draws, and for how long per day each flow is exceeded.
struct PeakFlow {
  double largest_m3_per_s = 0, p99_m3_per_s = 0;  // p99 of the time during which anything flows
  double at_s = 0;
};
PeakFlow peak_flow(std::span<const Draw> draws);

}  // namespace firstdraw::draw
