// Reading and writing a job folder, from disk to a checked Job.
#include <benchmark/benchmark.h>

#include <filesystem>

#include "generate_job.hpp"
#include "job/folder.hpp"
#include "places.hpp"

namespace {

namespace fs = std::filesystem;
using firstdraw::job::read_job;
using firstdraw::job::write_job;

fs::path folder_of(int runs) {
  return fs::temp_directory_path() / ("firstdraw_bench_" + std::to_string(runs));
}

void read_generated(benchmark::State& state) {
  const int runs = static_cast<int>(state.range(0));
  const auto job = firstdraw::bench::generate_job(40, runs, 1);
  const fs::path folder = folder_of(runs);
  if (!write_job(job, folder)) return state.SkipWithError("the job folder cannot be written");
  for (auto _ : state) {
    const auto read = read_job(folder);
    if (!read) return state.SkipWithError(read.error().front().text().c_str());
    benchmark::DoNotOptimize(read->runs.data());
  }
  state.SetItemsProcessed(state.iterations() * runs);
  fs::remove_all(folder);
}

void read_hotel(benchmark::State& state) {
  const fs::path folder = fs::path(firstdraw::places::sources()) / "examples" / "hotel";
  for (auto _ : state) benchmark::DoNotOptimize(read_job(folder));
}

void write_generated(benchmark::State& state) {
  const int runs = static_cast<int>(state.range(0));
  const auto job = firstdraw::bench::generate_job(40, runs, 1);
  const fs::path folder = folder_of(runs);
  for (auto _ : state) benchmark::DoNotOptimize(write_job(job, folder));
  state.SetItemsProcessed(state.iterations() * runs);
  fs::remove_all(folder);
}

BENCHMARK(read_hotel)->Unit(benchmark::kMillisecond);
BENCHMARK(read_generated)->Unit(benchmark::kMillisecond)->Arg(1000)->Arg(10000)->Arg(100000);
BENCHMARK(write_generated)->Unit(benchmark::kMillisecond)->Arg(10000);

}  // namespace

BENCHMARK_MAIN();
