// Every fault changes its own thing and nothing else; and what people write is read or explained.
#include <gtest/gtest.h>

#include "forecast/test_building.hpp"
#include "plan/sections.hpp"

namespace firstdraw::forecast {
namespace {

using draw::at;
using enum FaultKind;

/// What two scenes differ in, as "R2.loss".
std::vector<std::string> differences(const draw::Scene& a, const draw::Scene& b) {
  std::vector<std::string> found;
  const auto note = [&found](const std::string& id, const char* what, bool same) {
    if (!same) found.push_back(id + "." + what);
  };
  for (std::size_t r = 0; r < a.runs.size(); ++r) {
    const draw::SceneRun &x = a.runs[r], &y = b.runs.at(r);
    note(x.id, "pipe", x.id == y.id && x.length_m == y.length_m && x.wall_j_per_m_k == y.wall_j_per_m_k);
    note(x.id, "loss", x.loss_u0 == y.loss_u0 && x.loss_u1 == y.loss_u1 && x.loss_u2 == y.loss_u2);
    note(x.id, "conductance", x.insulation.steady_w_per_m_k() == y.insulation.steady_w_per_m_k());
    note(x.id, "air", x.air_c.at(0) == y.air_c.at(0));
    note(x.id, "cable", x.group == y.group && x.cable == y.cable && x.cable_share == y.cable_share);
    note(x.id, "live", x.live_frac == y.live_frac);
    note(x.id, "until", x.cable_until_s == y.cable_until_s);
    note(x.id, "film", x.standing_film_w_per_m2_k == y.standing_film_w_per_m2_k);
  }
  for (std::size_t g = 0; g < a.groups.size(); ++g) {
    const draw::SceneGroup &x = a.groups[g], &y = b.groups.at(g);
    const draw::ControlSettings &c = x.control, &d = y.control;
    note(x.id, "sensor_run", x.sensor_run == y.sensor_run);
    note(x.id, "sensor_k", x.sensor_k_per_w_per_m == y.sensor_k_per_w_per_m);
    note(x.id, "sensor_present", x.sensor_present == y.sensor_present);
    note(x.id, "sensor_offset", x.sensor_offset_k == y.sensor_offset_k);
    note(x.id, "off_pipe", x.sensor_off_pipe == y.sensor_off_pipe);
    note(x.id, "begin", x.fault_begin_s == y.fault_begin_s);
    note(x.id, "contactor", x.contactor == y.contactor);
    note(x.id, "mode", c.mode == d.mode && c.hold_c == d.hold_c && c.periods == d.periods);
    note(x.id, "duty", c.open_loop_duty == d.open_loop_duty && c.open_loop_at_c == d.open_loop_at_c);
    note(x.id, "clock", c.clock_error_s == d.clock_error_s);
  }
  note("supply", "valve", a.supply.valve_run == b.supply.valve_run);
  return found;
}

class FaultTest : public testing::Test {
 protected:
  Planned building_;
  draw::Scene sound_ = make_scene(building_.job, building_.plan, {});

  Fault read(const std::string& text) const {
    const auto fault = read_fault(text, building_.job, building_.plan);
    EXPECT_TRUE(fault) << text << ": " << (fault ? "" : fault.error());
    return fault.value_or(Fault{});
  }
  draw::Scene with(const std::string& text) const {
    SceneOptions options;
    options.faults = {read(text)};
    return make_scene(building_.job, building_.plan, options);
  }
  std::vector<std::string> changed_by(const std::string& text) const {
    return differences(sound_, with(text));
  }
  std::string error_of(const std::string& text) const {
    const auto fault = read_fault(text, building_.job, building_.plan);
    return fault ? "" : fault.error();
  }
  std::string circuit_of(int run) const {
    return building_.plan.circuits[at(building_.plan.runs[at(run)].circuit)].id;
  }
};

using testing::ElementsAre;
using testing::HasSubstr;
using testing::UnorderedElementsAre;

TEST_F(FaultTest, TheSameSceneTwiceDoesNotDiffer) {
  EXPECT_THAT(differences(sound_, make_scene(building_.job, building_.plan, {})), testing::IsEmpty());
}

TEST_F(FaultTest, SensorBesideCableReadsHotter) {
  EXPECT_THAT(changed_by("sensor-beside-cable:main"), ElementsAre("main.sensor_k"));
  EXPECT_GT(with("sensor-beside-cable:main").groups[0].sensor_k_per_w_per_m,
            sound_.groups[0].sensor_k_per_w_per_m + 0.05);
}

TEST_F(FaultTest, SensorUpstreamSitsOnTheUntracedPipe) {
  EXPECT_THAT(changed_by("sensor-upstream:main"), ElementsAre("main.sensor_run"));
  const draw::Scene scene = with("sensor-upstream:main");
  EXPECT_EQ(scene.runs[at(scene.groups[0].sensor_run)].id, "R0");
}

TEST_F(FaultTest, SensorLost) {
  EXPECT_THAT(changed_by("sensor-lost:main"), ElementsAre("main.sensor_present"));
  EXPECT_FALSE(with("sensor-lost:main").groups[0].sensor_present);
}

TEST_F(FaultTest, ContactorSticks) {
  using enum draw::SceneGroup::Contactor;
  EXPECT_THAT(changed_by("contactor-stuck-on:main"), ElementsAre("main.contactor"));
  EXPECT_THAT(changed_by("contactor-stuck-off:main"), ElementsAre("main.contactor"));
  EXPECT_EQ(with("contactor-stuck-on:main").groups[0].contactor, stuck_on);
  EXPECT_EQ(with("contactor-stuck-off:main").groups[0].contactor, stuck_off);
}

TEST_F(FaultTest, OpenBreakerTakesItsCircuitOnly) {
  building_.plan.circuits.push_back(building_.plan.circuits[0]);  // R3 on a circuit of its own
  building_.plan.circuits.back().id = "C99";
  building_.plan.runs[2].circuit = static_cast<int>(building_.plan.circuits.size()) - 1;
  EXPECT_THAT(changed_by("breaker-open:C99"), ElementsAre("R3.cable", "R3.until"));
  EXPECT_EQ(run_named(with("breaker-open:C99"), "R3").cable_share, 0);
}

// Below the sheet's table power falls on: faster than at constant current, slower than at constant
// resistance, between which self-regulating cable lies (common practice, no source).
TEST_F(FaultTest, WrongVoltageFollowsTheSheetAndGoesOnBeyond) {
  building_.without_drop();
  sound_ = make_scene(building_.job, building_.plan, {});
  EXPECT_THAT(changed_by("wrong-voltage:main=240 V"),
              UnorderedElementsAre("R1.cable", "R2.cable", "R3.cable", "R4.cable"));
  const double nominal = run_named(sound_, "R1").cable_share;
  EXPECT_NEAR(run_named(with("wrong-voltage:main=240 V"), "R1").cable_share / nominal, 1.18, 1e-9);
  EXPECT_NEAR(run_named(with("wrong-voltage:main=190 V"), "R1").cable_share / nominal, 0.88, 1e-9);
  const double weak = run_named(with("wrong-voltage:main=120 V"), "R1").cable_share / nominal;
  EXPECT_LT(weak, 0.88 * 120 / 190);
  EXPECT_GT(weak, 0.88 * (120.0 / 190) * (120.0 / 190));
}

TEST_F(FaultTest, WrongAmbientChangesTheDutyOnly) {
  building_.job.groups[0].kind = job::ControlKind::entered_ambient;
  sound_ = make_scene(building_.job, building_.plan, {});
  EXPECT_THAT(changed_by("wrong-ambient:main=30 °C"), ElementsAre("main.duty"));
  EXPECT_LT(with("wrong-ambient:main=30 °C").groups[0].control.open_loop_duty[0],
            sound_.groups[0].control.open_loop_duty[0]);
}

TEST_F(FaultTest, WetInsulationLosesMore) {
  EXPECT_THAT(changed_by("wet-insulation:R3=3"), ElementsAre("R3.loss", "R3.conductance"));
  const double more = run_named(with("wet-insulation:R3=3"), "R3").loss_u0 / run_named(sound_, "R3").loss_u0;
  EXPECT_GT(more, 1.8);
  EXPECT_LT(more, 3) << "the film outside does not change";
}

// A bare pipe's ladder borrows a little of the wall's heat, hence "pipe".
TEST_F(FaultTest, MissingInsulationIsABarePipe) {
  EXPECT_THAT(changed_by("missing-insulation:R3"), ElementsAre("R3.pipe", "R3.loss", "R3.conductance"));
  const draw::SceneRun bare = run_named(with("missing-insulation:R3"), "R3");
  const job::Run& laid = building_.job.runs[2];
  const double loss_w_per_m =
      physics::loss_w_per_m(physics::bare(laid.pipe), 46, plan::surroundings_of(laid, bare.air_c.at(0)));
  const double ratio = piping::loss_length_m(laid) / laid.length_m, difference_k = 46 - bare.air_c.at(0);
  EXPECT_NEAR(bare.insulation.steady_w_per_m_k() * difference_k, ratio * loss_w_per_m, 1e-6);
}

TEST_F(FaultTest, DeadCableTakesAllThatFollows) {
  EXPECT_THAT(changed_by("dead-cable:R2=0.33"), UnorderedElementsAre("R2.live", "R3.live", "R4.live"));
  const draw::Scene scene = with("dead-cable:R2=0.33");
  const draw::SceneRun& broken = run_named(scene, "R2");
  ASSERT_EQ(broken.cells, 27);  // 20 m in cells of at most 0.75 m
  EXPECT_EQ(broken.live_frac[7], 1);
  EXPECT_NEAR(broken.live_frac[8], 0.33 * 27 - 8, 1e-12);
  EXPECT_EQ(broken.live_frac[9], 0);
  EXPECT_THAT(run_named(scene, "R3").live_frac, testing::Each(0));
  EXPECT_THAT(changed_by("dead-cable:R4=0"), ElementsAre("R4.live"));
}

TEST_F(FaultTest, DeadCableStopsAtTheNextCircuit) {
  building_.plan.circuits.push_back(building_.plan.circuits[0]);
  building_.plan.runs[2].circuit = static_cast<int>(building_.plan.circuits.size()) - 1;
  EXPECT_THAT(changed_by("dead-cable:R2=0"), UnorderedElementsAre("R2.live", "R4.live"));
}

TEST_F(FaultTest, ClockOff) {
  EXPECT_THAT(changed_by("clock-off:main=-30 min"), ElementsAre("main.clock"));
  EXPECT_EQ(with("clock-off:main=-30 min").groups[0].control.clock_error_s, -1800);
}

// The strong sheet gives 1.3 / 0.75 of the mild one on metal pipe at every temperature.
TEST_F(FaultTest, WrongCableGivesAsItsOwnSheet) {
  const std::string planned = building_.job.cables[at(building_.plan.runs[1].cable)].id;
  const std::string other = planned == "mild" ? "strong" : "mild";
  EXPECT_THAT(changed_by("wrong-cable:main=" + other),
              UnorderedElementsAre("R1.cable", "R2.cable", "R3.cable", "R4.cable"));
  EXPECT_THAT(changed_by("wrong-cable:main=" + planned), testing::IsEmpty());
  const auto output = [](const draw::Scene& scene) {
    const draw::SceneRun& run = run_named(scene, "R2");
    return run.cable_share * scene.cables[at(run.cable)].at(45);
  };
  const double ratio = planned == "mild" ? 1.3 / 0.75 : 0.75 / 1.3;
  EXPECT_NEAR(output(with("wrong-cable:main=" + other)) / output(sound_), ratio, 1e-9);
}

TEST_F(FaultTest, SensorOffPipe) {
  EXPECT_THAT(changed_by("sensor-off-pipe:main"), ElementsAre("main.off_pipe"));
}

TEST_F(FaultTest, SomeBeginLater) {
  SceneOptions options;
  options.faults = {read("contactor-stuck-on:main"), read("breaker-open:" + circuit_of(1))};
  for (Fault& fault : options.faults) fault.begin_s = 3600;
  const draw::Scene scene = make_scene(building_.job, building_.plan, options);
  EXPECT_EQ(scene.groups[0].fault_begin_s, 3600);
  EXPECT_EQ(run_named(scene, "R2").cable_until_s, 3600);
  EXPECT_EQ(run_named(scene, "R2").cable_share, run_named(sound_, "R2").cable_share);
  options.faults = {read("clock-off:main=1 h")};
  options.faults[0].begin_s = 3600;
  EXPECT_THROW(make_scene(building_.job, building_.plan, options), std::logic_error);
}

TEST_F(FaultTest, EveryKindIsListedOnceAndRead) {
  ASSERT_EQ(fault_help().size(), 14u);
  for (const FaultHelp& kind : fault_help()) {
    const std::string place = kind.place == "group" ? "main" : kind.place == "run" ? "R2" : circuit_of(1);
    std::string text = std::string(kind.name) + ":" + place;
    if (kind.kind == wrong_cable) {
      text += "=mild";
    } else if (!kind.value.empty()) {  // the example at the end of the help
      const auto example = kind.value.rfind(", as ");
      ASSERT_NE(example, std::string_view::npos) << kind.name;
      text +=
          "=" + std::string(kind.value.substr(example + 5, kind.value.find(" or ", example) - example - 5));
    }
    EXPECT_EQ(read(text).kind, kind.kind) << text;
    EXPECT_EQ(read(text).place, place) << text;
  }
}

TEST_F(FaultTest, ReadsValuesIntoSi) {
  EXPECT_EQ(read("wet-insulation:R3=3"), (Fault{wet_insulation, "R3", 3}));
  EXPECT_EQ(read("dead-cable:R3=25 %"), (Fault{dead_cable, "R3", 0.25}));
  EXPECT_EQ(read("clock-off:main=1 h"), (Fault{clock_off, "main", 3600}));
  EXPECT_EQ(read("wrong-voltage:main=120 V"), (Fault{wrong_voltage, "main", 120}));
  EXPECT_NEAR(read("wrong-ambient:main=50 °F").value, 10, 1e-12);
}

TEST_F(FaultTest, SaysWhatIsWrong) {
  EXPECT_THAT(error_of("wet-insulaton:R3=3"), HasSubstr("did you mean \"wet-insulation\"?"));
  EXPECT_THAT(error_of("wet-insulation:R33=3"), HasSubstr("no run is called \"R33\""));
  EXPECT_THAT(error_of("sensor-lost:mian"), HasSubstr("did you mean \"main\"?"));
  EXPECT_THAT(error_of("wet-insulation"), HasSubstr("needs a run"));
  EXPECT_THAT(error_of("wet-insulation:R3"), HasSubstr("needs a value"));
  EXPECT_THAT(error_of("wet-insulation:R3=-1"), HasSubstr("outside"));
  EXPECT_THAT(error_of("wet-insulation:R3=wet"), HasSubstr("wet"));
  EXPECT_THAT(error_of("dead-cable:R3=2"), HasSubstr("outside 0 to 1"));
  EXPECT_THAT(error_of("sensor-lost:main=1"), HasSubstr("takes no value"));
  EXPECT_THAT(error_of("wrong-voltage:main=120"), HasSubstr("V"));
  EXPECT_THAT(error_of("dead-cable:R0=0.5"), HasSubstr("no circuit"));
  EXPECT_THAT(error_of("wrong-cable:main=mlid"), HasSubstr("did you mean \"mild\"?"));
  EXPECT_THAT(error_of("wrong-cable:main"), HasSubstr("needs a value"));
}

TEST_F(FaultTest, NothingUntracedAboveAGroupIsSaid) {
  building_.job.runs[4].traced = true;
  building_.job.runs[4].group = "main";
  building_.plan = plan::make_plan(building_.job, quick());
  EXPECT_THAT(error_of("sensor-upstream:main"), HasSubstr("no untraced pipe"));
}

}  // namespace
}  // namespace firstdraw::forecast
