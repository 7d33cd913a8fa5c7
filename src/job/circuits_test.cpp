// What a job says of its circuits: wiring, pins, overrides, and circuits.csv.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>

#include "job/test_folder.hpp"

namespace firstdraw::job {
namespace {

using testing::HasSubstr;

Job read(const TestFolder& folder, const std::string& more) {
  folder.put("job.toml", folder.text("job.toml") + more);
  auto job = read_job(folder.path);
  EXPECT_TRUE(job) << (job ? "" : texts(job.error()));
  return job ? *job : Job{};
}

std::string problems_of(const std::string& more) {
  const TestFolder folder;
  folder.put("job.toml", folder.text("job.toml") + more);
  return folder.problems();
}

std::string problems_of_circuits(const std::string& rows) {
  const TestFolder folder;
  folder.put("circuits.csv", "id,feed_node,runs,fixed,breaker,note\n" + rows);
  return folder.problems();
}

TEST(Wiring, IsAsUsualUnderTheRules) {
  const TestFolder us, intl;
  const Job here = read(us, "");
  EXPECT_EQ(here.wiring, WiringPractice{});
  intl.change("job.toml", "set = \"us\"", "set = \"intl\"");
  const Job there = read(intl, "");
  EXPECT_EQ(there.wiring.insulation, "PVC");
  EXPECT_EQ(there.wiring.conduit, "");
  EXPECT_EQ(there.wiring.breaker, "iec-60898-1-c");
}

TEST(Wiring, ReadsItsKeys) {
  const TestFolder folder;
  const Job job = read(folder, R"(
[wiring]
insulation = "THHN"
make = "solid"
conduit = "none"
ambient = "104 °F"
circuits_together = 4
terminals = "75 °C"
max_drop = "2 %"
)");
  EXPECT_EQ(job.wiring.insulation, "THHN");
  EXPECT_EQ(job.wiring.conduit, "");
  EXPECT_DOUBLE_EQ(job.wiring.ambient_c, 40);
  EXPECT_EQ(job.wiring.circuits_together, 4);
  EXPECT_DOUBLE_EQ(job.wiring.terminal_c.value(), 75);
  EXPECT_DOUBLE_EQ(job.wiring.max_drop_frac.value(), 0.02);
}

TEST(Wiring, NamesComeFromTheRulesInForce) {
  EXPECT_THAT(problems_of("\n[wiring]\ninsulation = \"THHW-3\"\n"),
              HasSubstr("wiring.insulation: \"THHW-3\" is not known"));
  EXPECT_THAT(problems_of("\n[wiring]\nbreaker = \"iec-60898-1-c\"\n"), HasSubstr("wiring.breaker"));
  EXPECT_THAT(problems_of("\n[wiring]\nconduits = \"EMT\"\n"), HasSubstr("did you mean \"conduit\"?"));
  EXPECT_THAT(problems_of("\n[wiring]\ncircuits_together = 0\n"), HasSubstr("between 1 and 40"));
}

TEST(Pins, NameRunsThatStayTogetherOrApart) {
  const TestFolder folder;
  const Job job = read(folder, R"(
[[together]]
runs = ["R-05", "R-03"]
reason = "one corridor"
[[apart]]
runs = ["R-06", "R-07", "R-08"]
)");
  ASSERT_EQ(job.pins.size(), 2u);
  EXPECT_EQ(job.pins[0].kind, Pin::Kind::together);
  EXPECT_EQ(job.pins[0].runs, (std::vector<std::string>{"R-05", "R-03"}));
  EXPECT_EQ(job.pins[0].reason, "one corridor");
  EXPECT_GT(job.pins[0].place.line, 1);
  EXPECT_EQ(job.pins[1].kind, Pin::Kind::apart);
}

TEST(Pins, NeedTwoKnownRuns) {
  EXPECT_THAT(problems_of("\n[[apart]]\nruns = [\"R-05\", \"R-33\"]\n"),
              HasSubstr("there is no run \"R-33\""));
  EXPECT_THAT(problems_of("\n[[apart]]\nruns = [\"R-05\"]\n"), HasSubstr("at least two runs"));
  EXPECT_THAT(problems_of("\n[[together]]\nruns = [\"R-05\", \"R-05\"]\n"), HasSubstr("\"R-05\" twice"));
  EXPECT_THAT(problems_of("\n[[together]]\nreason = \"why\"\n"), HasSubstr("together.runs: is missing"));
}

constexpr const char* leakage = R"(
[[override]]
rule = "standing-leakage"
value = true
)";

std::string override_of(const std::string& rule, const std::string& value) {
  return "\n[[override]]\nrule = \"" + rule + "\"\nvalue = \"" + value +
         "\"\nreason = \"the inspector agreed\"\nname = \"A. Writer\"\n";
}

TEST(Overrides, AreReadInTheUnitOfTheRule) {
  const TestFolder folder;
  const Job job = read(
      folder, override_of("standing-leakage", "40 %") + override_of("label-spacing", "10 ft") +
                  override_of("terminal-temperature", "75 °C") + override_of("earth-conductor", "5.26 mm2"));
  ASSERT_EQ(job.overrides.size(), 4u);
  EXPECT_DOUBLE_EQ(job.overrides[0].value.value(), 0.4);
  EXPECT_DOUBLE_EQ(job.overrides[1].value.value(), 3.048);
  EXPECT_EQ(job.overrides[2].value.value(), 75);
  EXPECT_EQ(job.overrides[3].value.value(), 5.26);
  EXPECT_EQ(overrides_of(job)[0].name, "A. Writer");
}

TEST(Overrides, SayWhatIsWrong) {
  EXPECT_THAT(problems_of(leakage), HasSubstr("override.value: a number, or text in quotes"));
  EXPECT_THAT(problems_of(override_of("standing-leekage", "0.4")),
              HasSubstr("did you mean \"standing-leakage\"?"));
  EXPECT_THAT(problems_of(override_of("label-spacing", "10")), HasSubstr("override.value"));
  EXPECT_THAT(problems_of(override_of("disconnecting-means", "3")), HasSubstr("override.value"));
  const std::string twice = override_of("standing-leakage", "0.4");
  EXPECT_THAT(problems_of(twice + twice), HasSubstr("is set aside twice"));
}

TEST(KnownCircuits, AreReadAndWrittenBack) {
  const TestFolder folder;
  folder.put("circuits.csv",
             "id,feed_node,runs,fixed,breaker (A),note\n"
             "C01,T1,R-03; R-04,yes,20,stands since 2019\nC02,,R-05,,,\n");
  const Job job = read(folder, "");
  ASSERT_EQ(job.known_circuits.size(), 2u);
  const KnownCircuit& first = job.known_circuits[0];
  EXPECT_EQ(first.runs, (std::vector<std::string>{"R-03", "R-04"}));
  EXPECT_TRUE(first.fixed);
  EXPECT_EQ(first.breaker_a, 20);
  EXPECT_EQ(first.place.line, 2);
  ASSERT_TRUE(write_known_circuits(job.known_circuits, folder.path));
  const auto again = read_job(folder.path);
  ASSERT_TRUE(again);
  EXPECT_EQ(again->known_circuits, job.known_circuits);
}

TEST(KnownCircuits, SayWhatIsWrong) {
  EXPECT_THAT(problems_of_circuits("C01,T1,R-03; R-44,yes,,\n"), HasSubstr("there is no run \"R-44\""));
  EXPECT_THAT(problems_of_circuits("C01,T9,R-03,yes,,\n"), HasSubstr("there is no node \"T9\""));
  EXPECT_THAT(problems_of_circuits("C01,,R-03,yes,,\n"), HasSubstr("a fixed circuit says where it is fed"));
  EXPECT_THAT(problems_of_circuits("C01,,R-03,,,\nC02,,R-03,,,\n"), HasSubstr("is on circuit \"C01\" too"));
  EXPECT_THAT(problems_of_circuits("C01,,R-03,,,\nC01,,R-04,,,\n"), HasSubstr("\"C01\" is there twice"));
}

TEST(KnownCircuits, WithASemicolonInARunAreNotWritten) {
  const TestFolder folder;
  KnownCircuit circuit;
  circuit.id = "C01";
  circuit.runs = {"R;1"};
  const auto done = write_known_circuits({circuit}, folder.path);
  ASSERT_FALSE(done);
  EXPECT_FALSE(std::filesystem::exists(folder.path / "circuits.csv"));
}

TEST(Panels, SayWhereTheyStandAndHowTheyAreFed) {
  const TestFolder folder;
  folder.change("job.toml", "connection = \"line-to-line\"",
                "connection = \"line-to-line\"\nnodes = [\"T1\", \"T3\"]\nother_load = \"12 A\"\nstart_limit "
                "= \"60 A\"\n"
                "supply_length = \"120 ft\"\nsupply_size = \"2 AWG\"");
  const Job job = read(folder, "");
  const Panel& panel = job.panels.at(0);
  EXPECT_EQ(panel.nodes, (std::vector<std::string>{"T1", "T3"}));
  EXPECT_EQ(panel.other_a, 12);
  EXPECT_EQ(panel.start_limit_a, 60);
  EXPECT_EQ(panel.supply_size, "2 AWG");
}

TEST(WholeJob, ComesBackFromItsFolder) {
  const TestFolder folder, written;
  folder.put("circuits.csv", "id,feed_node,runs,fixed,breaker,note\nC01,T1,R-03; R-04,yes,20 A,old\n");
  const Job job =
      read(folder, override_of("standing-leakage", "0.4") + override_of("label-spacing", "10 ft") +
                       "\n[[apart]]\nruns = [\"R-06\", \"R-07\"]\n[wiring]\nconduit = \"none\"\n");
  ASSERT_TRUE(write_job(job, written.path));
  const auto again = read_job(written.path);
  ASSERT_TRUE(again) << texts(again.error());
  EXPECT_EQ(*again, job);
}

}  // namespace
}  // namespace firstdraw::job
