// How long an edit takes, in parts: the change of the text, reading it, the plan, and all of it with the
// disk; beside reading the folder whole. `ratio` of an edit is to that. Run by `make bench`.
#include <benchmark/benchmark.h>
#include <unistd.h>

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include "desk/change.hpp"
#include "desk/desk.hpp"
#include "job/folder.hpp"
#include "places.hpp"

namespace {

using namespace firstdraw;
namespace fs = std::filesystem;

fs::path hotel() { return fs::path(places::sources()) / "examples/hotel"; }

template <class T, class E>
T or_exit(std::expected<T, E> made, const char* what) {
  if (made) return std::move(*made);
  std::fprintf(stderr, "%s failed\n", what);
  std::exit(1);
}

desk::Change length(int turn) {
  return desk::SetCell{"runs", "A-RISE-2", "length", std::to_string(20 + turn % 7)};
}

double seconds(const auto& work) {
  const auto begin = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

void read_folder(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(or_exit(job::read_job(hotel()), "reading"));
}
BENCHMARK(read_folder)->Unit(benchmark::kMillisecond);

void read_text(benchmark::State& state) {
  const desk::JobText text = or_exit(desk::load(hotel()), "loading");
  for (auto _ : state) benchmark::DoNotOptimize(or_exit(desk::read(text, hotel()), "reading"));
}
BENCHMARK(read_text)->Unit(benchmark::kMillisecond);

void tables(benchmark::State& state) {
  const desk::JobText text = or_exit(desk::load(hotel()), "loading");
  for (auto _ : state) benchmark::DoNotOptimize(desk::tables_of(text));
}
BENCHMARK(tables)->Unit(benchmark::kMillisecond);

/// The argument is how many cells are set at once.
void apply_cells(benchmark::State& state) {
  const desk::JobText text = or_exit(desk::load(hotel()), "loading");
  std::vector<desk::Change> changes;
  for (int i = 0; i < state.range(0); ++i) changes.push_back(length(i));
  for (auto _ : state) benchmark::DoNotOptimize(desk::apply(text, changes));
}
BENCHMARK(apply_cells)->Arg(1)->Arg(200)->Unit(benchmark::kMillisecond);

/// From the change to the plan of what then stands, saved; without uncertainty samples.
void edit(benchmark::State& state) {
  const fs::path folder = fs::temp_directory_path() / ("firstdraw_desk_" + std::to_string(::getpid()));
  fs::remove_all(folder);
  fs::copy(hotel(), folder, fs::copy_options::recursive);
  const auto at = or_exit(desk::Desk::open(folder, plan::Options{0, 1, 1}), "opening");
  double edit_s = 0, read_s = 0;
  int turn = 0;
  for (auto _ : state) {
    edit_s += seconds([&] { or_exit(at->edit({0, "length", "bench", {length(++turn)}}), "editing"); });
    state.PauseTiming();
    read_s += seconds([&] { or_exit(job::read_job(folder), "reading"); });
    state.ResumeTiming();
  }
  state.counters["ratio"] = edit_s / read_s;
  fs::remove_all(folder);
}
BENCHMARK(edit)->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
