// The cheapest week of the example hotel, one season with its demand prices, raising included; and of seven
// invented groups (src/settings/cheapest_scenes.hpp). Beside a plain alternative in the same program: one
// constant set-point for each group, the lowest of those that can be keyed in under which every run, lived
// through, keeps what it is asked. `cost` is of the model without draws, in the currency of prices.
#include <benchmark/benchmark.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "forecast/scene.hpp"
#include "job/folder.hpp"
#include "places.hpp"
#include "settings/cheapest_raise.hpp"
#include "settings/cheapest_scenes.hpp"
#include "settings/why_not.hpp"

namespace {

using namespace firstdraw;

template <class Value>
Value or_exit(job::Result<Value> read) {
  if (read) return std::move(*read);
  for (const auto& problem : read.error()) std::fprintf(stderr, "%s\n", problem.text().c_str());
  std::exit(1);
}

/// The hotel as `firstdraw week` sees it.
struct Hotel {
  job::Job job = or_exit(job::read_job(std::filesystem::path(places::sources()) / "examples/hotel"));
  plan::Plan plan = plan::make_plan(job, {.threads = 2});
  draw::Scene scene = forecast::make_scene(job, plan, {});
  forecast::Demand demand = forecast::demand_of(job, scene);
  std::vector<settings::GroupModel> models = settings::group_models(job, plan);
  std::vector<settings::SeasonOfYear> seasons;
  std::vector<settings::GroupNeeds> needs;
  settings::SearchOptions options;

  Hotel() {
    seasons = settings::seasons_of(or_exit(settings::read_inputs(job)), job, options.step_s,
                                   plan.totals.energy_kwh_per_year / 12);
    needs = settings::needs_of(job, plan, scene, demand, models, settings::asked_of(job), options.step_s);
  }
  settings::CheapestWeek cheapest(int threads) {
    options.threads = options.effort.threads = threads;
    return settings::cheapest_week(job, models, needs, seasons.front(), options);
  }
  settings::SearchBase base() const { return {job, plan, scene, demand, models, seasons, options}; }
};

Hotel& hotel() {
  static Hotel hotel;
  return hotel;
}

/// The lowest set-point, in whole kelvins above the lowest settable one, that keeps what is asked.
settings::Lived constant(const settings::GroupModel& model, const settings::GroupNeeds& needs, double step_k,
                         double step_s) {
  const auto steps_a_day = static_cast<int>(86400 / step_s);
  for (double set_c = model.least_settable_c;; set_c += step_k) {
    const std::vector<double> set_points_c(needs.steps, set_c);
    settings::Lived lived = settings::live_lumped(model, set_points_c, step_s);
    if (!(settings::worst_miss(model, needs, lived, steps_a_day).by_k > 0) || set_c >= model.most_settable_c)
      return lived;
  }
}

double constant_cost(const job::Job& job, const std::vector<settings::GroupModel>& models,
                     const std::vector<settings::GroupNeeds>& needs, const settings::SeasonOfYear& season,
                     double step_s) {
  std::vector<double> power_w(season.prices.per_kwh.size(), 0.0);
  for (std::size_t g = 0; g < models.size(); ++g) {
    const settings::Lived lived = constant(models[g], needs[g], job.controller.step_k, step_s);
    for (std::size_t k = 0; k < power_w.size(); ++k) power_w[k] += lived.power_w[k];
  }
  return week::cost_of(season.prices, power_w, step_s).total();
}

void report(benchmark::State& state, const settings::CheapestWeek& found) {
  state.counters["cost"] = found.plan.cost.total();
  state.counters["gap_frac"] = 1 - found.bound / found.plan.cost.total();
  state.counters["missed_k"] = found.missed_k;
  state.counters["rounds"] = found.rounds;
}

void plain_constant_hotel(benchmark::State& state) {
  double cost = 0;
  for (auto _ : state)
    cost = constant_cost(hotel().job, hotel().models, hotel().needs, hotel().seasons.front(),
                         hotel().options.step_s);
  state.counters["cost"] = cost;
}
BENCHMARK(plain_constant_hotel)->Unit(benchmark::kMillisecond);

void cheapest_hotel(benchmark::State& state) {
  settings::CheapestWeek found;
  for (auto _ : state) found = hotel().cheapest(static_cast<int>(state.range(0)));
  report(state, found);
}
BENCHMARK(cheapest_hotel)->ArgName("threads")->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();

/// What each demand costs, over all seasons.
void why_not_hotel(benchmark::State& state) {
  std::vector<settings::CheapestWeek> weeks = {hotel().cheapest(2)};
  for (auto _ : state) benchmark::DoNotOptimize(settings::why_not(hotel().base(), weeks));
}
BENCHMARK(why_not_hotel)->Unit(benchmark::kMillisecond)->UseRealTime();

void report(benchmark::State& state, const std::vector<settings::FrontierPoint>& curve) {
  double gap_frac = 0, cost = 0;
  for (const settings::FrontierPoint& point : curve) {
    if (!point.possible) continue;
    gap_frac = std::max(gap_frac, 1 - point.bound_per_year / point.cost_per_year);
    cost += point.cost_per_year;
  }
  state.counters["worst_gap_frac"] = gap_frac;
  state.counters["cost_of_all"] = cost;
}

void comfort_curve_hotel(benchmark::State& state) {
  std::vector<settings::FrontierPoint> curve;
  for (auto _ : state) curve = settings::comfort_curve(hotel().base(), {0, 0.5, 0.8, 0.9, 1});
  report(state, curve);
}
BENCHMARK(comfort_curve_hotel)->Unit(benchmark::kMillisecond)->UseRealTime();

void band_curve_hotel(benchmark::State& state) {
  std::vector<settings::FrontierPoint> curve;
  for (auto _ : state) curve = settings::band_curve(hotel().base(), {0.5, 2, 4, 6, 8, 12, 24});
  report(state, curve);
}
BENCHMARK(band_curve_hotel)->Unit(benchmark::kMillisecond)->UseRealTime();

void plain_constant(benchmark::State& state) {
  const auto week = settings::seven_groups(0.1, static_cast<double>(state.range(0)));
  double cost = 0;
  for (auto _ : state)
    cost = constant_cost(week.job, week.models, week.needs, week.season, week.options.step_s);
  state.counters["cost"] = cost;
}
BENCHMARK(plain_constant)->ArgName("per_kw")->Arg(0)->Arg(40)->Unit(benchmark::kMillisecond);

/// Grid in thousandths of a kelvin.
void cheapest(benchmark::State& state) {
  const auto week =
      settings::seven_groups(static_cast<double>(state.range(0)) / 1000, static_cast<double>(state.range(1)));
  settings::CheapestWeek found;
  for (auto _ : state) found = week.cheapest();
  report(state, found);
}
BENCHMARK(cheapest)
    ->ArgNames({"grid_mk", "per_kw"})
    ->Args({500, 0})
    ->Args({100, 0})
    ->Args({500, 40})
    ->Args({100, 40})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace

BENCHMARK_MAIN();
