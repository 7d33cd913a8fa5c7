// Steady state of an invented building (src/hold/invented_building.hpp): solve and uncertainty, time per run
// and per run and sample, beside a plain alternative in the same program: exact physics::pipe_loss with
// bisection.
#include <benchmark/benchmark.h>

#include "hold/hold.hpp"
#include "hold/invented_building.hpp"

namespace {

using namespace firstdraw;

constexpr int samples = 2000;

void per_item(benchmark::State& state, const char* name, double items_per_round) {
  state.counters[name] = benchmark::Counter(static_cast<double>(state.iterations()) * items_per_round,
                                            benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
}

/// Where duty times output meets pipe_loss, by halving to 1e-3 K: what one would write first.
double bisected_water_c(const physics::PipeSection& section, const physics::HeatingCable& cable, double duty,
                        double air_c) {
  physics::Surroundings around;
  around.air_c = air_c;
  double low_c = air_c, high_c = 120;
  while (high_c - low_c > 1e-3) {
    const double middle_c = 0.5 * (low_c + high_c);
    const double surplus = duty * cable.power_w_per_m(middle_c, 208) -
                           physics::pipe_loss(section, middle_c, around).loss_w_per_m;
    (surplus > 0 ? low_c : high_c) = middle_c;
  }
  return 0.5 * (low_c + high_c);
}

void plain_bisection(benchmark::State& state) {
  const auto kinds = hold::invented_kinds();
  const physics::HeatingCable cable(hold::invented_sheet("mild", 24));
  double duty = 0.3;
  for (auto _ : state) {
    for (const auto& kind : kinds) benchmark::DoNotOptimize(bisected_water_c(kind.section, cable, duty, 21));
    duty = duty < 0.6 ? duty + 0.001 : 0.3;
  }
  per_item(state, "per_run", static_cast<double>(kinds.size()));
}
BENCHMARK(plain_bisection)->Unit(benchmark::kMicrosecond);

void solve(benchmark::State& state) {
  const auto building = hold::invented_building(static_cast<int>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(hold::solve(building, hold::Mode::sensor_at_maintain, {}));
  per_item(state, "per_run", static_cast<double>(state.range(0)));
}
BENCHMARK(solve)->Arg(250)->Arg(10000)->Unit(benchmark::kMillisecond);

void uncertainty(benchmark::State& state) {
  const auto building = hold::invented_building(static_cast<int>(state.range(0)));
  const int threads = static_cast<int>(state.range(1));
  for (auto _ : state) benchmark::DoNotOptimize(hold::uncertainty(building, {}, samples, 1, threads));
  per_item(state, "per_run_sample", static_cast<double>(state.range(0)) * samples);
}
BENCHMARK(uncertainty)
    ->ArgNames({"runs", "threads"})
    ->Args({250, 1})
    ->Args({250, 2})
    ->Args({10000, 1})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

void loss_curve_prepared(benchmark::State& state) {
  const auto section = hold::invented_section("copper L 1", "glass fibre", 0.0349, 0.1016);
  for (auto _ : state) benchmark::DoNotOptimize(hold::LossCurve(section, {}));
}
BENCHMARK(loss_curve_prepared)->Unit(benchmark::kMicrosecond);

void loss_curve_asked(benchmark::State& state) {
  const auto curve = hold::invented_kinds()[1].loss;
  double water_c = 40;
  for (auto _ : state) {
    benchmark::DoNotOptimize(curve.loss_w_per_m(water_c, 21, 1.1));
    water_c = water_c < 60 ? water_c + 0.01 : 40;
  }
}
BENCHMARK(loss_curve_asked);

}  // namespace

BENCHMARK_MAIN();
