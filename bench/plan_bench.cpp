// How long a plan takes: the example hotel, and invented jobs of growing size. Run by `make bench`.
#include <benchmark/benchmark.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "generate_job.hpp"
#include "job/folder.hpp"
#include "places.hpp"
#include "plan/plan.hpp"

namespace {

using namespace firstdraw;

job::Job read_or_exit(const std::filesystem::path& folder) {
  auto job = job::read_job(folder);
  if (job) return std::move(*job);
  for (const auto& problem : job.error()) std::fprintf(stderr, "%s\n", problem.text().c_str());
  std::exit(1);
}

void report_runs(benchmark::State& state, std::size_t runs) {
  state.counters["runs"] = static_cast<double>(runs);
  state.counters["s_per_run"] = benchmark::Counter(
      static_cast<double>(runs), benchmark::Counter::kIsIterationInvariantRate | benchmark::Counter::kInvert);
}

/// The whole plan of the hotel on one core; the argument is the number of uncertainty samples.
void plan_hotel(benchmark::State& state) {
  const job::Job job = read_or_exit(std::filesystem::path(places::sources()) / "examples/hotel");
  const plan::Options options{static_cast<int>(state.range(0)), 1, 1};
  for (auto _ : state) benchmark::DoNotOptimize(plan::make_plan(job, options));
  report_runs(state, job.runs.size());
}
BENCHMARK(plan_hotel)->Arg(0)->Arg(2000)->Unit(benchmark::kMillisecond);

/// Invented buildings of growing size, without and with the uncertainty samples: the time per run should not
/// grow.
void plan_generated(benchmark::State& state) {
  const job::Job job = bench::generate_job(40, static_cast<int>(state.range(0)), 1);
  const plan::Options options{static_cast<int>(state.range(1)), 1, 1};
  for (auto _ : state) benchmark::DoNotOptimize(plan::make_plan(job, options));
  report_runs(state, job.runs.size());
}
BENCHMARK(plan_generated)
    ->Args({1000, 0})
    ->Args({3000, 0})
    ->Args({10000, 0})
    ->Args({1000, 200})
    ->Args({3000, 200})
    ->Args({10000, 200})
    ->Unit(benchmark::kMillisecond);

/// What `firstdraw check` does: read the folder from disk, build the network, survey it.
void read_and_check(benchmark::State& state) {
  const int runs = static_cast<int>(state.range(0));
  const auto folder = std::filesystem::temp_directory_path() / ("firstdraw_check_" + std::to_string(runs));
  if (!job::write_job(bench::generate_job(40, runs, 1), folder))
    return state.SkipWithError("the job folder cannot be written");
  for (auto _ : state) {
    const job::Job job = read_or_exit(folder);
    benchmark::DoNotOptimize(plan::survey(job, piping::build_network(job)));
  }
  report_runs(state, static_cast<std::size_t>(runs));
  std::filesystem::remove_all(folder);
}
BENCHMARK(read_and_check)->Arg(1000)->Arg(3000)->Arg(10000)->Unit(benchmark::kMillisecond);

/// The plan as JSON text, the other half of `firstdraw plan --json`.
void json_of_hotel(benchmark::State& state) {
  const job::Job job = read_or_exit(std::filesystem::path(places::sources()) / "examples/hotel");
  const plan::Plan plan = plan::make_plan(job, {0, 1, 1});
  for (auto _ : state) benchmark::DoNotOptimize(plan::to_json(job, plan).dump(1));
  report_runs(state, job.runs.size());
}
BENCHMARK(json_of_hotel)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
