// What a job can get wrong about its circuits, each slip once; and what is assumed when it says nothing.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "job/test_folder.hpp"

namespace firstdraw::job {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::Field;
using testing::HasSubstr;

std::string problems_with(const std::string& more) {
  const TestFolder folder;
  folder.put("job.toml", folder.text("job.toml") + more);
  return folder.problems();
}

std::string problems_of_rows(const std::string& rows) {
  const TestFolder folder;
  folder.put("circuits.csv", "id,feed_node,runs,fixed,breaker,note\n" + rows);
  return folder.problems();
}

Job read(const TestFolder& folder) {
  auto job = read_job(folder.path);
  EXPECT_TRUE(job) << (job ? "" : texts(job.error()));
  return job ? *job : Job{};
}

std::string override_of(const std::string& rule, const std::string& value) {
  return "\n[[override]]\nrule = \"" + rule + "\"\n" + (value.empty() ? "" : "value = " + value + "\n") +
         "reason = \"tested\"\nname = \"A. Writer\"\n";
}

TEST(OverrideValues, ArePlainForSharesAndLeftOutForWords) {
  const TestFolder folder;
  folder.put("job.toml", folder.text("job.toml") + override_of("standing-leakage", "0.4") +
                             override_of("disconnecting-means", ""));
  const Job job = read(folder);
  ASSERT_EQ(job.overrides.size(), 2u);
  EXPECT_EQ(job.overrides[0].value, 0.4);
  EXPECT_EQ(job.overrides[1].value, std::nullopt);
}

/// A unit that a rule gets must be one in which a user can write.
TEST(OverrideValues, OfEveryRuleAreReadInItsUnit) {
  for (const rules::RuleSet set : {rules::RuleSet::us, rules::RuleSet::intl}) {
    for (const rules::CircuitRule& rule : rules::circuit_rules(set)) {
      const TestFolder folder;
      if (set == rules::RuleSet::intl) folder.change("job.toml", "set = \"us\"", "set = \"intl\"");
      folder.put("job.toml", folder.text("job.toml") + override_of(rule.id, "\"12.5 " + rule.unit + "\""));
      const auto job = read_job(folder.path);
      if (job) {
        EXPECT_EQ(job->overrides.at(0).value, 12.5) << rule.id;
      } else {
        EXPECT_THAT(texts(job.error()), HasSubstr("takes no value")) << rule.id;
      }
    }
  }
}

TEST(OverrideValues, AreRefusedWhereTheyMakeNoSense) {
  EXPECT_THAT(problems_with("\n[[override]]\nrule = \"standing-leakage\"\nvalue = 0.4\n"),
              AllOf(HasSubstr("override.reason: is missing"), HasSubstr("override.name: is missing")));
  EXPECT_THAT(problems_with(override_of("continuous-load", "0")), HasSubstr("must be a positive number"));
  EXPECT_THAT(problems_with(override_of("continuous-load", "-1")), HasSubstr("override.value: "));
  EXPECT_THAT(problems_with(override_of("label-spacing", "\"10 A\"")), HasSubstr("unknown unit \"A\""));
  EXPECT_THAT(problems_with(override_of("label-spacing", "\"\"")), HasSubstr("must not be empty"));
  EXPECT_THAT(problems_with(override_of("label-spacing", "")), HasSubstr("must be a positive number"));
  EXPECT_THAT(problems_with(override_of("label-spacing", "10")), HasSubstr("\"10\" has no unit"));
}

TEST(CircuitRows, SayWhatIsWrong) {
  EXPECT_THAT(problems_of_rows("C01,,R-03; R-03,,,\n"), HasSubstr("names the run \"R-03\" twice"));
  EXPECT_THAT(problems_of_rows("C01,,R-03 R-04,,,\n"), HasSubstr("put semicolons between the runs"));
  EXPECT_THAT(problems_of_rows("C01,,;,,,\n"), HasSubstr("names no run"));
  EXPECT_THAT(problems_of_rows("C01,,,,,\n"), HasSubstr("circuit C01 · runs: is missing"));
  EXPECT_THAT(problems_of_rows("C01,,R-3,,,\n"), HasSubstr("there is no run \"R-3\" (did you mean \"R-0"));
  EXPECT_THAT(problems_of_rows("C01,,R-03,perhaps,,\n"), HasSubstr("yes or no was expected"));
  EXPECT_THAT(problems_of_rows("C01,,R-03,,20,\n"), HasSubstr("\"20\" has no unit"));
  EXPECT_THAT(problems_of_rows("C01,,R-03,,20 m,\n"), HasSubstr("unknown unit \"m\" for a current"));
}

TEST(CircuitRows, HaveColumnsOfTheirOwnAndMayBeAbsent) {
  const TestFolder folder;
  EXPECT_TRUE(read(folder).known_circuits.empty());
  folder.put("circuits.csv", "id,runs,bracker\nC01,R-03,20 A\n");
  EXPECT_THAT(folder.problems(), HasSubstr("circuits.csv:1:9: bracker: is not a known column (did you mean"));
  folder.put("circuits.csv", "id,feed_node\nC01,T1\n");
  EXPECT_THAT(folder.problems(), HasSubstr("circuits.csv:1: runs: this column is missing"));
}

TEST(CircuitRows, ThatAJobDoesNotHoldAreNotLeftBesideIt) {
  const TestFolder folder;
  const Job job = read(folder);
  folder.put("circuits.csv", "id,runs\nC01,R-03\n");
  const auto written = write_job(job, folder.path);
  ASSERT_FALSE(written);
  EXPECT_THAT(texts(written.error()), HasSubstr("circuits.csv: lists circuits"));
  EXPECT_EQ(folder.text("circuits.csv"), "id,runs\nC01,R-03\n");
}

TEST(PanelsOfCircuits, SayWhatIsWrong) {
  const auto with = [](const std::string& line) {
    const TestFolder folder;
    folder.change("job.toml", "connection = \"line-to-line\"", "connection = \"line-to-line\"\n" + line);
    return folder.problems();
  };
  EXPECT_THAT(with("nodes = [\"T1\", \"T99\"]"), HasSubstr("nodes: there is no node \"T99\""));
  EXPECT_THAT(with("supply_size = \"5 AWG\""), HasSubstr("supply_size: \"5 AWG\" is not known"));
  EXPECT_THAT(with("supply_size = \"2.5 mm2\""), HasSubstr("supply_size: "));
  EXPECT_THAT(with("supply_length = \"9 A\""), HasSubstr("supply_length: "));
  EXPECT_THAT(with("start_limit = \"60\""), HasSubstr("start_limit: \"60\" has no unit"));
  EXPECT_THAT(with("other_load = \"-1 A\""), HasSubstr("other_load: "));
}

TEST(GroupsOfCircuits, SayWhatSharesACircuitAndWhatContactsCarry) {
  const TestFolder folder;
  const Job usual = read(folder);
  EXPECT_EQ(usual.groups.at(0).circuits, CircuitScope::group);
  EXPECT_THAT(usual.assumptions, Contains(Field(&Assumption::field, HasSubstr(".circuits"))));
  folder.change("job.toml", "control = \"pipe-sensor\"",
                "control = \"pipe-sensor\"\ncircuits = \"level\"\ncontacts = \"30 A\"");
  const Job job = read(folder);
  EXPECT_EQ(job.groups.at(0).circuits, CircuitScope::level);
  EXPECT_EQ(job.groups.at(0).contacts_a, 30);
  folder.change("job.toml", "circuits = \"level\"", "circuits = \"floor\"");
  EXPECT_THAT(folder.problems(), HasSubstr("expected group, level or space"));
}

TEST(CostsOfCircuits, AreRoundFiguresAndSaidToBe) {
  const TestFolder folder;
  const Job job = read(folder);
  EXPECT_EQ(job.economics.tee_cost, 180);
  EXPECT_EQ(job.economics.wiring_cost_per_m, 18);
  EXPECT_EQ(job.economics.change_cost, 60);
  for (const char* key :
       {"tee_cost", "end_cost", "wiring_cost", "breaker_cost_per_a", "spare_cost", "change_cost"}) {
    EXPECT_THAT(job.assumptions, Contains(AllOf(Field(&Assumption::field, "economics." + std::string(key)),
                                                Field(&Assumption::why, HasSubstr("no source")))));
  }
  folder.change("job.toml", "[design]\n", "[design]\nspare = \"15 %\"\n");
  EXPECT_DOUBLE_EQ(read(folder).design.spare_frac, 0.15);
}

/// No new field holds its default here, and none of the figures is round in the units of the folder.
TEST(CircuitFields, ComeBackToTheLastBit) {
  const TestFolder folder;
  Job job = read(folder);
  job.wiring = {"THHN", "raceway", "solid", "PVC-40", "ul-489", 100.0 / 3, 3, 75.0, 0.1 / 3};
  job.design.spare_frac = 0.1 / 3;
  for (double* cost :
       {&job.economics.tee_cost, &job.economics.end_cost, &job.economics.wiring_cost_per_m,
        &job.economics.breaker_cost_per_a, &job.economics.spare_cost_per_m, &job.economics.change_cost})
    *cost = *cost / 7 + 0.1;
  Panel& panel = job.panels.at(0);
  panel.nodes = {"T1", "T3"};
  panel.other_a = 10.0 / 3;
  panel.start_limit_a = 100.0 / 3;
  panel.supply_length_m = 100.0 / 7;
  panel.supply_size = "2 AWG";
  job.groups.at(0).contacts_a = 20.0 / 3;
  job.groups.at(0).circuits = CircuitScope::space;
  job.pins = {{Pin::Kind::together, {"R-05", "R-03"}, "one corridor", {}},
              {Pin::Kind::apart, {"R-06", "R-07", "R-08"}, "", {}}};
  job.overrides = {{"terminal-temperature", 100.0 / 3, "tested", "A. Writer"},
                   {"continuous-load", 10.0 / 7, "tested", "A. Writer"},
                   {"disconnecting-means", std::nullopt, "tested", "A. Writer"}};
  job.known_circuits = {{"C01", "T1", {"R-03", "R-04"}, true, 50.0 / 3, "a, \"quoted\"; note", {}},
                        {"C02", "", {"R-05"}, false, std::nullopt, "", {}}};
  ASSERT_TRUE(write_job(job, folder.path / "copy"));
  const auto again = read_job(folder.path / "copy");
  ASSERT_TRUE(again) << texts(again.error());
  EXPECT_EQ(again->wiring, job.wiring);
  EXPECT_EQ(again->economics, job.economics);
  EXPECT_EQ(again->panels, job.panels);
  EXPECT_EQ(again->groups, job.groups);
  EXPECT_EQ(again->pins, job.pins);
  EXPECT_EQ(again->overrides, job.overrides);
  EXPECT_EQ(again->known_circuits, job.known_circuits);
  EXPECT_TRUE(*again == job);
}

}  // namespace
}  // namespace firstdraw::job
