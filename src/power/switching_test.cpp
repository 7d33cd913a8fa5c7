#include "power/switching.hpp"

#include <gtest/gtest.h>

namespace firstdraw::power {
namespace {

Circuit circuit(int group, double settled_a, double breaker_a, int poles = 2) {
  Circuit made;
  made.group = group;
  made.panel = 0;
  made.settled_a = settled_a;
  made.breaker_a = breaker_a;
  made.poles = poles;
  return made;
}

job::Job job_with(std::size_t groups, double contacts_a) {
  job::Job job;
  for (std::size_t i = 0; i < groups; ++i) {
    job::ControlGroup group;
    group.id = "G" + std::to_string(i + 1);
    group.contacts_a = contacts_a;
    job.groups.push_back(group);
  }
  return job;
}

// NEC 427.4 with 210.20(A), as read in data/rules_circuit.csv: 16 A of heating cable ask for 1.25 times as
// much, 20 A.
TEST(Switching, ContactsCarryAContinuousLoad) {
  EXPECT_FALSE(switch_groups(job_with(1, 20), {circuit(0, 16, 20)})[0].contactor);
  EXPECT_TRUE(switch_groups(job_with(1, 20), {circuit(0, 16.1, 20)})[0].contactor);
}

TEST(Switching, OverriddenWithTheRule) {
  job::Job job = job_with(1, 16);
  EXPECT_TRUE(switch_groups(job, {circuit(0, 16, 20)})[0].contactor);
  job.overrides = {{"continuous-load", 1.0, "contacts rated for continuous duty", "A. Writer"}};
  EXPECT_FALSE(switch_groups(job, {circuit(0, 16, 20)})[0].contactor);
}

TEST(Switching, WithoutARatingAContactorSwitches) {
  EXPECT_TRUE(switch_groups(job_with(1, 0), {circuit(0, 1, 15)})[0].contactor);
}

TEST(Switching, SeveralCircuitsNeedAContactorWithAPoleForEach) {
  const auto groups =
      switch_groups(job_with(2, 30), {circuit(1, 5, 15), circuit(0, 4, 20), circuit(1, 9, 30)});
  EXPECT_EQ(groups[0].circuits, std::vector<int>{1});
  EXPECT_FALSE(groups[0].contactor);
  EXPECT_EQ(groups[1].circuits, (std::vector<int>{0, 2}));
  EXPECT_TRUE(groups[1].contactor);
  EXPECT_EQ(groups[1].poles, 4);
  EXPECT_EQ(groups[1].pole_a, 30);
  EXPECT_EQ(groups[1].contacts_a, 30);
}

TEST(Switching, AGroupWithoutCircuitsIsListedAndSwitchesNothing) {
  const auto groups = switch_groups(job_with(1, 16), {});
  ASSERT_EQ(groups.size(), 1U);
  EXPECT_EQ(groups[0].group, 0);
  EXPECT_FALSE(groups[0].contactor);
  EXPECT_EQ(groups[0].poles, 0);
}

}  // namespace
}  // namespace firstdraw::power
