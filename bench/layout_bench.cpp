// The cheapest division into circuits beside a plain greedy one, on the same trees in the same run: time, and
// how much dearer the greedy one is. Prices are invented.
#include <benchmark/benchmark.h>

#include <chrono>

#include "generate_job.hpp"
#include "power/partition_scenes.hpp"
#include "power/stretches.hpp"

namespace {

using namespace firstdraw;
namespace partition = power::partition;
using partition::Problem;

double seconds_of(const auto& work) {
  const auto begin = std::chrono::steady_clock::now();
  work();
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

/// The same tree for the greedy way; only trees of one kind, all traced.
piping::Network network_of(const Problem& problem) {
  job::Job job;
  job.supply.node = "0";
  for (std::size_t i = 0; i < problem.edges.size(); ++i) {
    job::Run run;
    run.id = problem.edges[i].key;
    run.from = std::to_string(problem.edges[i].parent + 1);
    run.to = std::to_string(i + 1);
    run.length_m = problem.edges[i].length_m;
    job.runs.push_back(run);
  }
  return piping::build_network(job);
}

power::Cutting cutting_of(const Problem& problem) {
  power::Cutting cutting;
  cutting.class_of_run.assign(problem.edges.size(), 0);
  for (const auto& edge : problem.edges) cutting.length_m.push_back(edge.length_m);
  cutting.longest_m = {problem.kinds.front().ratings.back().longest_m};
  return cutting;
}

struct GreedyCost {
  double best_feeds = 0;      // each circuit fed where it costs least
  double upstream_feeds = 0;  // each fed at its upstream end
};

GreedyCost cost_of(const Problem& problem, const std::vector<std::vector<int>>& stretches) {
  std::vector<int> circuit(problem.edges.size(), partition::none);
  for (std::size_t i = 0; i < stretches.size(); ++i)
    for (const int run : stretches[i]) circuit[static_cast<std::size_t>(run)] = static_cast<int>(i);
  GreedyCost cost;
  std::vector<char> goes_on(problem.edges.size(), 0);
  for (const auto& made : partition::appraise(problem, circuit)) {
    cost.best_feeds += made.cost.total();
    const int upstream = problem.edges[static_cast<std::size_t>(made.edges.front())].parent;
    int ends = static_cast<int>(made.edges.size());
    for (const int edge : made.edges) {
      const int parent = problem.edges[static_cast<std::size_t>(edge)].parent;
      if (parent == upstream || goes_on[static_cast<std::size_t>(parent)]++ != 0) continue;
      --ends;
    }
    cost.upstream_feeds += made.cost.connections + made.cost.breakers + made.cost.spare +
                           ends * problem.costs.end + (ends - 1) * problem.costs.tee +
                           problem.kinds.front().feed_cost[static_cast<std::size_t>(upstream + 1)];
  }
  return cost;
}

void compare(benchmark::State& state, const Problem& problem) {
  const piping::Network network = network_of(problem);
  const power::Cutting cutting = cutting_of(problem);
  partition::Partition best;
  double exact_s = 0, greedy_s = 0;
  std::vector<std::vector<int>> stretches;
  for (auto _ : state) {
    const double took_s = seconds_of([&] { best = partition::divide(problem); });
    state.SetIterationTime(took_s);
    exact_s += took_s;
    greedy_s += seconds_of([&] { stretches = power::cut_into_stretches(network, cutting); });
  }
  state.counters["edges"] = static_cast<double>(problem.edges.size());
  state.counters["circuits"] = static_cast<double>(best.circuits.size());
  state.counters["greedy_circuits"] = static_cast<double>(stretches.size());
  state.counters["states_per_edge"] =
      static_cast<double>(best.states) / static_cast<double>(problem.edges.size());
  state.counters["proven_gap_frac"] = best.objective() / best.lower_bound - 1;
  const GreedyCost greedy = cost_of(problem, stretches);
  state.counters["greedy_dearer_frac"] = greedy.best_feeds / best.cost.total() - 1;
  state.counters["upstream_dearer_frac"] = greedy.upstream_feeds / best.cost.total() - 1;
  state.counters["time_over_greedy"] = exact_s / greedy_s;
}

/// An invented building of 40 levels; feeders run along the pipes from a panel at the heater, or, for
/// `panel_on_level`, from the foot of the run they feed: every place costs the same.
Problem building(int runs, bool panel_on_level) {
  const job::Job job = bench::generate_job(40, runs, 1);
  const piping::Network network = piping::build_network(job);
  Problem problem = partition::scene(1, {.edges = 1});
  problem.edges.clear();
  auto& kind = problem.kinds.front();
  kind.feed_cost = {110};
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    problem.edges.push_back(
        {network.upstream_run[i], piping::cable_length_m(job.runs[i], 1), 0, job.runs[i].id});
    kind.feed_cost.push_back(panel_on_level ? 110 : 80 + 9 * network.path_length_m[i]);
  }
  return problem;
}

void buildings(benchmark::State& state) {
  compare(state, building(static_cast<int>(state.range(0)), state.range(1) != 0));
}
BENCHMARK(buildings)
    ->ArgNames({"runs", "panel_on_level"})
    ->ArgsProduct({{1000, 3000, 10000}, {0, 1}})
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

/// Random trees: from long and thin to bushy, and from circuits of few edges to circuits of many.
void random_trees(benchmark::State& state) {
  compare(state, partition::scene(1, {.edges = 1000,
                                      .reach = static_cast<int>(state.range(0)),
                                      .limit_scale = static_cast<double>(state.range(1))}));
}
BENCHMARK(random_trees)
    ->ArgNames({"reach", "limit_scale"})
    ->ArgsProduct({{1, 6, 1000}, {1, 4}})
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

/// What makes many states worth keeping: kits and feeders for nothing much, spare that costs by length, and
/// pairs pinned apart, which the greedy way does not keep apart.
void hard_trees(benchmark::State& state) {
  Problem problem = partition::scene(1, {.edges = 1000,
                                         .reach = 6,
                                         .apart = static_cast<int>(state.range(0)),
                                         .spare = true,
                                         .limit_scale = 4});
  problem.costs = {40, 12, 5, 6};
  for (double& cost : problem.kinds.front().feed_cost) cost *= 0.05;
  compare(state, problem);
}
BENCHMARK(hard_trees)
    ->ArgName("apart")
    ->Arg(0)
    ->Arg(20)
    ->Arg(200)
    ->UseManualTime()
    ->Unit(benchmark::kMillisecond);

}  // namespace

BENCHMARK_MAIN();
