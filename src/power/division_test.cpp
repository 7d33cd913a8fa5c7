// The division of a job into circuits: small invented buildings whose best division is found by hand.
#include "power/division.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <set>

#include "power/test_building.hpp"

namespace firstdraw::power {
namespace {

using job::Pin;
using testing::ElementsAre;
using testing::HasSubstr;

using Ids = std::set<std::string>;

Ids ids_of(const TestBuilding& building, const Circuit& circuit) {
  Ids ids;
  for (const int run : circuit.runs) ids.insert(building.job.runs[piping::at(run)].id);
  return ids;
}

/// The circuits as sets of runs, whatever their order.
std::set<Ids> sets_of(const TestBuilding& building, const Layout& layout) {
  std::set<Ids> sets;
  for (const Circuit& circuit : layout.circuits) sets.insert(ids_of(building, circuit));
  return sets;
}

std::string feed_of(const TestBuilding& building, const Circuit& circuit) {
  return piping::build_network(building.job).node_ids.at(piping::at(circuit.feed_node));
}

/// Three runs of 60 m one after the other; 150 m is the longest circuit, so there are two.
TestBuilding three_in_a_row() {
  TestBuilding building;
  building.run("R1", "heater", "a", 60).run("R2", "a", "b", 60).run("R3", "b", "c", 60);
  return building;
}

// By hand. 180 m need two circuits. {R1, R2}: connection 350, 30 A 60, feeder 10 m 90, end 45: 545. {R3} fed
// at a: 350, 15 A 30, feeder 110 m 990, end 45: 1415. Together 1960. {R1}, {R2, R3} would cost 525 + 1580.
TEST(Division, CostOfASmallBuildingByHand) {
  TestBuilding building;
  building.prices().run("R1", "heater", "a", 100).run("R2", "a", "b", 40).run("R3", "a", "c", 40);
  const Layout layout = building.lay_out();
  EXPECT_NEAR(layout.division.cost, 1960, 1e-6);
  EXPECT_NEAR(layout.division.lower_bound, 1960, 1e-6);
  EXPECT_TRUE(layout.division.exact);
  EXPECT_EQ(layout.division.change_cost, 0);
  ASSERT_EQ(layout.circuits.size(), 2U);
  EXPECT_EQ(layout.circuits[0].wiring.one_way_m, 10);
  EXPECT_EQ(layout.circuits[1].wiring.one_way_m, 110);
}

// By hand: fed at a 5 m of feeder, a tee and two ends: 45 + 120 + 90; fed at an end 55 m and one end: 495 +
// 45.
TEST(Division, AFeedInTheMiddleHasATeeMoreAndAShorterFeeder) {
  TestBuilding building;
  building.prices({"a"}).run("R1", "heater", "a", 50).run("R2", "a", "b", 50);
  building.job.panels[0].feeder_length_m = 5;
  const Circuit middle = building.lay_out().circuits.at(0);
  EXPECT_EQ(feed_of(building, middle), "a");
  EXPECT_EQ(middle.tee_nodes, std::vector<int>{middle.feed_node});
  EXPECT_EQ(middle.end_nodes.size(), 2U);
  EXPECT_EQ(middle.wiring.one_way_m, 5);

  building.job.economics.wiring_cost_per_m = 1;  // 5 + 120 + 90 against 55 + 45
  const Circuit end = building.lay_out().circuits.at(0);
  EXPECT_NE(feed_of(building, end), "a");
  EXPECT_TRUE(end.tee_nodes.empty());
  EXPECT_EQ(end.wiring.one_way_m, 55);
}

TEST(Division, PanelWithoutANodeIsAsFarFromEveryFeed) {
  TestBuilding building = three_in_a_row();
  building.prices({});
  for (const Circuit& circuit : building.lay_out().circuits) EXPECT_EQ(circuit.wiring.one_way_m, 10);
}

TEST(Division, PanelAtANodeOffThePipingIsSaid) {
  TestBuilding building = three_in_a_row();
  building.prices({"roof"});
  const Layout layout = building.lay_out();
  EXPECT_THAT(layout.division.conflicts, ElementsAre(HasSubstr("roof")));
  for (const Circuit& circuit : layout.circuits) EXPECT_EQ(circuit.wiring.one_way_m, 10);
}

// 84 m do not fit on 15 A with a tenth of its 90 m left free at 4 for a metre: 12 for 3 m against 10 for 5 A
// more.
TEST(Division, SpareMayBeWorthALargerBreaker) {
  TestBuilding building;
  building.prices().run("R1", "heater", "a", 84);
  EXPECT_EQ(building.lay_out().circuits[0].breaker_a, 15);
  building.job.design.spare_frac = 0.1;
  building.job.economics.spare_cost_per_m = 4;
  EXPECT_EQ(building.lay_out().circuits[0].breaker_a, 20);
}

// Fed at the tap the circuit would need a tee less; the wall there is closed.
TEST(Division, IsNotFedWhereAPipeEndsAtATap) {
  TestBuilding building;
  building.prices({}).run("R1", "heater", "a", 10).run("R2", "a", "b", 10).run("R3", "a", "c", 10);
  building.job.economics.tee_cost = 500;
  const auto fed_at = [&] {
    const auto network = piping::build_network(building.job);
    return network.node_ids[piping::at(building.lay_out().circuits.at(0).feed_node)];
  };
  for (const char* node : {"b", "c"}) {
    job::Outlet tap;
    tap.id = tap.node = node;
    building.job.outlets.push_back(tap);
  }
  EXPECT_EQ(fed_at(), "heater");
  building.job.supply.node = "heater";
  building.job.outlets.pop_back();
  EXPECT_NE(fed_at(), "b");
}

TEST(Division, WithoutPricesCircuitsAreFewAndCostNothing) {
  TestBuilding building = three_in_a_row();
  const Layout layout = building.lay_out();
  EXPECT_EQ(layout.circuits.size(), 2U);
  EXPECT_EQ(layout.division.cost, 0);
  EXPECT_EQ(layout.division.lower_bound, 0);
  EXPECT_TRUE(layout.division.exact);
}

TEST(Division, PinsTogetherDecideBetweenEqualDivisions) {
  for (const auto& [first, second] : {std::pair("R1", "R2"), std::pair("R2", "R3")}) {
    TestBuilding building = three_in_a_row();
    building.prices({}).pin(Pin::Kind::together, {first, second});
    const Layout layout = building.lay_out();
    EXPECT_TRUE(sets_of(building, layout).contains({first, second}));
    EXPECT_TRUE(layout.division.conflicts.empty());
  }
}

TEST(Division, PinsApartPart) {
  TestBuilding building;
  building.prices().run("R1", "heater", "a", 20).run("R2", "a", "b", 20).run("R3", "a", "c", 20);
  EXPECT_EQ(building.lay_out().circuits.size(), 1U);
  building.pin(Pin::Kind::apart, {"R2", "R3"});
  EXPECT_EQ(building.lay_out().circuits.size(), 2U);
  building.pin(Pin::Kind::apart, {"R1", "R2", "R3"});
  EXPECT_EQ(building.lay_out().circuits.size(), 3U);
}

TEST(Division, APinTooLongForAnyBreakerIsLeftOut) {
  TestBuilding building = three_in_a_row();
  building.pin(Pin::Kind::together, {"R1", "R3"}).pin(Pin::Kind::together, {"R2", "R3"});
  const Layout layout = building.lay_out();
  EXPECT_THAT(layout.division.conflicts,
              ElementsAre(testing::AllOf(HasSubstr("R1, R3"), HasSubstr("lies between they take 590.6 ft"))));
}

TEST(Division, OfPinsThatAreTooLongTogetherTheLastIsLeftOut) {
  TestBuilding building = three_in_a_row();
  building.pin(Pin::Kind::together, {"R1", "R2"}).pin(Pin::Kind::together, {"R2", "R3"});
  const Layout layout = building.lay_out();
  EXPECT_THAT(layout.division.conflicts, ElementsAre(HasSubstr("R2, R3")));
  EXPECT_EQ(sets_of(building, layout), (std::set<Ids>{{"R1", "R2"}, {"R3"}}));
}

TEST(Division, PinsOfUnlikeRunsSayWhatDiffers) {
  TestBuilding building;
  building.run("R1", "heater", "a", 20).run("R2", "a", "b", 20, false).run("R3", "b", "c", 20);
  building.run("R4", "elsewhere", "d", 20);
  building.pin(Pin::Kind::together, {"R1", "R3"})
      .pin(Pin::Kind::together, {"R1", "R2"})
      .pin(Pin::Kind::together, {"R1", "R4"})
      .pin(Pin::Kind::together, {"R1", "R9"})
      .pin(Pin::Kind::apart, {"R1", "R4"});
  EXPECT_THAT(building.lay_out().division.conflicts,
              testing::UnorderedElementsAre(HasSubstr("R2 carries no heating cable, which lies between"),
                                            HasSubstr("R2 carries no heating cable."),
                                            HasSubstr("R4 does not hang on the supply"),
                                            HasSubstr("there is no run R9")));
}

TEST(Division, APairPinnedBothWaysStaysTogether) {
  TestBuilding building;
  building.run("R1", "heater", "a", 20).run("R2", "a", "b", 20).run("R3", "b", "c", 20);
  building.pin(Pin::Kind::apart, {"R1", "R2"}).pin(Pin::Kind::together, {"R1", "R3"});
  const Layout layout = building.lay_out();
  EXPECT_EQ(layout.circuits.size(), 1U);
  EXPECT_THAT(layout.division.conflicts, ElementsAre(HasSubstr("R1, R2 are not kept apart")));
}

TEST(Division, LevelsAndSpacesHaveCircuitsOfTheirOwn) {
  TestBuilding building;
  building.run("R1", "heater", "a", 20).run("R2", "a", "b", 20).run("R3", "b", "c", 20);
  for (std::size_t i = 0; i < 3; ++i) {
    building.job.runs[i].level = i == 2 ? "L2" : "L1";
    building.job.runs[i].space = i == 0 ? "shaft" : "ceiling";
  }
  auto& scope = building.job.groups[0].circuits;
  EXPECT_EQ(sets_of(building, building.lay_out()), (std::set<Ids>{{"R1", "R2", "R3"}}));
  scope = job::CircuitScope::level;
  EXPECT_EQ(sets_of(building, building.lay_out()), (std::set<Ids>{{"R1", "R2"}, {"R3"}}));
  scope = job::CircuitScope::space;
  EXPECT_EQ(sets_of(building, building.lay_out()), (std::set<Ids>{{"R1"}, {"R2", "R3"}}));
}

// One circuit of 60 m would do; the building has two, the second fed at its far end.
TEST(Division, FixedCircuitsStayAsTheyAre) {
  TestBuilding building;
  building.prices().run("R1", "heater", "a", 20).run("R2", "a", "b", 20).run("R3", "b", "c", 20);
  building.known("H1", "heater", {"R1"}, true).known("H2", "c", {"R3", "R2"}, true, 20);
  const Layout layout = building.lay_out();
  ASSERT_EQ(layout.circuits.size(), 2U);
  const Circuit &first = layout.circuits[0], &second = layout.circuits[1];
  EXPECT_EQ(first.id, "H1");
  EXPECT_EQ(second.id, "H2");
  EXPECT_TRUE(first.fixed && second.fixed);
  EXPECT_EQ(first.breaker_a, 15);
  EXPECT_EQ(second.breaker_a, 20);
  EXPECT_EQ(second.max_length_m, 120);
  EXPECT_EQ(feed_of(building, second), "c");
  EXPECT_EQ(second.wiring.one_way_m, 70);
  EXPECT_EQ(layout.circuit_of_run, (std::vector<int>{0, 1, 1}));
  EXPECT_TRUE(layout.division.conflicts.empty());
}

TEST(Division, AFixedCircuitLongerThanItsBreakerAllowsStaysAndSaysSo) {
  TestBuilding building;
  building.prices().run("R1", "heater", "a", 60).run("R2", "a", "b", 60);
  building.known("H1", "heater", {"R1", "R2"}, true, 15);
  const Layout layout = building.lay_out();
  ASSERT_EQ(layout.circuits.size(), 1U);
  EXPECT_EQ(layout.circuits[0].breaker_a, 15);
  EXPECT_EQ(layout.circuits[0].max_length_m, 90);
  EXPECT_TRUE(layout.circuits[0].over_length);
}

// The leakage allows 76.5 m on every breaker, but 12.5 A ask for 20 A all the same.
TEST(Division, ARunTooLongForItsLeakageStillGetsTheBreakerItsCurrentNeeds) {
  TestBuilding building;
  building.sheet.capacitance_f_per_m = 3e-9;
  building.prices().run("R1", "heater", "a", 100);
  for (const bool fixed : {false, true}) {
    if (fixed) building.known("H1", "heater", {"R1"}, true);
    const Layout layout = building.lay_out();
    EXPECT_EQ(layout.circuits.at(0).breaker_a, 20);
    EXPECT_TRUE(layout.circuits[0].over_length);
    EXPECT_FALSE(layout.circuits[0].over_load);
    EXPECT_NEAR(layout.division.cost, 350 + 40 + 90 + 45, 1e-6);
    EXPECT_NEAR(layout.division.lower_bound, layout.division.cost, 1e-6);
  }
}

TEST(Division, ABreakerThatTheSheetDoesNotListAllowsNoLength) {
  TestBuilding building;
  building.run("R1", "heater", "a", 60).known("H1", "heater", {"R1"}, true, 25);
  const Circuit circuit = building.lay_out().circuits.at(0);
  EXPECT_EQ(circuit.breaker_a, 25);
  EXPECT_TRUE(circuit.over_length);
}

TEST(Division, FixedCircuitsThatCannotStaySayWhy) {
  TestBuilding building;
  building.run("R1", "heater", "a", 20).run("R2", "a", "b", 20).run("R3", "a", "c", 20, false);
  building.run("R4", "b", "d", 20).run("R5", "d", "e", 20);
  job::ControlGroup second = building.job.groups[0];
  second.id = "G2";
  building.job.groups.push_back(second);
  building.job.runs[4].group = "G2";
  building.known("K1", "heater", {"R1", "R9"}, true)
      .known("K2", "heater", {"R1", "R3"}, true)
      .known("K3", "heater", {"R1", "R4"}, true)
      .known("K4", "d", {"R1", "R2"}, true)
      .known("K5", "b", {"R4", "R5"}, true)
      .known("K6", "heater", {}, true)
      .known("K7", "a", {"R2"}, true)
      .known("K8", "a", {"R2", "R4"}, true);
  const Layout layout = building.lay_out();
  EXPECT_THAT(layout.division.conflicts,
              ElementsAre(HasSubstr("K1 is fixed but cannot stay as it is: there is no run R9"),
                          HasSubstr("R3 carries no heating cable"), HasSubstr("do not all meet"),
                          HasSubstr("its feed d is not on it"), HasSubstr("R5 is in control group G2"),
                          HasSubstr("no runs are named"), HasSubstr("R2 is on the fixed circuit K7")));
  for (const Circuit& circuit : layout.circuits) EXPECT_EQ(circuit.fixed, circuit.id == "K7");
}

TEST(Division, APinCannotReachIntoAFixedCircuit) {
  TestBuilding building;
  building.run("R1", "heater", "a", 20).run("R2", "a", "b", 20).run("R3", "b", "c", 20);
  building.known("H1", "heater", {"R1", "R2"}, true);
  building.pin(Pin::Kind::together, {"R2", "R3"}).pin(Pin::Kind::apart, {"R1", "R2"});
  const Layout layout = building.lay_out();
  EXPECT_EQ(sets_of(building, layout), (std::set<Ids>{{"R1", "R2"}, {"R3"}}));
  EXPECT_THAT(layout.division.conflicts,
              testing::UnorderedElementsAre(HasSubstr("R2 is on the fixed circuit H1"),
                                            HasSubstr("the fixed circuit H1 keeps them together")));
}

// The two divisions of three_in_a_row cost the same; of the two the known one stays.
TEST(Division, StaysCloseToWhatIsKnown) {
  for (const bool first_two : {true, false}) {
    TestBuilding building = three_in_a_row();
    building.prices({});
    building.job.economics.change_cost = 5;
    building.known("A", "heater",
                   first_two ? std::vector<std::string>{"R1", "R2"} : std::vector<std::string>{"R1"});
    building.known("B", "c",
                   first_two ? std::vector<std::string>{"R3"} : std::vector<std::string>{"R2", "R3"});
    const Layout layout = building.lay_out();
    EXPECT_EQ(layout.division.change_cost, 0);
    ASSERT_EQ(layout.circuits.size(), 2U);
    EXPECT_EQ(layout.circuits[0].runs.size(), first_two ? 2U : 1U);
    EXPECT_EQ(layout.circuits[0].id, "A");
    EXPECT_EQ(layout.circuits[1].id, "B");
    EXPECT_EQ(feed_of(building, layout.circuits[1]), "c");
    EXPECT_FALSE(layout.circuits[0].fixed);
  }
}

// One departure that a limit forces: 180 m no longer fit one circuit, so one meeting is given up, and the
// second circuit needs a feed where none was.
TEST(Division, ChangesAreCounted) {
  TestBuilding building = three_in_a_row();
  building.prices({});
  building.job.economics.change_cost = 5;
  building.known("A", "heater", {"R1", "R2", "R3"});
  const Layout layout = building.lay_out();
  EXPECT_NEAR(layout.division.change_cost, 10, 1e-9);
  EXPECT_NEAR(layout.division.lower_bound, layout.division.cost + 10, 1e-6);
}

TEST(Division, CircuitsKeepTheirIdsAfterAnEdit) {
  TestBuilding building;
  building.prices().run("R1", "heater", "a", 100).run("R2", "heater", "b", 100).run("R3", "heater", "c", 100);
  building.known("C05", "heater", {"R1"}).known("C02", "heater", {"R2"}).known("C01", "heater", {"gone"});
  building.run("R4", "heater", "d", 100);  // new
  building.job.runs[1].length_m = building.runs[1].cable_length_m = 110;
  const Layout layout = building.lay_out();
  ASSERT_EQ(layout.circuits.size(), 4U);
  std::vector<std::string> ids;
  for (const Circuit& circuit : layout.circuits) ids.push_back(circuit.id);
  EXPECT_EQ(ids, (std::vector<std::string>{"C05", "C02", "C03", "C04"}));  // C01 is still held by the file
}

// 120 m of C07 come apart: the larger part keeps the name.
TEST(Division, OfTwoPartsTheLargerKeepsTheId) {
  TestBuilding building;
  building.prices().run("R1", "heater", "a", 50).run("R2", "a", "b", 70);
  building.known("C07", "heater", {"R1", "R2"}).pin(Pin::Kind::apart, {"R1", "R2"});
  const Layout layout = building.lay_out();
  ASSERT_EQ(layout.circuits.size(), 2U);
  EXPECT_EQ(layout.circuits[0].id, "C01");
  EXPECT_EQ(layout.circuits[1].id, "C07");
}

TestBuilding bushy(unsigned seed) {
  TestBuilding building;
  std::mt19937 random(seed);
  building.prices({"n7"}).run("R0", "heater", "n0", 5);
  for (int i = 1; i < 120; ++i)
    building.run("R" + std::to_string(i), "n" + std::to_string(random() % static_cast<unsigned>(i)),
                 "n" + std::to_string(i), 1 + static_cast<double>(random() % 1000) / 40);
  building.pin(Pin::Kind::apart, {"R3", "R4"}).pin(Pin::Kind::apart, {"R10", "R20"});
  building.job.economics.change_cost = 3;
  return building;
}

TEST(Division, DoesNotDependOnTheOrderOfTheRows) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    const TestBuilding building = bushy(seed);
    const Layout layout = building.lay_out();
    TestBuilding shuffled = building;
    std::mt19937 random(seed);
    for (std::size_t i = shuffled.runs.size() - 1; i > 0; --i) {
      const std::size_t j = random() % (i + 1);
      std::swap(shuffled.runs[i], shuffled.runs[j]);
      std::swap(shuffled.job.runs[i], shuffled.job.runs[j]);
    }
    const Layout other = shuffled.lay_out();
    EXPECT_EQ(sets_of(building, layout), sets_of(shuffled, other)) << seed;
    EXPECT_NEAR(layout.division.cost, other.division.cost, 1e-6) << seed;
    std::map<Ids, std::string> feeds, other_feeds;
    for (const Circuit& circuit : layout.circuits)
      feeds[ids_of(building, circuit)] = feed_of(building, circuit);
    for (const Circuit& circuit : other.circuits)
      other_feeds[ids_of(shuffled, circuit)] = feed_of(shuffled, circuit);
    EXPECT_EQ(feeds, other_feeds) << seed;
  }
}

TEST(Division, OverridesOfTheLoadAndTheLeakageCount) {
  TestBuilding building;
  building.sheet.max_length.clear();
  building.run("R1", "heater", "a", 100);  // 12.5 A: 20 A at 80 %, 15 A at 100 %
  EXPECT_EQ(building.lay_out().circuits.at(0).breaker_a, 20);
  building.job.overrides = {{"continuous-load", 1.0, "assembly listed for its full rating", "A. Writer"},
                            {"ground-fault-trip", 0.1, "equipment protection of 100 mA", "A. Writer"}};
  const Circuit circuit = building.lay_out().circuits.at(0);
  EXPECT_EQ(circuit.breaker_a, 15);
  EXPECT_EQ(circuit.ground_fault_trip_a, 0.1);
}

}  // namespace
}  // namespace firstdraw::power
