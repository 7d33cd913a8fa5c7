#include "piping/network.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <string>
#include <tuple>
#include <vector>

#include "physics/pipe_loss.hpp"

namespace firstdraw::piping {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::UnorderedElementsAre;
using Kind = Problem::Kind;

/// Runs as "from to" pairs, each 2 m long with a bore of 100 mm2.
job::Job job_of(const std::vector<std::pair<std::string, std::string>>& runs,
                const std::string& supply = "S") {
  job::Job job;
  job.supply.node = supply;
  for (const auto& [from, to] : runs) {
    job::Run run;
    run.id = from + to;
    run.from = from;
    run.to = to;
    run.length_m = 2;
    run.pipe.outer_diameter_m = 0.022;
    run.pipe.wall_m = 0.001;
    job.runs.push_back(run);
  }
  return job;
}

using Slip = std::tuple<Kind, int, std::string>;
std::vector<Slip> slips(const Network& network) {
  std::vector<Slip> out;
  for (const Problem& problem : network.problems) out.emplace_back(problem.kind, problem.run, problem.node);
  return out;
}

TEST(Network, OrdersRunsBelowTheSupplyUpstreamFirst) {
  const auto network = build_network(job_of({{"B", "C"}, {"A", "B"}, {"S", "A"}, {"A", "D"}}));
  EXPECT_THAT(network.order, ElementsAre(2, 1, 3, 0));
  EXPECT_THAT(network.upstream_run, ElementsAre(1, 2, none, 2));
  EXPECT_THAT(network.path_length_m, ElementsAre(6, 4, 2, 4));
  EXPECT_THAT(network.downstream_of(network.node("A")), ElementsAre(1, 3));
  EXPECT_THAT(network.downstream_of(network.node("C")), IsEmpty());
  EXPECT_THAT(network.problems, IsEmpty());
  EXPECT_EQ(network.node_ids[static_cast<std::size_t>(network.supply_node)], "S");
  EXPECT_EQ(network.node("nowhere"), none);
}

TEST(Network, MeasuresWaterInTheBore) {
  const auto network = build_network(job_of({{"S", "A"}}));
  EXPECT_NEAR(network.water_volume_m3[0], 2 * M_PI / 4 * 0.020 * 0.020, 1e-12);
}

TEST(Network, KnowsWhatLiesBelowTheMixingValve) {
  auto job = job_of({{"S", "A"}, {"A", "B"}, {"A", "C"}, {"B", "D"}});
  job.supply.mixing_valve_node = "B";
  const auto network = build_network(job);
  EXPECT_THAT(network.below_mixing_valve, ElementsAre(false, false, false, true));
  job.supply.mixing_valve_node = "S";
  EXPECT_THAT(build_network(job).below_mixing_valve, ElementsAre(true, true, true, true));
  job.supply.mixing_valve_node = "";
  EXPECT_THAT(build_network(job).below_mixing_valve, ElementsAre(false, false, false, false));
}

TEST(Network, ListsOutletsAtTheirNodesAndLeavesOutStrangers) {
  auto job = job_of({{"S", "A"}, {"A", "B"}});
  for (const char* node : {"B", "nowhere", "A", "B"}) {
    job::Outlet outlet;
    outlet.node = node;
    job.outlets.push_back(outlet);
  }
  const auto network = build_network(job);
  EXPECT_THAT(network.outlets_at(network.node("B")), ElementsAre(0, 3));
  EXPECT_THAT(network.outlets_at(network.node("A")), ElementsAre(2));
  EXPECT_THAT(network.outlets_at(none), IsEmpty());
}

TEST(Network, CutsALoopAtTheRunThatClosesIt) {
  const auto network = build_network(job_of({{"S", "A"}, {"A", "B"}, {"B", "C"}, {"C", "A"}}));
  EXPECT_THAT(slips(network), ElementsAre(Slip{Kind::loop, 3, "A"}));
  EXPECT_FALSE(network.reached[3]);
  EXPECT_TRUE(std::isnan(network.path_length_m[3]));
  EXPECT_THAT(network.downstream_of(network.node("C")), IsEmpty());
}

TEST(Network, CutsARunThatLeadsToItsOwnStartOrBackToTheSupply) {
  const auto network = build_network(job_of({{"S", "A"}, {"A", "A"}, {"A", "S"}}));
  EXPECT_THAT(slips(network), ElementsAre(Slip{Kind::loop, 1, "A"}, Slip{Kind::loop, 2, "S"}));
}

TEST(Network, KeepsTheNearerOfTwoFeedsThenTheFirstInTheFile) {
  const auto nearer = build_network(job_of({{"S", "A"}, {"A", "B"}, {"B", "D"}, {"A", "D"}, {"D", "E"}}));
  EXPECT_THAT(slips(nearer), ElementsAre(Slip{Kind::two_feeds, 2, "D"}));
  EXPECT_EQ(nearer.upstream_run[4], 3);
  const auto first = build_network(job_of({{"S", "A"}, {"S", "A"}, {"A", "B"}}));
  EXPECT_THAT(slips(first), ElementsAre(Slip{Kind::two_feeds, 1, "A"}));
  EXPECT_EQ(first.upstream_run[2], 0);
}

TEST(Network, NamesEachStrayStretchOnce) {
  const auto network = build_network(job_of({{"S", "A"}, {"Y", "Z"}, {"P", "Q"}, {"X", "Y"}, {"Q", "R"}}));
  EXPECT_THAT(slips(network),
              ElementsAre(Slip{Kind::disconnected, 1, "Y"}, Slip{Kind::disconnected, 2, "P"}));
  EXPECT_THAT(network.order, ElementsAre(0));
}

// A run drawn against the flow leaves its far end without a feed and gives its near end a second one.
TEST(Network, ShowsARunDrawnBackwards) {
  const auto network = build_network(job_of({{"S", "A"}, {"A", "B"}, {"C", "B"}, {"C", "D"}}));
  EXPECT_THAT(slips(network),
              UnorderedElementsAre(Slip{Kind::disconnected, 2, "C"}, Slip{Kind::two_feeds, 2, "B"}));
}

TEST(Network, FindsALoopThatStandsApart) {
  const auto network = build_network(job_of({{"S", "A"}, {"X", "Y"}, {"Y", "X"}}));
  EXPECT_THAT(slips(network), ElementsAre(Slip{Kind::disconnected, 1, "X"}, Slip{Kind::loop, 2, "X"}));
}

TEST(Network, SaysOnceThatTheSupplyIsUnknown) {
  EXPECT_THAT(slips(build_network(job_of({{"A", "B"}, {"C", "D"}}, "S"))),
              ElementsAre(Slip{Kind::unknown_supply, none, "S"}));
  EXPECT_THAT(slips(build_network(job_of({{"A", "B"}}, ""))),
              ElementsAre(Slip{Kind::unknown_supply, none, ""}));
  EXPECT_THAT(slips(build_network(job_of({}, "S"))), ElementsAre(Slip{Kind::unknown_supply, none, "S"}));
}

// Shapes that make careless walks quadratic, which then outlast the time a test is given: a long chain, a
// star apart, and many runs that close loops far down.
TEST(Network, GrowsInProportionForAwkwardShapes) {
  constexpr int n = 30000;
  std::vector<std::pair<std::string, std::string>> runs{{"S", "c0"}};
  for (int i = 0; i < n; ++i) runs.emplace_back("c" + std::to_string(i), "c" + std::to_string(i + 1));
  for (int i = 0; i < n; ++i) runs.emplace_back("c" + std::to_string(n), "c" + std::to_string(i));
  for (int i = 0; i < n; ++i) runs.emplace_back("hub", "h" + std::to_string(i));
  const auto job = job_of(runs);
  const auto network = build_network(job);
  EXPECT_EQ(network.problems.size(), static_cast<std::size_t>(n + 1));
}

TEST(Allowance, CableTakesMoreForFittingsAndForEveryPass) {
  job::Run run = job_of({{"S", "A"}}).runs.front();
  EXPECT_DOUBLE_EQ(cable_length_m(run, 1), 2);
  run.valves = 1;
  run.tees = 2;
  const CableAllowance allowance = cable_allowance(run.pipe.outer_diameter_m);
  EXPECT_DOUBLE_EQ(cable_length_m(run, 1), 2 + allowance.per_valve_m + 2 * allowance.per_tee_m);
  EXPECT_DOUBLE_EQ(cable_length_m(run, 2), 2 * cable_length_m(run, 1));
  EXPECT_NE(allowance.basis.find("common practice, no source"), std::string::npos);
  EXPECT_GT(cable_allowance(0.1).per_valve_m, allowance.per_valve_m);
}

TEST(Allowance, LossIsTakenOverFittingsToo) {
  job::Run run = job_of({{"S", "A"}}).runs.front();
  EXPECT_DOUBLE_EQ(loss_length_m(run), 2);
  run.valves = 2;
  run.supports = 3;
  const double valve_m = physics::equivalent_length_m(physics::Fitting::valve_insulated, 0.022);
  const double support_m = physics::equivalent_length_m(physics::Fitting::support, 0.022);
  EXPECT_DOUBLE_EQ(loss_length_m(run), 2 + 2 * valve_m + 3 * support_m);
  EXPECT_GT(valve_m, 0);
}

}  // namespace
}  // namespace firstdraw::piping
