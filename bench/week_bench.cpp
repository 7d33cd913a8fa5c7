// The cheapest week of seven invented groups (src/settings/cheapest_scenes.hpp), raising included, beside a
// plain alternative in the same program: one constant set-point for each group, the lowest of those that can
// be keyed in under which every run, lived through, keeps what it is asked. `cost` is in the scene's
// currency.
#include <benchmark/benchmark.h>

#include "settings/cheapest_scenes.hpp"
#include "week/reduced.hpp"

namespace {

using namespace firstdraw;

bool keeps(const settings::GroupNeeds& needs, const settings::Lived& lived) {
  for (std::size_t i = 0; i < needs.comfort_c.size(); ++i)
    if (lived.weak_lowest_c[i] < std::max(needs.comfort_c[i], needs.always_c) - 0.05) return false;
  return true;
}

settings::Lived constant(const settings::InventedWeek& week, std::size_t g) {
  for (double set_c = week.models[g].least_settable_c;; set_c += week.job.controller.step_k) {
    const std::vector<double> set_points_c(week.steps(), set_c);
    settings::Lived lived = settings::live_lumped(week.models[g], set_points_c, week.options.step_s);
    if (keeps(week.needs[g], lived) || set_c >= week.models[g].most_settable_c) return lived;
  }
}

void plain_constant(benchmark::State& state) {
  const auto week = settings::seven_groups(0.1, static_cast<double>(state.range(0)));
  double cost = 0;
  for (auto _ : state) {
    std::vector<double> power_w(week.steps(), 0.0);
    for (std::size_t g = 0; g < week.models.size(); ++g) {
      const settings::Lived lived = constant(week, g);
      for (std::size_t k = 0; k < power_w.size(); ++k) power_w[k] += lived.power_w[k];
    }
    cost = week::cost_of(week.season.prices, power_w, week.options.step_s).total();
  }
  state.counters["cost"] = cost;
}
BENCHMARK(plain_constant)->ArgName("per_kw")->Arg(0)->Arg(40)->Unit(benchmark::kMillisecond);

/// Grid in thousandths of a kelvin.
void cheapest(benchmark::State& state) {
  const auto week =
      settings::seven_groups(static_cast<double>(state.range(0)) / 1000, static_cast<double>(state.range(1)));
  settings::CheapestWeek found;
  for (auto _ : state) found = week.cheapest();
  state.counters["cost"] = found.plan.cost.total();
  state.counters["gap_frac"] = 1 - found.bound / found.plan.cost.total();
  state.counters["missed_k"] = found.missed_k;
}
BENCHMARK(cheapest)
    ->ArgNames({"grid_mk", "per_kw"})
    ->Args({500, 0})
    ->Args({100, 0})
    ->Args({500, 40})
    ->Unit(benchmark::kMillisecond)
    ->UseRealTime();

}  // namespace

BENCHMARK_MAIN();
