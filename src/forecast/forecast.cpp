#include "forecast/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <stdexcept>
#include <tuple>

#include "forecast/advice.hpp"
#include "forecast/compare.hpp"
#include "forecast/ensemble.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;

/// Everything the members share.
struct Study {
  const job::Job& job;
  const plan::Plan& plan;
  const ForecastOptions& options;
  Demand demand;
  std::vector<Variation> variations;
  std::vector<draw::Draw> first_draws;  // of the nominal member

  Study(const job::Job& of_job, const plan::Plan& of_plan, const ForecastOptions& with,
        const draw::Scene& scene)
      : job(of_job),
        plan(of_plan),
        options(with),
        demand(demand_of(of_job, scene)),
        variations(forecast::variations(of_job, with.ensemble, with.seed)) {}
};

double end_s(const ForecastOptions& options) { return options.days * draw::day_s; }
double run_in_s(const ForecastOptions& options) { return options.cold_start ? 0 : draw::day_s; }

/// Hot water as it leaves the supply; what is tempered in the piping is taken as tempered.
double supply_c(const draw::Supply& supply) { return std::min(supply.stored_c.at(0), supply.delivered_c); }

bool washes(const std::string& fixture) {
  return fixture.find("shower") != std::string::npos || fixture.find("bath") != std::string::npos;
}

/// Taps that a tapping profile stands at: showers and baths, or all where there are none.
std::vector<int> tapping_taps(const job::Job& job, const draw::Scene& scene) {
  std::vector<int> all, washing;
  for (std::size_t i = 0; i < scene.taps.size(); ++i) {
    all.push_back(static_cast<int>(i));
    if (washes(job.outlets.at(at(scene.taps[i].outlet)).fixture)) washing.push_back(static_cast<int>(i));
  }
  return washing.empty() ? all : washing;
}

std::vector<draw::Draw> tapping(const Study& study, const draw::Scene& scene) {
  std::vector<draw::Draw> all;
  for (const int tap : tapping_taps(study.job, scene)) {
    const auto draws =
        draw::tapping_draws(study.options.tapping, tap, -run_in_s(study.options), end_s(study.options),
                            supply_c(scene.supply), scene.supply.cold_c.at(0));
    all.insert(all.end(), draws.begin(), draws.end());
  }
  draw::sort_draws(all);
  return all;
}

std::vector<draw::Draw> recorded(const ForecastOptions& options) {
  std::vector<draw::Draw> all = options.recorded;
  std::erase_if(all, [&](const draw::Draw& draw) {
    return draw.open_s < -run_in_s(options) || draw.open_s >= end_s(options);
  });
  draw::sort_draws(all);
  return all;
}

std::vector<draw::Draw> draws_of(const Study& study, const draw::Scene& scene, std::size_t member) {
  if (!study.options.recorded.empty()) return recorded(study.options);
  if (!study.options.tapping.empty()) return tapping(study, scene);
  draw::StochasticOptions options;
  options.begin_s = -run_in_s(study.options);
  options.end_s = end_s(study.options);
  options.seed = study.options.seed + member;
  options.hot_c = supply_c(scene.supply);
  options.cold_c = scene.supply.cold_c.at(0);
  return draw::stochastic_draws(study.demand.taps, options);
}

SceneOptions scene_options(const ForecastOptions& options, Variation variation = {}) {
  SceneOptions scene;
  scene.faults = options.faults;
  scene.axial_mixing = options.axial_mixing;
  scene.cell_m = options.cell_m;
  scene.variation = std::move(variation);
  return scene;
}

draw::Options draw_options(const ForecastOptions& options, bool first) {
  draw::Options draw;
  draw.end_s = end_s(options);
  draw.run_in_s = run_in_s(options);
  draw.start = options.cold_start ? draw::Start::cold : draw::Start::held;
  draw.record_every_s = first ? options.record_every_s : 0;
  draw.keep_draws = first || options.keep_draws;
  draw.below_c = options.below_c;
  const rules::GrowthBand band = rules::growth_band();
  draw.band_low_c = band.low_c;
  draw.band_high_c = band.high_c;
  return draw;
}

/// What an ensemble and its comparison come to.
struct Lived {
  Tally all, first, untraced;
  bool compared = false;
  int members = 0;
  std::vector<double> hot_in_10_s_frac, cable_kwh_per_day, coldest_c;
  draw::Records records;
  std::vector<draw::DrawRecord> draws;
};

/// Coldest water in a heated run.
double coldest_c(const draw::Scene& scene, const draw::Result& result) {
  double coldest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < result.runs.size(); ++i)
    if (scene.runs[i].group != draw::none) coldest = std::min(coldest, result.runs[i].min_c);
  return coldest;
}

/// A member that was stopped on its way counts only when it is the first.
void take_member(Lived& lived, const draw::Scene& scene, std::size_t member, draw::Result& result) {
  if (result.stopped && member > 0) return;
  if (member == 0) {
    lived.first.add(result);
    lived.records = std::move(result.records);
    lived.draws = std::move(result.draws);
  }
  lived.all.add(result);
  if (result.end_s <= result.begin_s) return;
  Tally alone;
  alone.add(result);
  const BuildingAnswer answer = building_answer(alone);
  lived.hot_in_10_s_frac.push_back(answer.hot_in_10_s_frac);
  lived.cable_kwh_per_day.push_back(answer.cable_kwh_per_day);
  lived.coldest_c.push_back(coldest_c(scene, result));
  ++lived.members;
}

draw::Result nothing_lived() {
  draw::Result result;
  result.stopped = true;
  return result;
}

/// One member, or the same pipes without cable when `task` is past the last member.
draw::Result live_one(const Study& study, const draw::Scene& nominal, std::size_t task,
                      SharedProgress& progress) {
  if (progress.stopped()) return nothing_lived();
  const bool untraced = task == study.variations.size();
  draw::Options how = draw_options(study.options, task == 0);
  how.progress = [&progress, task](double done_frac) { return progress.report(task, done_frac); };
  if (task == 0) {
    if (study.options.look)
      how.look = [&](const draw::Records& so_far) { study.options.look(nominal, so_far); };
    return draw::simulate(nominal, study.first_draws, how);
  }
  SceneOptions options = scene_options(study.options, untraced ? Variation{} : study.variations[task]);
  options.traced = !untraced;
  const draw::Scene scene = make_scene(study.job, study.plan, options);
  if (untraced) return draw::simulate(scene, study.first_draws, how);
  return draw::simulate(scene, draws_of(study, scene, task), how);
}

Lived live(const Study& study, const draw::Scene& nominal, SharedProgress& progress, std::size_t tasks) {
  const std::size_t members = study.variations.size();
  const auto make = [&](std::size_t task) { return live_one(study, nominal, task, progress); };
  Lived lived;
  in_order(study.options.threads, tasks, make, [&](std::size_t task, draw::Result& result) {
    if (task < members && !result.stopped && study.options.each_member)
      study.options.each_member(task, nominal, result);
    if (task < members) return take_member(lived, nominal, task, result);
    lived.compared = !result.stopped;
    if (lived.compared) lived.untraced.add(result);
  });
  return lived;
}

void answer_from(Forecast& forecast, Lived& lived) {
  forecast.days = lived.first.days();
  forecast.members = lived.members;
  forecast.outlets = outlet_answers(forecast.scene, lived.all);
  forecast.runs = run_answers(forecast.scene, lived.all);
  forecast.groups = group_answers(lived.all);
  forecast.building = building_answer(lived.all);
  forecast.member_hot_in_10_s_frac = spread_of(std::move(lived.hot_in_10_s_frac));
  forecast.member_cable_kwh_per_day = spread_of(std::move(lived.cable_kwh_per_day));
  forecast.member_coldest_c = spread_of(std::move(lived.coldest_c));
  forecast.worst_tap = worst_tap(forecast.outlets);
  forecast.records = std::move(lived.records);
  forecast.draws = std::move(lived.draws);
}

void compare(Forecast& forecast, const Study& study, const Lived& lived) {
  if (!study.options.compare) return;
  const ReturnLine line = return_line(study.job, study.plan, forecast.scene.water_j_per_m3_k);
  forecast.alternatives =
      alternatives(study.job, line, lived.first, lived.compared ? &lived.untraced : nullptr);
  for (auto& assumption : comparison_assumptions(study.job, line))
    forecast.assumptions.push_back(std::move(assumption));
  for (auto& source : comparison_sources()) forecast.sources.push_back(std::move(source));
}

/// The nominal member once more, as another job places its sensors.
std::optional<Tally> live_again(const Study& study, const job::Job& job) {
  draw::Options how = draw_options(study.options, false);
  how.progress = study.options.advising;
  if (!how.progress && study.options.progress)
    how.progress = [&study](double) { return study.options.progress(1); };
  const draw::Scene scene = make_scene(job, study.plan, scene_options(study.options));
  const draw::Result result = draw::simulate(scene, study.first_draws, how);
  if (result.stopped) return std::nullopt;
  Tally tally;
  tally.add(result);
  return tally;
}

void advise(Forecast& forecast, const Study& study, const Lived& lived) {
  if (forecast.stopped || !study.options.advise) return;
  forecast.advice = advice(study.job, forecast.scene, study.first_draws, lived.first,
                           [&study](const job::Job& job) { return live_again(study, job); });
}

void add_sources(Forecast& forecast) {
  forecast.sources.push_back(rules::growth_band().citation);
  for (const physics::InactivationSet& set : physics::inactivation_sets())
    forecast.sources.push_back({set.source, "", "", set.basis});
}

void add_assumptions(Forecast& forecast, const Study& study) {
  forecast.assumptions = study.demand.assumptions;
  if (study.options.recorded.empty() && study.options.tapping.empty()) return;
  // Profiles of use do not count when draws come from elsewhere.
  forecast.assumptions.clear();
  if (!study.options.recorded.empty()) return;
  const bool all = tapping_taps(study.job, forecast.scene).size() == forecast.scene.taps.size();
  forecast.assumptions.push_back(
      {"simulate.tapping",
       fmt::format("profile {} at {}", study.options.tapping, all ? "every tap" : "every shower and bath"),
       "the profile is one dwelling's; the job does not say where dwellings are"});
}

/// Every source once, in the order of their names.
void sort_sources(std::vector<rules::Citation>& sources) {
  const auto words = [](const rules::Citation& source) {
    return std::tie(source.document, source.edition, source.clause, source.basis);
  };
  std::ranges::sort(sources, {}, words);
  const auto again = std::ranges::unique(sources, {}, words);
  sources.erase(again.begin(), again.end());
}

void check(const ForecastOptions& options) {
  if (!(options.days > 0)) throw std::logic_error("a forecast needs more than 0 days");
  if (options.ensemble < 1) throw std::logic_error("a forecast needs a member");
  if (options.threads < 1) throw std::logic_error("a forecast needs a thread");
}

}  // namespace

Forecast forecast(const job::Job& job, const plan::Plan& plan, const ForecastOptions& options) {
  check(options);
  Forecast forecast;
  forecast.options = options;
  forecast.scene = make_scene(job, plan, scene_options(options));
  Study study(job, plan, options, forecast.scene);
  study.first_draws = draws_of(study, forecast.scene, 0);
  const std::size_t tasks = study.variations.size() + (options.compare ? 1 : 0);
  SharedProgress progress(options.progress, tasks);
  Lived lived = live(study, forecast.scene, progress, tasks);
  forecast.stopped = progress.stopped();
  answer_from(forecast, lived);
  add_assumptions(forecast, study);
  add_sources(forecast);
  compare(forecast, study, lived);
  sort_sources(forecast.sources);
  advise(forecast, study, lived);
  forecast.peak = peak_check(job, forecast.scene, study.first_draws);
  return forecast;
}

}  // namespace firstdraw::forecast
