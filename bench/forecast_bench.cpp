// How long the example hotel takes to live through, from its plan. Run by `make bench`.
#include <benchmark/benchmark.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "draw/simulate.hpp"
#include "forecast/forecast.hpp"
#include "job/folder.hpp"
#include "places.hpp"
#include "plan/plan.hpp"

namespace {

using namespace firstdraw;

struct Hotel {
  job::Job job;
  plan::Plan plan;
};

const Hotel& hotel() {
  static const Hotel all = [] {
    auto job = job::read_job(std::filesystem::path(places::sources()) / "examples/hotel");
    if (!job) std::exit((std::fprintf(stderr, "examples/hotel cannot be read\n"), 1));
    plan::Options options;
    options.samples = 0;
    plan::Plan plan = plan::make_plan(*job, options);
    return Hotel{std::move(*job), std::move(plan)};
  }();
  return all;
}

/// The network alone: scene and draws are made beforehand.
void hotel_days(benchmark::State& state) {
  const draw::Scene scene = forecast::make_scene(hotel().job, hotel().plan, {});
  const forecast::Demand demand = forecast::demand_of(hotel().job, scene);
  draw::StochasticOptions habits;
  const auto days = static_cast<double>(state.range(0));
  habits.end_s = days * draw::day_s;
  const std::vector<draw::Draw> draws = draw::stochastic_draws(demand.taps, habits);
  draw::Options options;
  options.end_s = habits.end_s;
  options.run_in_s = 0;
  for (auto _ : state) benchmark::DoNotOptimize(draw::simulate(scene, draws, options));
  constexpr double days_per_year = 365;
  state.counters["years_per_s"] =
      benchmark::Counter(days / days_per_year, benchmark::Counter::kIsIterationInvariantRate);
  double cells = 0;
  for (const draw::SceneRun& run : scene.runs) cells += run.cells;
  state.counters["cells"] = cells;
  state.counters["draws"] = static_cast<double>(draws.size());
}
BENCHMARK(hotel_days)->ArgName("days")->Arg(7)->Arg(365)->Unit(benchmark::kMillisecond);

/// All that `firstdraw simulate` computes for a week: members with their own luck and draws.
void hotel_forecast(benchmark::State& state) {
  forecast::ForecastOptions options;
  options.ensemble = static_cast<int>(state.range(0));
  options.threads = static_cast<int>(state.range(1));
  options.compare = options.ensemble == 1;
  for (auto _ : state) benchmark::DoNotOptimize(forecast::forecast(hotel().job, hotel().plan, options));
  state.counters["member_weeks_per_s"] =
      benchmark::Counter(options.ensemble, benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK(hotel_forecast)
    ->ArgNames({"members", "threads"})
    ->Args({1, 1})
    ->Args({8, 1})
    ->Args({8, 2})
    ->UseRealTime()
    ->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
