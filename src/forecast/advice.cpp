#include "forecast/advice.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>
#include <tuple>

#include "units/quantity.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;
using units::Kind;

// When something is worth a word: our choices, no source.
constexpr double long_in_band_h = 1, often_frac = 0.5;
constexpr double supply_slack_k = 1;
constexpr double slow_s = 10, seldom_hot_frac = 0.5;
constexpr double always_frac = 0.98, hardly_frac = 0.001;
constexpr double litres_per_m3 = 1000;

/// The lowest set-point in use; empty when the group is off at times.
std::optional<double> lowest_hold_c(const draw::ControlSettings& control) {
  double lowest = control.hold_c;
  for (const draw::Period& period : control.periods) {
    if (!period.hold_c) return std::nullopt;
    lowest = std::min(lowest, *period.hold_c);
  }
  return lowest;
}

/// One nominal building, read off its tally.
class Seen {
 public:
  Seen(const job::Job& job, const draw::Scene& scene, const Tally& tally)
      : job_(job), scene_(scene), tally_(tally), band_(rules::growth_band()) {}

  std::vector<int> heated(int group) const {
    std::vector<int> runs;
    for (std::size_t r = 0; r < scene_.runs.size(); ++r)
      if (scene_.runs[r].group == group) runs.push_back(static_cast<int>(r));
    return runs;
  }
  const std::string& id(int run) const { return scene_.runs[at(run)].id; }
  double mean_c(int run) const { return tally_.runs[at(run)].time_at.mean_c(); }
  double litres_per_day(int run) const { return tally_.runs[at(run)].litres / tally_.days(); }
  double band_h_per_day(int run) const {
    return tally_.runs[at(run)].time_at.between(band_.low_c, band_.high_c) / draw::hour_s / tally_.days();
  }
  std::size_t in_band(const std::vector<int>& runs) const {
    return static_cast<std::size_t>(
        std::ranges::count_if(runs, [this](int run) { return band_h_per_day(run) > long_in_band_h; }));
  }
  /// Heated runs that are long in the growth band, or mostly colder than the group's tolerance allows.
  std::vector<int> left_cold(int group) const {
    const job::ControlGroup& held = job_.groups[at(group)];
    const double hold_c = lowest_hold_c(scene_.groups[at(group)].control).value_or(0);
    const double least_c = hold_c - held.hold_tolerance_k - 0.5 * held.differential_k;
    std::vector<int> runs = heated(group);
    std::erase_if(runs, [&](int run) {
      const double colder_s = tally_.runs[at(run)].time_at.between(0, least_c);
      return band_h_per_day(run) <= long_in_band_h && colder_s <= often_frac * tally_.seconds;
    });
    return runs;
  }
  /// The group is to stay above the growth band all the time, and all the time its sensor read that it did.
  bool reading_held(int group) const {
    const draw::SceneGroup& control = scene_.groups[at(group)];
    const bool looks = control.sensor_run != draw::none && control.sensor_present &&
                       control.control.mode != draw::ControlMode::open_loop;
    return looks && lowest_hold_c(control.control).value_or(0) > band_.high_c &&
           tally_.groups[at(group)].lowest_reading_c > band_.high_c;
  }
  /// Longest in the band, then coldest.
  int worst(const std::vector<int>& runs) const {
    return *std::ranges::min_element(runs, {}, [this](int run) {
      return std::tuple(-band_h_per_day(run), mean_c(run), std::string_view(id(run)));
    });
  }
  GroupAnswer group(int group) const { return group_answers(tally_)[at(group)]; }
  BuildingAnswer building() const { return building_answer(tally_); }

 private:
  const job::Job& job_;
  const draw::Scene& scene_;
  const Tally& tally_;
  rules::GrowthBand band_;
};

/// Numbers as the job's reader knows them.
struct Words {
  units::System system;
  std::string litres(double litres) const {
    return units::show(litres / litres_per_m3, Kind::volume, system);
  }
  std::string degrees(double temp_c) const { return units::show(temp_c, Kind::temperature, system); }
  std::string length(double length_m) const { return units::show(length_m, Kind::length, system); }
};

/// A group whose sensor is content while its runs are not, and where else the sensor could be.
struct Suspect {
  int group, sensor, candidate;
  std::vector<int> cold;
};

std::vector<Suspect> suspects(const draw::Scene& scene, const Tally& nominal, const Seen& seen) {
  std::vector<Suspect> all;
  for (std::size_t g = 0; g < scene.groups.size(); ++g) {
    const int group = static_cast<int>(g), sensor = scene.groups[g].sensor_run;
    if (!seen.reading_held(group)) continue;
    std::vector<int> cold = seen.left_cold(group);
    if (!cold.empty())
      all.push_back({group, sensor, better_sensor_run(scene, nominal, group), std::move(cold)});
  }
  return all;
}

/// Whatever place may be better, tried at once.
std::optional<Tally> with_sensors_moved(const job::Job& job, const draw::Scene& scene,
                                        const std::vector<Suspect>& suspects, const LiveAgain& live_again) {
  job::Job moved = job;
  bool any = false;
  for (const Suspect& suspect : suspects) {
    if (suspect.candidate == draw::none) continue;
    moved.groups[at(suspect.group)].sensor_run = scene.runs[at(suspect.candidate)].id;
    any = true;
  }
  return any ? live_again(moved) : std::nullopt;
}

std::string cold_in_words(const Seen& seen, const Words& words, const Suspect& suspect) {
  const int worst = seen.worst(suspect.cold);
  return fmt::format(
      "The sensor on {} never read below {}, yet {} of {} heated runs {} left cold; the worst, {}, is at {} "
      "on average and {:.1f} h a day in the growth band. {} a day pass the sensor's run, {} pass {}.",
      seen.id(suspect.sensor), words.degrees(seen.group(suspect.group).lowest_reading_c), suspect.cold.size(),
      seen.heated(suspect.group).size(), suspect.cold.size() == 1 ? "is" : "are", seen.id(worst),
      words.degrees(seen.mean_c(worst)), seen.band_h_per_day(worst),
      words.litres(seen.litres_per_day(suspect.sensor)), words.litres(seen.litres_per_day(worst)),
      seen.id(worst));
}

/// What moving the sensor would bring; and whether it does.
void advise_on_sensor(Advice& advice, const Seen& seen, const Seen& after, const Words& words,
                      const Suspect& suspect) {
  const auto runs = seen.heated(suspect.group);
  const std::size_t cold_after = after.left_cold(suspect.group).size();
  const double kwh = seen.group(suspect.group).kwh_per_day,
               kwh_after = after.group(suspect.group).kwh_per_day;
  const double hot = seen.building().hot_in_10_s_frac, hot_after = after.building().hot_in_10_s_frac;
  const bool better = cold_after < suspect.cold.size();
  const std::string tried = fmt::format(
      "{} of {} runs are left cold and {} in the growth band, the group's cable takes {:.1f} instead of "
      "{:.1f} "
      "kWh a day, and {:.0f} instead of {:.0f} % of the building's draws are hot within 10 s (sensors of all "
      "groups named here moved)",
      cold_after, runs.size(), after.in_band(runs), kwh_after, kwh, 100 * hot_after, 100 * hot);
  advice.id = better ? "sensor-flattered" : "runs-left-cold";
  advice.remedy = better ? fmt::format("Move the sensor to {}, which {} a day pass. Simulated there: {}.",
                                       seen.id(suspect.candidate),
                                       words.litres(seen.litres_per_day(suspect.candidate)), tried)
                         : fmt::format(
                               "Another place for the sensor is not enough. Simulated on {}: {}. Look at the "
                               "insulation and the cable of the cold runs and at the group's set-point.",
                               seen.id(suspect.candidate), tried);
  advice.figures.insert(advice.figures.end(),
                        {{"runs_left_cold_after", static_cast<double>(cold_after)},
                         {"runs_in_band_after", static_cast<double>(after.in_band(runs))},
                         {"group_kwh_per_day", kwh},
                         {"group_kwh_per_day_after", kwh_after},
                         {"hot_in_10_s_frac", hot},
                         {"hot_in_10_s_frac_after", hot_after}});
}

void add_cold_groups(std::vector<Advice>& all, const job::Job& job, const draw::Scene& scene,
                     const Tally& nominal, const LiveAgain& live_again) {
  const Seen seen(job, scene, nominal);
  const Words words{job.units};
  const std::vector<Suspect> found = suspects(scene, nominal, seen);
  const std::optional<Tally> moved = with_sensors_moved(job, scene, found, live_again);
  for (const Suspect& suspect : found) {
    const int worst = seen.worst(suspect.cold);
    Advice advice{.id = "runs-left-cold", .group = scene.groups[at(suspect.group)].id, .run = seen.id(worst)};
    advice.wrong = cold_in_words(seen, words, suspect);
    advice.remedy = "Look at the insulation and the cable of the cold runs and at the group's set-point.";
    advice.figures = {{"runs_left_cold", static_cast<double>(suspect.cold.size())},
                      {"runs_in_band", static_cast<double>(seen.in_band(seen.heated(suspect.group)))},
                      {"worst_band_hours_per_day", seen.band_h_per_day(worst)},
                      {"sensor_litres_per_day", seen.litres_per_day(suspect.sensor)},
                      {"worst_litres_per_day", seen.litres_per_day(worst)}};
    if (moved && suspect.candidate != draw::none) {
      advice.better_run = seen.id(suspect.candidate);
      advise_on_sensor(advice, seen, Seen(job, scene, *moved), words, suspect);
    }
    all.push_back(std::move(advice));
  }
}

/// Runout and flow of a tap's draws.
struct Runout {
  std::size_t tap;
  double flow_m3_per_s, fill_s;
};

double bore_m2(const draw::SceneRun& run) {
  return 0.25 * std::numbers::pi * run.inner_diameter_m * run.inner_diameter_m;
}

/// Taps that are mostly not hot in time because their runout alone takes longer to fill.
std::vector<Runout> long_runouts(const draw::Scene& scene, std::span<const draw::Draw> draws,
                                 const Tally& nominal) {
  std::vector<double> drawn_m3(scene.taps.size()), open_s(scene.taps.size());
  for (const draw::Draw& draw : draws) {
    drawn_m3[at(draw.tap)] += draw.flow_m3_per_s * draw.duration_s;
    open_s[at(draw.tap)] += draw.duration_s;
  }
  std::vector<Runout> found;
  for (std::size_t t = 0; t < scene.taps.size(); ++t) {
    const draw::TapResult& tap = nominal.taps[t];
    const draw::SceneRun& run = scene.runs[at(scene.taps[t].run)];
    if (!(drawn_m3[t] > 0) || tap.open_10_s == 0) continue;
    const double flow_m3_per_s = drawn_m3[t] / open_s[t];
    const double fill_s = bore_m2(run) * run.length_m / flow_m3_per_s;
    if (fill_s > slow_s && tap.hot_in_10_s < seldom_hot_frac * tap.open_10_s)
      found.push_back({t, flow_m3_per_s, fill_s});
  }
  return found;
}

void add_long_runouts(std::vector<Advice>& all, const job::Job& job, const draw::Scene& scene,
                      std::span<const draw::Draw> draws, const Tally& nominal) {
  const std::vector<Runout> found = long_runouts(scene, draws, nominal);
  if (found.empty()) return;
  const Runout& worst = *std::ranges::max_element(found, {}, &Runout::fill_s);
  const draw::SceneRun& run = scene.runs[at(scene.taps[worst.tap].run)];
  const double reach_m = worst.flow_m3_per_s * slow_s / bore_m2(run);
  const Words words{job.units};
  all.push_back(
      {.id = "long-runout",
       .tap = scene.taps[worst.tap].id,
       .wrong = fmt::format("{} in most draws not hot within 10 s because the untraced pipe to the tap alone "
                            "takes longer to fill; the worst, {}, has {} of it, {:.0f} s at its usual flow.",
                            found.size() == 1 ? "1 tap is" : fmt::format("{} taps are", found.size()),
                            scene.taps[worst.tap].id, words.length(run.length_m), worst.fill_s),
       .remedy = fmt::format("Bring the traced pipe nearer or choose a narrower runout where the code allows "
                             "it: in 10 s that flow fills {} of this pipe.",
                             words.length(reach_m)),
       .figures = {{"taps", static_cast<double>(found.size())},
                   {"worst_fill_s", worst.fill_s},
                   {"worst_runout_m", run.length_m},
                   {"reach_in_10_s_m", reach_m}}});
}

void add_short_supply(std::vector<Advice>& all, const job::Job& job, const Tally& nominal) {
  const double lowest_c = nominal.lowest_supply_c, wanted_c = job.supply.delivered_c;
  if (!(lowest_c < wanted_c - supply_slack_k)) return;
  const Words words{job.units};
  all.push_back({.id = "supply-short",
                 .wrong = fmt::format("The supply ran short: its water fell to {}, it is to deliver {}.",
                                      words.degrees(lowest_c), words.degrees(wanted_c)),
                 .remedy = "Check the heater's store and power against the draws assumed; cable keeps pipes "
                           "warm, it does not heat the water that is drawn.",
                 .figures = {{"lowest_supply_c", lowest_c}, {"delivered_c", wanted_c}}});
}

void add_switching(std::vector<Advice>& all, const job::Job& job, const draw::Scene& scene,
                   const Tally& nominal) {
  const Seen seen(job, scene, nominal);
  for (std::size_t g = 0; g < scene.groups.size(); ++g) {
    const double on_frac = seen.group(static_cast<int>(g)).on_frac;
    const bool always = on_frac > always_frac, never = on_frac < hardly_frac;
    if (seen.heated(static_cast<int>(g)).empty() || (!always && !never)) continue;
    all.push_back(
        {.id = always ? "always-on" : "never-on",
         .group = scene.groups[g].id,
         .wrong = fmt::format("The cable was {} {:.1f} % of the time.", always ? "on" : "off",
                              100 * (always ? on_frac : 1 - on_frac)),
         .remedy = always
                       ? "Either the cable only just covers the loss, or the sensor reads too low: check "
                         "insulation, cable and where the sensor is."
                       : "Either supply water or a neighbour keeps the sensor's run warm, or the contactor "
                         "does not close: check where the sensor is and the settings.",
         .figures = {{"on_frac", on_frac}}});
  }
}

}  // namespace

int better_sensor_run(const draw::Scene& scene, const Tally& nominal, int group) {
  std::vector<int> runs;
  std::vector<double> litres;
  for (std::size_t r = 0; r < scene.runs.size(); ++r) {
    if (scene.runs[r].group != group) continue;
    runs.push_back(static_cast<int>(r));
    litres.push_back(nominal.runs[r].litres);
  }
  const double half_pass = spread_of(std::move(litres)).p50;
  std::erase_if(runs, [&](int run) {
    return run == scene.groups[at(group)].sensor_run || nominal.runs[at(run)].litres >= half_pass;
  });
  if (runs.empty()) return draw::none;
  std::ranges::sort(runs, {}, [&](int run) {
    return std::tuple(nominal.runs[at(run)].time_at.mean_c(), std::string_view(scene.runs[at(run)].id));
  });
  runs.resize((runs.size() + 3) / 4);
  return *std::ranges::max_element(runs, {}, [&](int run) { return scene.runs[at(run)].length_m; });
}

std::string place_of(const Advice& advice) {
  if (!advice.group.empty()) return "Group " + advice.group;
  return advice.tap.empty() ? "Supply" : "Tap " + advice.tap;
}

std::vector<Advice> advice(const job::Job& job, const draw::Scene& scene, std::span<const draw::Draw> draws,
                           const Tally& nominal, const LiveAgain& live_again) {
  std::vector<Advice> all;
  if (!(nominal.seconds > 0)) return all;
  add_cold_groups(all, job, scene, nominal, live_again);
  add_long_runouts(all, job, scene, draws, nominal);
  add_short_supply(all, job, nominal);
  add_switching(all, job, scene, nominal);
  return all;
}

}  // namespace firstdraw::forecast
