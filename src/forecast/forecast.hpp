// What water each tap gives: a planned job lived through for some days, once or as an ensemble, and what that
// answers. The one entry point for terminal, page and pack. Values only, printable as JSON.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <limits>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "draw/simulate.hpp"
#include "forecast/scene.hpp"

namespace firstdraw::forecast {

struct ForecastOptions {
  double days = 7;
  std::uint64_t seed = 1;
  int ensemble = 1;  // members; above 1 each has its own draws and its own luck within the tolerances
  int threads = 1;
  std::vector<Fault> faults;
  bool axial_mixing = false;
  bool cold_start = false;      // from standing cold, nothing simulated before
  bool compare = true;          // also without tracing and with a pumped return
  bool advise = true;           // may live through one more week
  double record_every_s = 600;  // series of the first member
  std::string tapping;  // EU profile at every tap that has a shower or bath, instead of stochastic draws
  std::vector<draw::Draw> recorded;  // used instead of generated draws when not empty
  double cell_m = 0.75;
  double below_c = -std::numeric_limits<double>::infinity();  // draw::Options::below_c
  bool keep_draws = false;                                    // records of draws in every member's result
  /// Called with each member that was lived to its end, one at a time in rising order, whatever `threads`.
  /// The first is the nominal building.
  std::function<void(std::size_t member, const draw::Scene& nominal, const draw::Result& result)> each_member;
  /// Share done, over all members; false stops and keeps what is done.
  std::function<bool(double done_frac)> progress;
  /// Share done of the week that is lived once more for an advice; false stops that. Left out: `progress`
  /// hears 1.
  std::function<bool(double done_frac)> advising{};
  /// Called about once per simulated hour with the records of the first member so far, from its thread.
  std::function<void(const draw::Scene& nominal, const draw::Records& so_far)> look{};
};

struct Spread {
  double p5 = 0, p50 = 0, p95 = 0;
};

struct OutletAnswer {
  std::string tap;
  int outlet = draw::none;  // index into job.outlets
  double hot_c = 0;
  double draws_per_day = 0;
  double hot_at_once_frac = 0, hot_in_10_s_frac = 0, hot_in_30_s_frac = 0;  // of draws that lasted so long
  Spread hot_after_s;  // infinity: not while the tap was open
  Spread end_c;
  std::array<Spread, draw::since_open_s.size()> since_open_c;  // NaN where no draw lasted so long
  double litres_per_day = 0, wasted_litres_per_day = 0;
  double oldest_water_s = 0;
};
struct RunAnswer {
  int run = draw::none;  // index into job.runs
  double min_c = 0, mean_c = 0, max_c = 0;
  double band_hours_per_day = 0, longest_in_band_s = 0;  // growth band of rules::growth_band
  double longest_standing_s = 0;
  double log_reduction_per_day = 0;                      // default inactivation set
  double log_reduction_low = 0, log_reduction_high = 0;  // over the sets that reach down to the mean
  bool inactivated = false;  // 5 log or more a week by the default set (our choice, no source)
  double mean_age_s = 0, oldest_s = 0;
  double cable_kwh_per_day = 0, loss_kwh_per_day = 0;
};
struct GroupAnswer {
  double kwh_per_day = 0, peak_kw = 0, cycles_per_day = 0, on_frac = 0;
  std::array<double, 168> kwh_by_hour{};        // of an average week from Monday 00:00
  std::array<double, 101> duration_curve_kw{};  // exceeded during i percent of the time, quarter-hour means
  double lowest_reading_c = 0, highest_reading_c = 0;
};
struct BuildingAnswer {
  double cable_kwh_per_day = 0, heater_kwh_per_day = 0, loss_kwh_per_day = 0, peak_kw = 0;
  double litres_per_day = 0, wasted_litres_per_day = 0;
  double hot_at_once_frac = 0, hot_in_10_s_frac = 0, hot_in_30_s_frac = 0;
  double lowest_supply_c = 0;
  double balance_residual_frac = 0;  // of the heat that came in
};
/// One way of keeping the water hot, on the same draws.
struct Alternative {
  std::string id, name;  // "traced", "untraced", "return"
  double cable_kwh_per_day = 0, heater_kwh_per_day = 0, pump_kwh_per_day = 0;
  double cost_per_year = 0;
  double hot_in_10_s_frac = 0;       // NaN: not simulated
  double wasted_litres_per_day = 0;  // NaN: not simulated
  std::string basis;
};
/// Flow at the supply against what fixture units ask for.
struct PeakCheck {
  double simulated_l_per_s = 0, simulated_p99_l_per_s = 0;
  double fixture_units = 0, fixture_unit_l_per_s = 0;
  std::string basis;
};
/// Something the simulated days show to be wrong with the nominal building, and what to do about it.
struct Advice {
  /// "sensor-flattered", "runs-left-cold", "long-runout", "supply-short", "always-on", "never-on".
  std::string id;
  std::string group = {}, run = {}, tap = {};  // where; of several the worst; empty: does not apply
  std::string better_run = {};                 // where the sensor was tried; empty: nowhere
  std::string wrong = {}, remedy = {};         // in words, in the job's units
  std::vector<std::pair<std::string, double>> figures = {};  // named with their units, SI
};
/// "Group riser-a", "Tap O-12" or "Supply".
std::string place_of(const Advice& advice);

struct Forecast {
  ForecastOptions options;
  double days = 0;  // really simulated
  bool stopped = false;
  int members = 0;
  draw::Scene scene;                  // nominal
  std::vector<OutletAnswer> outlets;  // like scene.taps
  std::vector<RunAnswer> runs;        // traced and untraced job runs of the scene, in the scene's order
  std::vector<GroupAnswer> groups;    // like job.groups
  BuildingAnswer building;
  Spread member_hot_in_10_s_frac, member_cable_kwh_per_day, member_coldest_c;  // across members
  std::vector<Alternative> alternatives;
  std::vector<Advice> advice;
  PeakCheck peak;
  int worst_tap = draw::none;           // least hot in 10 s; index into outlets
  draw::Records records;                // first member
  std::vector<draw::DrawRecord> draws;  // first member
  std::vector<job::Assumption> assumptions;
  std::vector<rules::Citation> sources;
};

Forecast forecast(const job::Job& job, const plan::Plan& plan, const ForecastOptions& options);

/// schemas/forecast.schema.json.
nlohmann::json to_json(const job::Job& job, const Forecast& forecast);

}  // namespace firstdraw::forecast
