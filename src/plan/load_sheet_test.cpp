#include "plan/load_sheet.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "plan/materials.hpp"
#include "plan/settings.hpp"
#include "plan/sound_building.hpp"

namespace firstdraw::plan {
namespace {

using testing::AllOf;
using testing::Contains;
using testing::Field;
using testing::HasSubstr;
using testing::Not;

/// The sound building with its branch circuit really wired.
struct Wired : SoundBuilding {
  Wired() {
    circuit().settled_a = 12;
    circuit().breaker_a = 15;
    wire();
  }
  void wire() {
    circuit().wiring =
        power::wire_branch(job, job.panels[0],
                           {.load_a = circuit().settled_a, .device_a = circuit().breaker_a, .one_way_m = 10});
  }
  std::vector<LoadLine> sheet() const { return load_sheet(job, plan); }
};

auto line(const std::string& quantity, const std::string& value) {
  return AllOf(Field(&LoadLine::quantity, quantity), Field(&LoadLine::value, HasSubstr(value)));
}
auto said(const std::string& quantity, const std::string& how) {
  return AllOf(Field(&LoadLine::quantity, quantity), Field(&LoadLine::how, HasSubstr(how)));
}

TEST(LoadSheet, PanelComesFirstThenItsCircuits) {
  const auto lines = Wired().sheet();
  ASSERT_FALSE(lines.empty());
  const auto first = std::ranges::find_if(lines, [](const LoadLine& one) { return !one.circuit.empty(); });
  EXPECT_TRUE(std::all_of(first, lines.end(), [](const LoadLine& one) { return one.circuit == "C01"; }));
  for (const LoadLine& one : lines) {
    EXPECT_EQ(one.panel, "P1") << one.quantity;
    EXPECT_FALSE(one.quantity.empty() || one.how.empty()) << one.quantity;
    EXPECT_FALSE(one.citation.document.empty()) << one.quantity;
  }
}

TEST(LoadSheet, NamesWhatAnInspectorAsksFor) {
  const auto lines = Wired().sheet();
  EXPECT_THAT(lines, Contains(line("Continuous load", "1.25")));
  EXPECT_THAT(lines, Contains(said("Load by phase", "0 % above the mean")));
  EXPECT_THAT(lines, Contains(line("Least main", "7.5 A")));
  EXPECT_THAT(lines, Contains(line("Main", "100 A")));
  EXPECT_THAT(lines, Contains(said("Poles", "12 are free")));
  EXPECT_THAT(lines, Contains(line("Breaker", "15 A")));
  EXPECT_THAT(lines, Contains(line("Settled current", "12 A")));
  EXPECT_THAT(lines, Contains(line("Breaker", "15 A asked for")));
  EXPECT_THAT(lines, Contains(said("Breaker", "1.25 times the settled current")));
  EXPECT_THAT(lines, Contains(line("Conductor", "14 AWG")));
  EXPECT_THAT(lines, Contains(line("Earth conductor", "14 AWG")));
  EXPECT_THAT(lines, Contains(line("Ampacity after factors", "15")));
  EXPECT_THAT(lines, Contains(line("Raceway", "EMT 1/2")));
  EXPECT_THAT(lines, Contains(line("Voltage drop", "%")));
  EXPECT_THAT(lines, Contains(said("Factor for the air", "factor 1")));
  EXPECT_THAT(lines, Contains(line("Standing leakage", "mA")));
  EXPECT_THAT(lines, Contains(line("Switching", "contactor, 2 poles")));
  EXPECT_THAT(lines, Contains(Field(&LoadLine::citation, Field(&rules::Citation::clause, "427.55(A)"))));
  EXPECT_THAT(lines, Not(Contains(Field(&LoadLine::quantity, "Peak, in sequence"))));
}

TEST(LoadSheet, OverridesAreSaidToBeOverrides) {
  Wired building;
  building.job.overrides = {{"continuous-load", 1.0, "assembly listed for 100 %", "A. Writer"},
                            {"ambient-factor", 0.9, "measured", "A. Writer"}};
  building.wire();
  const auto lines = building.sheet();
  EXPECT_THAT(lines, Contains(said("Continuous load", "Overridden by A. Writer")));
  EXPECT_THAT(lines, Contains(said("Factor for the air", "Overridden by A. Writer")));
  EXPECT_THAT(lines, Contains(line("Breaker", "; 12 A asked for")));
}

TEST(LoadSheet, TroubleIsALine) {
  Wired building;
  building.job.wiring.ambient_c = 95;
  building.wire();
  EXPECT_THAT(building.sheet(), Contains(said("Wiring", "too hot")));
}

TEST(LoadSheet, ASequenceShowsItsPeak) {
  Wired building;
  building.plan.panels[0].start_limit_a = 10;
  building.plan.panels[0].within_limit = false;
  EXPECT_THAT(building.sheet(), Contains(said("Peak, in sequence", "not kept")));
}

double quantity_of(const std::vector<MaterialLine>& lines, const std::string& item,
                   const std::string& detail) {
  const auto found = std::ranges::find_if(
      lines, [&](const MaterialLine& one) { return one.item.starts_with(item) && one.detail == detail; });
  return found == lines.end() ? 0 : found->quantity;
}

/// Three circuits 10, 20 and 30 m from the panel, in metres.
Wired three_circuits() {
  Wired building;
  building.job.units = units::System::metric;
  building.plan.circuits.resize(3, building.circuit());
  building.plan.panels[0].circuits = {0, 1, 2};
  for (std::size_t i = 0; i < 3; ++i) {
    building.plan.circuits[i].id = "C0" + std::to_string(i + 1);
    building.plan.circuits[i].wiring.one_way_m = 10.0 * static_cast<double>(i + 1);
  }
  return building;
}

TEST(Materials, EveryCircuitHasItsOwnRaceway) {
  const Wired building = three_circuits();
  const auto lines = bill_of_materials(building.job, building.plan);
  EXPECT_EQ(quantity_of(lines, "Conduit", "EMT 1/2"), 63);                            // 60 m and 5 %
  EXPECT_EQ(quantity_of(lines, "Copper conductor", "14 AWG THWN-2, stranded"), 132);  // 2 x 60 m and 10 %
  EXPECT_EQ(quantity_of(lines, "Copper earth conductor", "14 AWG THWN-2, stranded"), 66);  // 60 m and 10 %
  EXPECT_EQ(quantity_of(lines, "Lock for a breaker", "stays on the breaker"), 3);
}

TEST(Materials, CircuitsTogetherShareRacewayAndEarth) {
  Wired building = three_circuits();
  building.job.wiring.circuits_together = 2;  // 30 and 20 m together, 10 m alone
  const auto lines = bill_of_materials(building.job, building.plan);
  EXPECT_EQ(quantity_of(lines, "Conduit", "EMT 1/2"), 42);
  EXPECT_EQ(quantity_of(lines, "Copper conductor", "14 AWG THWN-2, stranded"), 132);
  EXPECT_EQ(quantity_of(lines, "Copper earth conductor", "14 AWG THWN-2, stranded"), 44);
}

TEST(Materials, ContactorsAreThoseOfThePlan) {
  Wired building;
  EXPECT_THAT(bill_of_materials(building.job, building.plan),
              Contains(AllOf(Field(&MaterialLine::item, HasSubstr("Contactor")),
                             Field(&MaterialLine::detail, HasSubstr("2 poles of 20 A")))));
  building.plan.switching[0].contactor = false;
  EXPECT_THAT(bill_of_materials(building.job, building.plan),
              Not(Contains(Field(&MaterialLine::item, HasSubstr("Contactor")))));
}

TEST(Settings, ShowMethodDifferentialAndDelays) {
  Wired building;
  building.group().differential_k = 2;
  building.circuit().start.delay_s = 120;
  const auto named = [](const std::string& name, const std::string& value) {
    return Contains(AllOf(Field(&Setting::name, name), Field(&Setting::value, value)));
  };
  auto sheet = settings_sheet(building.job, building.plan);
  EXPECT_THAT(sheet, named("Control method", "thermostat"));
  EXPECT_THAT(sheet, Contains(Field(&Setting::name, "Differential")));
  EXPECT_THAT(sheet, Not(Contains(Field(&Setting::name, "C01 start delay"))));
  building.plan.panels[0].start_limit_a = 10;
  building.group().method = job::ControlMethod::pulsed;
  building.group().cycle_s = 600;
  sheet = settings_sheet(building.job, building.plan);
  EXPECT_THAT(sheet, named("C01 start delay", "120 s"));
  EXPECT_THAT(sheet, named("Control method", "pulsed"));
  EXPECT_THAT(sheet, named("Cycle", "10 min"));
}

}  // namespace
}  // namespace firstdraw::plan
