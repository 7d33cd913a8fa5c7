// From a scene and its draws to what happened. Deterministic: same scene, draws and options, same bits.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <limits>
#include <span>
#include <vector>

#include "draw/demand.hpp"
#include "draw/scene.hpp"

namespace firstdraw::draw {

/// Seconds since opening at which the temperature at the tap is kept.
inline constexpr std::array<double, 14> since_open_s = {0, 1, 2, 3, 5, 7, 10, 15, 20, 30, 45, 60, 90, 120};
inline constexpr std::size_t at_10_s = 6, at_30_s = 9;

/// Counts by temperature, 0...100 degC in half kelvins; below and above count in the end bins.
struct TempCounts {
  static constexpr int bins = 200;
  static constexpr double step_k = 0.5;
  std::array<std::uint32_t, bins> count{};
  void add(double temp_c);
  std::uint64_t total() const;
  /// Straight within a bin; NaN when empty.
  double quantile(double share) const;
  double share_at_least(double temp_c) const;  // NaN when empty
};
/// The same for time, s.
struct TempSeconds {
  std::array<double, TempCounts::bins> seconds{};
  /// A stretch that went straight from one temperature to the other.
  void add(double from_c, double to_c, double duration_s);
  double total() const;
  double between(double low_c, double high_c) const;
  double mean_c() const;
};

enum class Start { held, cold };  // heated runs at their set-point, or everything at the air's temperature

/// Temperatures at every record time: [record][run or tap or group], laid out flat.
struct Records {
  std::vector<double> time_s;
  std::vector<float> run_c, run_coldest_c;       // water: mean, coldest cell
  std::vector<float> run_end_c, run_end_wall_c;  // water and wall of the last cell
  std::vector<float> tap_c, reading_c, group_w;
  std::vector<float> duty_frac;  // of groups: share of output that is on
};

struct Options {
  double begin_s = 0, end_s = 7 * day_s;  // reported
  double run_in_s = day_s;                // simulated before begin_s and not reported
  Start start = Start::held;
  double tick_s = 20;                        // controllers look this often
  double longest_step_s = 900;               // of standing water
  double record_every_s = 0;                 // series of every run and tap; 0: none
  bool record_controls_only = false;         // only what controllers see and do: costs next to nothing
  bool keep_draws = false;                   // one record per draw
  double band_low_c = 20, band_high_c = 45;  // growth band, see rules::growth_band
  /// A stay below this is counted too, however cold: what a guideline asks of the water in pipes.
  double below_c = -std::numeric_limits<double>::infinity();
  /// Called about once per simulated hour with the share done; false stops the simulation there.
  std::function<bool(double done_frac)> progress;
  /// Called about once per reported hour with what is recorded so far; not with `record_every_s` 0.
  std::function<void(const Records& so_far)> look{};
};

/// One draw as the tap saw it.
struct DrawRecord {
  static constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
  int tap = -1;
  double open_s = 0, duration_s = 0, litres = 0;
  double opening_c = unknown, after_10_s_c = unknown, after_30_s_c = unknown,
         end_c = unknown;                                        // closed before
  double hot_after_s = std::numeric_limits<double>::infinity();  // never while open
  double litres_wasted = 0;
  double age_s = 0;  // of the water at the end
};

struct TapResult {
  std::array<TempCounts, since_open_s.size()> since_open;  // draws still open at that time
  TempCounts at_end;
  std::uint32_t draws = 0, hot_at_once = 0, hot_in_10_s = 0, hot_in_30_s = 0, never_hot = 0;
  std::uint32_t open_10_s = 0, open_30_s = 0;    // draws that lasted so long
  std::array<std::uint32_t, 121> hot_after_s{};  // draws by whole seconds until hot; last: later
  double litres = 0, litres_wasted = 0;
  double heat_j = 0;  // above cold water
  double oldest_water_s = 0;
  double hottest_c = -std::numeric_limits<double>::infinity();  // that came out
};
struct RunResult {
  double min_c = std::numeric_limits<double>::infinity(), max_c = -std::numeric_limits<double>::infinity();
  TempSeconds time_at;  // mean over the run's cells, water
  double longest_standing_s = 0;
  // Of the coldest cell, without a break, by whole steps (Options.longest_step_s while nothing moves).
  double longest_in_band_s = 0, longest_below_s = 0;
  double mean_age_s = 0, oldest_s = 0;  // sampled at each hour
  double cable_j = 0, loss_j = 0, litres = 0;
};
struct GroupResult {
  std::vector<double> energy_j;  // by quarter hour from begin_s
  int cycles = 0;
  double on_frac = 0;
  double lowest_reading_c = 0, highest_reading_c = 0;
};
/// Heat that came in, went out and stayed, over the reported time; residual_j closes it.
struct Balance {
  double supply_j = 0, cable_j = 0, drawn_j = 0, loss_j = 0, stored_change_j = 0;
  double residual_j = 0;
  double worst_step_frac = 0;  // largest residual of one step over what it moved
};
struct Work {  // what it cost, for benches
  std::uint64_t cell_exchanges = 0, standing_steps = 0, standing_cells = 0, run_advances = 0, slow_steps = 0;
};

struct Result {
  double begin_s = 0, end_s = 0;  // really simulated: less than asked when it was stopped
  bool stopped = false;
  std::vector<TapResult> taps;
  std::vector<RunResult> runs;
  std::vector<GroupResult> groups;
  Balance balance;
  double heater_j = 0;  // put into water by the heater, above cold
  double lowest_supply_c = 0;
  Records records;
  std::vector<DrawRecord> draws;
  Work work;
};

/// Draws in the order of sort_draws. Throws std::logic_error when scene or draws break a promise.
Result simulate(const Scene& scene, std::span<const Draw> draws, const Options& options);

}  // namespace firstdraw::draw
