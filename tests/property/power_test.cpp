// Layouts of circuits on any building: every traced run on one circuit, within its breaker, and never dearer
// than a plain greedy division with the best feeds.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <map>
#include <set>

#include "power/circuits.hpp"
#include "power/partition.hpp"
#include "power/pipe_walk.hpp"
#include "power/protection.hpp"
#include "power/stretches.hpp"
#include "power/test_building.hpp"

namespace firstdraw::power {
namespace {

using piping::at;

double any_between(double low, double high) {
  return low + (high - low) * *rc::gen::inRange(0, 10001) / 10000.0;
}

/// Two groups and two levels, some runs untraced; circuits of a few runs.
TestBuilding any_building() {
  TestBuilding building;
  const int runs = *rc::gen::inRange(1, 60), reach = *rc::gen::inRange(1, 8);
  const int cut_off = *rc::gen::inRange(1, 30);
  std::vector<std::string> near;
  for (int count = *rc::gen::inRange(0, 3); count > 0; --count)
    near.push_back("n" + std::to_string(*rc::gen::inRange(0, runs)));
  building.prices(near);
  job::ControlGroup second = building.job.groups[0];
  second.id = "G2";
  building.job.groups.push_back(second);
  for (int i = 0; i < runs; ++i) {
    const int parent = i - 1 - *rc::gen::inRange(0, std::min(i + 1, reach));
    building.run("R" + std::to_string(i), parent < 0 ? "heater" : "n" + std::to_string(parent),
                 "n" + std::to_string(i), any_between(1, 40), *rc::gen::inRange(0, cut_off) > 0);
    if (building.job.runs.back().traced && *rc::gen::inRange(0, 6) == 0)
      building.job.runs.back().group = "G2";
  }
  building.job.economics.wiring_cost_per_m = any_between(0, 12);
  building.job.economics.connection_cost = any_between(1, 400);
  building.job.economics.tee_cost = any_between(0, 150);
  building.job.economics.end_cost = any_between(0, 150);
  building.job.economics.breaker_cost_per_a = any_between(0, 4);
  return building;
}

/// The greedy division of the same runs, priced by hand from the job.
struct Greedy {
  explicit Greedy(const TestBuilding& building)
      : building_(building), network_(piping::build_network(building.job)) {
    const physics::HeatingCable cable(building.sheet);
    limits_ = circuit_limits(cable, building.job.panels[0], building.job.requirements);
    for (std::size_t run = 0; run < building.runs.size(); ++run) {
      const bool traced = building.runs[run].cable != piping::none;
      cutting_.class_of_run.push_back(!traced ? piping::none : building.job.runs[run].group == "G1" ? 0 : 1);
      cutting_.length_m.push_back(building.runs[run].cable_length_m);
    }
    cutting_.longest_m.assign(2, limits_.longest_m());
  }

  double cost() const {
    const auto& money = building_.job.economics;
    partition::Problem problem;
    problem.costs = {money.connection_cost, money.tee_cost, money.end_cost, 0};
    for (std::size_t run = 0; run < building_.runs.size(); ++run)
      problem.edges.push_back({network_.upstream_run[run], cutting_.length_m[run], cutting_.class_of_run[run],
                               building_.job.runs[run].id});
    problem.kinds.assign(2, kind());
    std::vector<int> circuit(building_.runs.size(), partition::none);
    const auto stretches = cut_into_stretches(network_, cutting_);
    for (std::size_t i = 0; i < stretches.size(); ++i)
      for (const int run : stretches[i]) circuit[at(run)] = static_cast<int>(i);
    double total = 0;
    for (const auto& made : partition::appraise(problem, circuit)) total += made.cost.total();
    return total;
  }

 private:
  partition::Kind kind() const {
    const auto& money = building_.job.economics;
    partition::Kind made;
    for (const Rating& rating : limits_.ratings)
      made.ratings.push_back({rating.breaker_a, std::min(rating.longest_m(), limits_.leakage_m),
                              rating.breaker_a * money.breaker_cost_per_a});
    const auto feeder_m = feeder_lengths_m(building_.job, network_, building_.job.panels[0]);
    made.feed_cost.push_back(money.wiring_cost_per_m * feeder_m[at(network_.supply_node)]);
    for (const int node : network_.to_node)
      made.feed_cost.push_back(money.wiring_cost_per_m * feeder_m[at(node)]);
    return made;
  }

  const TestBuilding& building_;
  piping::Network network_;
  CircuitLimits limits_;
  Cutting cutting_;
};

TEST(Layouts, CostNoMoreThanTheGreedyDivision) {
  ASSERT_TRUE(rc::check([] {
    const TestBuilding building = any_building();
    const Layout layout = building.lay_out();
    const double greedy = Greedy(building).cost();
    RC_ASSERT(layout.division.exact);
    RC_ASSERT(layout.division.cost <= greedy + 1e-4);
    RC_ASSERT(layout.division.lower_bound <= layout.division.cost + 1e-9);
  }));
}

/// Cost of a layout from its own words: kits, breakers and metres of wiring.
double told_cost(const job::Economics& money, const Layout& layout) {
  double cost = 0;
  for (const Circuit& circuit : layout.circuits)
    cost += money.connection_cost + money.tee_cost * static_cast<double>(circuit.tee_nodes.size()) +
            money.end_cost * static_cast<double>(circuit.end_nodes.size()) +
            money.breaker_cost_per_a * circuit.breaker_a + money.wiring_cost_per_m * circuit.wiring.one_way_m;
  return cost;
}

TEST(Layouts, CostWhatTheirCircuitsSay) {
  ASSERT_TRUE(rc::check([] {
    const TestBuilding building = any_building();
    const Layout layout = building.lay_out();
    RC_ASSERT(std::abs(layout.division.cost - told_cost(building.job.economics, layout)) < 1e-3);
  }));
}

TEST(Layouts, CoverEveryTracedRunOnceWithinItsLimits) {
  ASSERT_TRUE(rc::check([] {
    const TestBuilding building = any_building();
    const Layout layout = building.lay_out();
    std::vector<int> seen(building.runs.size(), 0);
    std::set<std::string> ids;
    for (const Circuit& circuit : layout.circuits) {
      RC_ASSERT(ids.insert(circuit.id).second);
      RC_ASSERT(fits(circuit.cable_length_m, circuit.max_length_m) || circuit.runs.size() == 1U);
      RC_ASSERT(circuit.end_nodes.size() == circuit.tee_nodes.size() + 1);
      for (const int run : circuit.runs) {
        ++seen[at(run)];
        RC_ASSERT(building.job.runs[at(run)].group == building.job.groups[at(circuit.group)].id);
      }
    }
    for (std::size_t run = 0; run < seen.size(); ++run)
      RC_ASSERT(seen[run] == (building.job.runs[run].traced ? 1 : 0));
  }));
}

std::vector<std::string> any_runs(const TestBuilding& building) {
  const int runs = static_cast<int>(building.runs.size());
  std::vector<std::string> ids;
  for (int i = *rc::gen::inRange(1, 4); i > 0; --i) {
    const std::string id = "R" + std::to_string(*rc::gen::inRange(0, runs));
    if (std::ranges::find(ids, id) == ids.end()) ids.push_back(id);
  }
  return ids;
}

/// A sentence names all of these runs, one after the other.
bool is_said(const Layout& layout, const std::vector<std::string>& ids) {
  std::string list;
  for (const std::string& id : ids) list += (list.empty() ? "" : ", ") + id;
  return std::ranges::any_of(layout.division.conflicts, [&](const std::string& sentence) {
    return sentence.find(list + " ") != std::string::npos;
  });
}

// Contradicting pins, and pins that no breaker can carry, among them.
TEST(Layouts, KeepEveryPinOrSayThatTheyDoNot) {
  ASSERT_TRUE(rc::check([] {
    TestBuilding building = any_building();
    for (int i = *rc::gen::inRange(0, 8); i > 0; --i)
      building.pin(*rc::gen::inRange(0, 2) == 0 ? job::Pin::Kind::together : job::Pin::Kind::apart,
                   any_runs(building));
    const Layout layout = building.lay_out();
    const auto circuit_of = [&](const std::string& id) {
      return layout.circuit_of_run[static_cast<std::size_t>(std::stoi(id.substr(1)))];
    };
    for (const job::Pin& pin : building.job.pins)
      for (const std::string& one : pin.runs)
        for (const std::string& other : pin.runs) {
          if (one == other) continue;
          const bool shared = circuit_of(one) != piping::none && circuit_of(one) == circuit_of(other);
          if (pin.kind == job::Pin::Kind::together)
            RC_ASSERT(shared || is_said(layout, pin.runs));
          else
            RC_ASSERT(!shared || is_said(layout, {one, other}) || is_said(layout, {other, one}));
        }
  }));
}

/// Circuits as sets of runs with the feed of each.
std::map<std::set<std::string>, int> fed_sets(const TestBuilding& building, const Layout& layout) {
  std::map<std::set<std::string>, int> sets;
  for (const Circuit& circuit : layout.circuits) {
    std::set<std::string> ids;
    for (const int run : circuit.runs) ids.insert(building.job.runs[at(run)].id);
    sets[ids] = circuit.feed_node;
  }
  return sets;
}

// A layout laid out again with itself as the known one, at any cost of change, stays as it is and keeps its
// ids.
TEST(Layouts, StayWhenTheyAreKnown) {
  ASSERT_TRUE(rc::check([] {
    TestBuilding building = any_building();
    const Layout layout = building.lay_out();
    const auto network = piping::build_network(building.job);
    building.job.economics.change_cost = any_between(0.01, 50);
    int number = 0;
    for (const Circuit& circuit : layout.circuits) {
      std::vector<std::string> ids;
      for (const int run : circuit.runs) ids.push_back(building.job.runs[at(run)].id);
      building.known("H" + std::to_string(++number), network.node_ids[at(circuit.feed_node)], ids,
                     *rc::gen::inRange(0, 3) == 0);
    }
    const Layout again = building.lay_out();
    RC_ASSERT(again.division.conflicts.empty());
    RC_ASSERT(fed_sets(building, again) == fed_sets(building, layout));
    RC_ASSERT(again.division.change_cost == 0.0);
    for (std::size_t i = 0; i < again.circuits.size(); ++i)
      RC_ASSERT(again.circuits[i].id == "H" + std::to_string(i + 1));
  }));
}

}  // namespace
}  // namespace firstdraw::power
