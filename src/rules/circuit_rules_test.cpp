// Overrides, errors and orders of the circuit rules. Published values:
// tests/reference/conductor_sizing_test.cpp and conduit_test.cpp.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "rules/conductor_sizing.hpp"
#include "rules/conductor_tables.hpp"
#include "rules/conduit.hpp"
#include "rules/panel_rules.hpp"

namespace firstdraw::rules {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::ElementsAre;
using testing::Field;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

template <class Function>
std::string thrown_by(Function function) {
  try {
    function();
  } catch (const std::logic_error& error) {
    return error.what();
  }
  return "nothing thrown";
}

auto says(const std::string& text) { return Contains(Field(&Reason::sentence, HasSubstr(text))); }

Override by_user(std::string rule, double value) {
  return {std::move(rule), value, "engineer's calculation 7", "A. Writer"};
}

ConductorCase us_case(double load_a, double device_a) {
  ConductorCase one;
  one.load_a = load_a;
  one.device_a = device_a;
  return one;
}

ConductorCase intl_case(double load_a, double device_a) {
  ConductorCase one = us_case(load_a, device_a);
  one.rules = RuleSet::intl;
  one.insulation = "PVC";
  one.method = "B2";
  one.make = "class 2";
  one.voltage_v = 230;
  return one;
}

TEST(Overrides, UnknownIdsAreNamedWithTheNearest) {
  const std::vector<Override> list{by_user("ambient-facter", 0.9)};
  EXPECT_THAT(
      check_overrides(RuleSet::us, list),
      ElementsAre(AllOf(HasSubstr("\"ambient-facter\""), HasSubstr("did you mean \"ambient-factor\""))));
  EXPECT_THAT(thrown_by([&] { (void)size_conductor(us_case(10, 15), list); }), HasSubstr("ambient-factor"));
}

TEST(Overrides, AllThatIsWrongIsListed) {
  const std::vector<Override> list{{"ambient-factor", -1, "", ""}, by_user("small-conductor", 30)};
  EXPECT_THAT(check_overrides(RuleSet::intl, list),
              ElementsAre(HasSubstr("no reason"), HasSubstr("no name"), HasSubstr("positive number"),
                          HasSubstr("unknown rule of the rule set intl \"small-conductor\"")));
  const std::vector<Override> twice{by_user("earth-upsizing", 0), by_user("earth-upsizing", 1)};
  EXPECT_THAT(check_overrides(RuleSet::us, twice), ElementsAre(HasSubstr("given twice")));
  const std::vector<Override> text{by_user("disconnecting-means", NAN)};
  EXPECT_THAT(check_overrides(RuleSet::us, text), IsEmpty());
}

// Every rule with a number can be set aside, by its id, and the function that applies it says so.
TEST(Overrides, AreEchoedWithNameAndReason) {
  struct Case {
    std::string id;
    double value;
  };
  for (const Case& one :
       {Case{"continuous-load", 1}, Case{"ambient-factor", 0.9}, Case{"grouping-factor", 0.9},
        Case{"terminal-temperature", 75}, Case{"conductor-capacity", 60}, Case{"small-conductor", 40},
        Case{"earth-conductor", 5}, Case{"next-rating", 0}, Case{"voltage-drop-branch", 0.04}}) {
    const std::vector<Override> list{by_user(one.id, one.value)};
    const auto sizing = size_conductor(us_case(16, 20), list);
    ASSERT_TRUE(sizing) << one.id << ": " << sizing.error();
    EXPECT_THAT(sizing->reasons, says("Overridden by A. Writer")) << one.id;
    EXPECT_THAT(sizing->reasons, says("(" + one.id + ")"));
    EXPECT_THAT(sizing->reasons, says("engineer's calculation 7"));
  }
  EXPECT_THAT(size_conductor(us_case(16, 20))->reasons, Not(says("Overridden")));
}

TEST(Overrides, ChangeTheResult) {
  // 16.2 A behind 25 A on 75 °C terminals: 12 AWG carries 25 A and only 240.4(D) forbids it.
  ConductorCase one = us_case(16.2, 25);
  one.terminal_c = 75;
  EXPECT_EQ(size_conductor(one)->size, "10 AWG");
  const std::vector<Override> small{by_user("small-conductor", 25)};
  EXPECT_EQ(size_conductor(one, small)->size, "12 AWG");
  const std::vector<Override> load{by_user("continuous-load", 1)};
  EXPECT_EQ(size_conductor(us_case(16, 16), load)->size, "12 AWG");
  EXPECT_THAT(size_conductor(us_case(16, 16)).error(), HasSubstr("too small"));
}

TEST(Overrides, OfTerminalsAndEarthBeyondTheTables) {
  const std::vector<Override> cold{by_user("terminal-temperature", 50)};
  EXPECT_THAT(size_conductor(us_case(16, 20), cold).error(), HasSubstr("terminals of 50 °C"));
  const std::vector<Override> thick{by_user("earth-conductor", 6)};
  EXPECT_EQ(size_conductor(us_case(16, 20), thick)->earth, "8 AWG");
  const std::vector<Override> huge{by_user("earth-conductor", 500)};
  EXPECT_THAT(size_conductor(us_case(16, 20), huge).error(), HasSubstr("no earth conductor of 500 mm2"));
}

TEST(Overrides, AtThePanel) {
  const std::vector<Override> list{by_user("standing-leakage", 0.5), by_user("label-spacing", 3),
                                   by_user("disconnecting-means", NAN), by_user("shared-rating", 25)};
  EXPECT_DOUBLE_EQ(leakage_budget(RuleSet::us, 1e-5, 100, 0, list).standing_max_a, 0.015);
  EXPECT_EQ(labels_along(RuleSet::us, 12, list).count, 5);
  EXPECT_THAT(panel_requirements(RuleSet::us, list), says("(disconnecting-means): set aside"));
  EXPECT_DOUBLE_EQ(device_for(RuleSet::us, 16.2, true, true, list)->rating_a, 25);
  const std::vector<Override> fill{by_user("raceway-fill", 0.2)};
  const std::vector<RacewayConductors> wires{{"12 AWG", "THHN", 9, {}}};
  EXPECT_EQ(conduit_for("EMT", wires)->trade_size, "1/2");
  EXPECT_EQ(conduit_for("EMT", wires, false, fill)->trade_size, "1");
  EXPECT_THAT(conduit_for("EMT", wires, false, fill)->reasons, says("0.2 instead of 0.4"));
}

TEST(Reasons, NameTheEditionAndTheAuthority) {
  for (const RuleSet rules : {RuleSet::us, RuleSet::intl}) {
    const auto sizing = size_conductor(rules == RuleSet::us ? us_case(10, 15) : intl_case(10, 16));
    ASSERT_TRUE(sizing) << sizing.error();
    EXPECT_THAT(sizing->reasons.back().sentence, HasSubstr("authority having jurisdiction decide"));
    for (const Reason& reason : sizing->reasons)
      EXPECT_FALSE(reason.citation.text().empty()) << reason.sentence;
  }
  EXPECT_THAT(authority_notice(RuleSet::us).sentence, HasSubstr("NEC) 2023"));
}

TEST(Sizing, SaysWhetherTheDropIsCounted) {
  ConductorCase one = us_case(10, 15);
  EXPECT_THAT(size_conductor(one)->reasons, says("voltage drop is not counted"));
  one.one_way_m = 10;
  EXPECT_THAT(size_conductor(one)->reasons, says("over 32.8 ft drops"));
}

TEST(Sizing, SaysWhyThereIsNone) {
  ConductorCase hot = us_case(10, 15);
  hot.ambient_c = 90;
  EXPECT_THAT(size_conductor(hot).error(), HasSubstr("too hot"));
  ConductorCase far = us_case(40, 50);
  far.one_way_m = 5000;
  EXPECT_THAT(size_conductor(far).error(), HasSubstr("within 3 %"));
  ConductorCase crowd = intl_case(5, 6);
  crowd.current_carrying = 60;
  EXPECT_THAT(size_conductor(crowd).error(), HasSubstr("beyond the table"));
  EXPECT_THAT(size_conductor(us_case(300, 400)).error(), HasSubstr("no stranded conductor of the tables"));
}

TEST(Sizing, UnknownNamesAreNamedWithTheNearest) {
  ConductorCase one = us_case(10, 15);
  one.insulation = "THWN-3";
  EXPECT_THAT(thrown_by([&] { (void)size_conductor(one); }), HasSubstr("did you mean \"THWN"));
  one = us_case(10, 15);
  one.method = "racewey";
  EXPECT_THAT(thrown_by([&] { (void)size_conductor(one); }), HasSubstr("did you mean \"raceway\""));
  EXPECT_THAT(thrown_by([] { (void)conduit_for("EMP", std::vector<RacewayConductors>{{}}); }),
              HasSubstr("did you mean \"EMT\""));
  EXPECT_THAT(thrown_by([] { (void)size_conductor(us_case(-1, 15)); }), HasSubstr("positive"));
}

// Longer, hotter, more crowded or more heavily loaded never takes a smaller conductor.
TEST(Sizing, NeverFallsWithTheBurden) {
  const auto area_mm2 = [](const ConductorCase& one) {
    const auto sizing = size_conductor(one);
    if (!sizing) return 1e9;
    for (const ConductorSize& size : conductor_sizes(one.rules)) {
      if (size.size == sizing->size) return size.area_mm2;
    }
    return -1.0;
  };
  for (const ConductorCase& start : {us_case(15.5, 20), intl_case(15.5, 20)}) {
    double before[4] = {0, 0, 0, 0};
    for (int step = 0; step < 12; ++step) {
      ConductorCase longer = start, hotter = start, fuller = start, heavier = start;
      longer.one_way_m = 15.0 * step;
      hotter.ambient_c = 20 + 4.0 * step;
      fuller.current_carrying = 2 + 3 * step;
      heavier.load_a = 4.0 + 3 * step;
      heavier.device_a = 1.25 * heavier.load_a;
      const double now[4] = {area_mm2(longer), area_mm2(hotter), area_mm2(fuller), area_mm2(heavier)};
      for (int i = 0; i < 4; ++i) {
        EXPECT_GT(now[i], 0);
        EXPECT_GE(now[i], before[i]) << "burden " << i << ", step " << step;
        before[i] = now[i];
      }
    }
  }
}

TEST(Conduit, JamsAreSaid) {
  // EMT 1/2 is 0.622 in wide; 6 AWG is 0.254 in: ratio 2.45; 8 AWG 0.216 in: 2.88.
  const std::vector<RacewayConductors> three{{"8 AWG", "THHN", 3, {}}};
  EXPECT_THAT(conduit_for("EMT", three)->reasons, says("can jam"));
  const std::vector<RacewayConductors> four{{"10 AWG", "THHN", 4, {}}};
  EXPECT_THAT(conduit_for("EMT", four)->reasons, Not(says("can jam")));
}

}  // namespace
}  // namespace firstdraw::rules
