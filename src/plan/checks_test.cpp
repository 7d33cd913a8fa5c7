// Every finding of the catalogue fires on a building with exactly its mistake, at its place, and nothing
// fires on a sound one.
#include "plan/checks.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <limits>
#include <set>

#include "plan/finding_catalogue.hpp"
#include "plan/sound_building.hpp"

namespace firstdraw::plan {
namespace {

using B = SoundBuilding;
using PlaceKind = Finding::PlaceKind;

struct Mistake {
  std::string id;
  PlaceKind kind;
  std::string place;
  std::function<void(B&)> make;
  std::set<std::string> also = {};  // what follows from the same mistake
};

void add_run(B& b, const char* id, const char* from, const char* to, const char* pipe = "copper L 1") {
  b.job.runs.push_back(small_run(id, from, to, pipe, 5, "void"));
  b.plan.runs.push_back(b.plan.runs.back());
}

void assume_air(B& b) { b.job.assumptions.push_back({"space.void.air_low", "61 °F", "usual"}); }

void accept(B& b, const char* finding, const char* place) {
  b.job.accepted.push_back({finding, place, "agreed", "A. Example", "2026-03-01"});
}

void override_rule(B& b, const char* rule, double value) {
  b.job.overrides.push_back({rule, value, "agreed on site", "A. Example"});
}

job::KnownCircuit known(const char* id, std::vector<std::string> runs) {
  job::KnownCircuit made;
  made.id = id;
  made.feed_node = "tee";
  made.runs = std::move(runs);
  made.place = {"circuits.csv", 3};
  return made;
}

void unlist_voltage(B& b) { b.job.panels[0].voltage_v = 400; }

const double never = std::numeric_limits<double>::infinity();

std::vector<Mistake> survey_mistakes() {
  using enum PlaceKind;
  return {
      {"unknown-supply", site, "", [](B& b) { b.job.supply.node = "boiler"; }, {"outlet-not-reached"}},
      {"loop", run, "R5", [](B& b) { add_run(b, "R5", "end", "mix"); }},
      {"disconnected", run, "R5", [](B& b) { add_run(b, "R5", "nowhere", "far"); }},
      {"two-feeds", run, "R5", [](B& b) { add_run(b, "R5", "up", "end"); }},
      {"length-zero", run, "R4", [](B& b) { b.run(3).length_m = 0; }},
      {"run-very-long", run, "R2", [](B& b) { b.run(1).length_m = 200; }},
      {"size-grows", run, "R4", [](B& b) { b.run(3).pipe = pipe_named("copper L 2"); }, {"insulation-small"}},
      {"level-jump", run, "R4", [](B& b) { b.run(3).level = "L2"; }},
      {"air-assumed", space, "void", assume_air},
      {"air-order", space, "void", [](B& b) { b.job.spaces[0].air.low_c = 25; }},
      {"air-order", run, "R3", [](B& b) { b.run(2).air = {20, 30, 25}; }},
      {"air-implausible", space, "void", [](B& b) { b.job.spaces[0].air.high_c = 80; }},
      {"dead-end", run, "R4", [](B& b) { b.job.outlets.pop_back(); }},
      {"outlet-nowhere", outlet, "O2", [](B& b) { b.job.outlets[1].node = "?"; }, {"dead-end"}},
      {"outlet-not-reached", outlet, "O2", [](B& b) { b.run(3).from = "elsewhere"; }, {"disconnected"}},
      {"nothing-traced",
       site,
       "",
       [](B& b) {
         for (auto& r : b.job.runs) r.traced = false;
       },
       {"group-empty", "sensor-untraced", "runout-long"}},
      {"traced-no-group", run, "R4", [](B& b) { b.run(3).group.clear(); }},
      {"group-empty",
       group,
       "spare",
       [](B& b) {
         b.job.groups.push_back(b.group());
         b.job.groups[1].id = "spare";
         b.plan.groups.push_back(b.plan.groups[0]);
       },
       {"sensor-other-group"}},
      {"untraced-gap",
       run,
       "R2",
       [](B& b) {
         b.run(0).traced = true;
         b.run(0).group = "main";
         b.run(1).traced = false;
       },
       {"sensor-untraced", "no-cable"}},
      {"mixing-valve-none", site, "", [](B& b) { b.job.supply.mixing_valve_node.clear(); }},
  };
}

std::vector<Mistake> thermal_mistakes() {
  using enum PlaceKind;
  return {
      {"no-cable", run, "R4", [](B& b) { b.run_plan(3).cable = piping::none; }},
      {"hold-cold", run, "R4", [](B& b) { b.run_plan(3).spare_frac = -0.1; }},
      {"hold-shared", run, "R4", [](B& b) { b.run_plan(3).at_maintain_c = 49; }},
      {"hold-hot", run, "R3", [](B& b) { b.run_plan(2).at_maintain_c = 58; }},
      {"hold-unlikely", group, "main", [](B& b) { b.plan.groups[0].holds_prob = 0.6; }},
      {"pipe-too-hot",
       run,
       "R3",
       [](B& b) {
         b.run_plan(2).stuck_on_c = 70;
         b.run(2).pipe.max_c = 60;
         b.group().high_cutout_c = 75;
       },
       {"cutout-too-high"}},
      {"insulation-too-hot",
       run,
       "R3",
       [](B& b) {
         b.run(2).insulation = "pe-foam";
         b.run_plan(2).stuck_on_c = 110;
         b.run(2).pipe.max_c = b.job.cables[0].max_powered_c = 200;
         b.group().high_cutout_c = 150;
       },
       {"cutout-too-high"}},
      {"cable-too-hot", run, "R3", [](B& b) { b.run_plan(2).stuck_on_c = 90; }},
      {"cutout-relied-on", run, "R3",
       [](B& b) {
         b.run(2).pipe.max_c = 80;
         for (std::size_t r = 1; r < 4; ++r) b.run_plan(r).stuck_on_c = 82;
       }},
      {"cable-hot-water",
       run,
       "R2",
       [](B& b) { b.job.cables[0].max_powered_c = 53; },
       {"cable-too-hot", "cutout-too-high"}},
      {"insulation-small", run, "R3",
       [](B& b) { b.run_plan(2).insulation.bore_m = b.run(2).pipe.outer_diameter_m; }},
      {"insulation-below-code", run, "R3", [](B& b) { b.run_plan(2).insulation.nominal_thickness_m = 0.01; }},
      {"traced-bare", run, "R3", [](B& b) { b.run_plan(2).insulation = {}; }, {"insulation-below-code"}},
      {"sheet-extrapolated", cable, "mild", [](B& b) { b.job.cables[0].output.resize(4); }},
      {"plastic-derated", run, "R3", [](B& b) { b.run_plan(2).derating_frac = 0.85; }},
      {"warm-up-long", group, "main", [](B& b) { b.plan.groups[0].heat_up_s = 30 * 3600; }},
      {"warm-up-long", group, "main", [](B& b) { b.plan.groups[0].heat_up_s = never; }},
      {"passes-do-not-fit", run, "R3", [](B& b) { b.run_plan(2).passes = 4; }, {"insulation-small"}},
  };
}

void add_period(B& b, job::Period::Setting setting, double hold_c) {
  constexpr double hour_s = 3600;
  b.job.periods.push_back({"main", 0x1f, 22 * hour_s, 5 * hour_s, setting, hold_c});
}

std::vector<Mistake> control_mistakes() {
  using enum PlaceKind;
  const auto open_loop = [](B& b) {
    b.group().kind = job::ControlKind::entered_ambient;
    b.group().sensor_run.clear();
    b.group().high_cutout_c = 0;
  };
  return {
      {"sensor-none", group, "main", [](B& b) { b.group().sensor_run.clear(); }},
      {"open-loop", group, "main",
       [=](B& b) {
         open_loop(b);
         b.group().entered_ambient_c = 21;
       }},
      {"ambient-missing", group, "main", open_loop, {"open-loop"}},
      {"ambient-far", group, "main", [](B& b) { b.group().entered_ambient_c = 10; }},
      {"sensor-above-valve",
       group,
       "main",
       [](B& b) {
         b.run(0).traced = true;
         b.run(0).group = "main";
         b.group().sensor_run = b.plan.groups[0].best_sensor_run = "R1";
       },
       {"no-cable"}},
      {"sensor-untraced",
       group,
       "main",
       [](B& b) { b.group().sensor_run = b.plan.groups[0].best_sensor_run = "R1"; },
       {"sensor-above-valve"}},
      {"sensor-other-group", group, "main",
       [](B& b) {
         b.job.groups.push_back(b.group());
         b.job.groups[1].id = "upper";
         b.plan.groups.push_back(b.plan.groups[0]);
         b.run(1).group = "upper";
       }},
      {"sensor-angle", group, "main", [](B& b) { b.group().sensor_angle_rad = 0.5; }},
      {"sensor-not-governing", group, "main", [](B& b) { b.plan.groups[0].best_sensor_run = "R4"; }},
      {"maintain-growth", group, "main",
       [](B& b) {
         b.group().maintain_c = b.group().setback_c = 43;
         b.group().low_alarm_c = 38;
         b.job.requirements.guideline = "none";
         for (std::size_t r = 1; r < 4; ++r) b.run_plan(r).at_maintain_c = 43;
       }},
      {"setback-growth", group, "main", [](B& b) { b.group().setback_c = 40; }, {"setback-below-guideline"}},
      {"setback-growth", group, "main", [](B& b) { add_period(b, job::Period::Setting::temperature, 40); }},
      {"off-period", group, "main", [](B& b) { add_period(b, job::Period::Setting::off, 0); }},
      {"sensor-lost-on", group, "main", [](B& b) { b.group().when_lost = job::SensorLost::on; }},
      {"setback-below-guideline", group, "main", [](B& b) { b.group().setback_c = 48; }},
      {"setback-above-maintain", group, "main", [](B& b) { b.group().setback_c = 53; }},
      {"maintain-below-guideline", group, "main",
       [](B& b) { b.group().maintain_c = b.group().setback_c = 50; }},
      {"stored-below-guideline", site, "", [](B& b) { b.job.supply.stored_c = 57; }},
      {"delivered-below-guideline",
       site,
       "",
       [](B& b) { b.job.supply.delivered_c = 50; },
       {"maintain-above-delivered"}},
      {"maintain-above-delivered", group, "main", [](B& b) { b.job.supply.delivered_c = 51.5; }},
      {"cutout-none", group, "main", [](B& b) { b.group().high_cutout_c = 0; }},
      {"cutout-low", group, "main", [](B& b) { b.group().high_cutout_c = 53; }},
      {"cutout-too-high", group, "main", [](B& b) { b.group().high_cutout_c = 90; }},
      {"low-alarm-high", group, "main", [](B& b) { b.group().low_alarm_c = 52; }},
      {"high-alarm-low", group, "main", [](B& b) { b.group().high_alarm_c = 50; }},
      {"healthcare-trace", site, "", [](B& b) { b.job.requirements.building_kind = "hospital"; }},
      {"energy-against-hygiene", site, "", [](B& b) { b.job.requirements.energy_code = "iecc-2021"; }},
  };
}

/// Delivered and maintained below the limit of a shower, which has no valve.
void cool_supply(B& b) {
  b.job.outlets[0].safe_outlet_valve = false;
  b.job.requirements.guideline = "none";
  b.job.supply.delivered_c = b.group().maintain_c = b.group().setback_c = 48;
  for (std::size_t r = 1; r < 4; ++r) b.run_plan(r).at_maintain_c = b.run_plan(r).worst_hot_c = 48;
}

std::vector<Mistake> outlet_mistakes() {
  using enum PlaceKind;
  return {
      {"runout-long", outlet, "O2", [](B& b) { b.job.outlets[1].runout_length_m = 14; }},
      {"runout-long", outlet, "O2",
       [](B& b) {
         b.job.requirements.runout_rule = "din-1988-200";
         b.job.outlets[1].runout_length_m = 25;
       }},
      {"outlet-scald", outlet, "O1", [](B& b) { b.job.outlets[0].safe_outlet_valve = false; }},
      {"outlet-scald", outlet, "O1",
       [](B& b) {
         cool_supply(b);
         b.run_plan(2).worst_hot_c = 52;
       }},
      {"scald-stuck-on", outlet, "O1", cool_supply},
  };
}

std::vector<Mistake> circuit_mistakes() {
  using enum PlaceKind;
  return {
      {"no-ground-fault", panel, "P1", [](B& b) { b.job.panels[0].ground_fault = false; }},
      {"no-circuit", run, "R4", [](B& b) { b.run_plan(3).circuit = piping::none; }},
      {"over-80", circuit, "C01", [](B& b) { b.circuit().settled_a = 17; }},
      {"breaker-beyond-sheet", circuit, "C01",
       [](B& b) {
         b.circuit().fixed = b.circuit().over_length = true;
         b.circuit().breaker_a = 50;
       }},
      {"breaker-not-standard", circuit, "C01",
       [](B& b) {
         b.circuit().fixed = true;
         b.circuit().breaker_a = 25;
         b.job.cables[0].max_length.push_back({25, 208, 0, 150});
       }},
      {"over-length", circuit, "C01", [](B& b) { b.circuit().over_length = true; }},
      {"length-not-listed", cable, "mild", [](B& b) { b.circuit().length_listed = false; }},
      {"leakage-budget", circuit, "C01", [](B& b) { b.circuit().leakage_a = 0.012; }},
      {"leakage-budget",
       circuit,
       "C01",
       [](B& b) {
         b.circuit().leakage_a = 0.002;
         override_rule(b, "standing-leakage", 0.05);
       },
       {"rule-overridden"}},
  };
}

std::vector<Mistake> voltage_mistakes() {
  using enum PlaceKind;
  return {
      {"voltage-not-listed", panel, "P1", unlist_voltage},
      {"voltage-low-not-listed", panel, "P1", [](B& b) { b.job.panels[0].low_frac = 0.9; }},
      {"voltage-high-not-listed", panel, "P1", [](B& b) { b.job.panels[0].high_frac = 1.2; }},
      {"no-steady-state", circuit, "C01", [](B& b) { b.circuit().steady = false; }},
      {"feeder-drop", circuit, "C01", [](B& b) { b.circuit().feeder_drop_frac = 0.035; }},
      {"total-drop", circuit, "C01", [](B& b) { b.circuit().far_drop_frac = 0.055; }},
      {"far-voltage-not-listed", circuit, "C01", [](B& b) { b.circuit().far_v = 199; }},
      {"far-voltage", circuit, "C01",
       [](B& b) {
         b.run_plan(3).spare_frac = -0.02;
         b.run_plan(3).worst_voltage_frac = 0.95;
       }},
  };
}

std::vector<Mistake> wiring_mistakes() {
  using enum PlaceKind;
  return {
      {"no-conductor", circuit, "C01",
       [](B& b) {
         b.circuit().wiring.conductor.clear();
         b.circuit().wiring.trouble = "the air is too hot for any conductor";
       }},
      {"no-raceway", circuit, "C01", [](B& b) { b.circuit().wiring.trouble = "no EMT is large enough"; }},
      {"grouping-bites", panel, "P1",
       [](B& b) {
         b.job.wiring.circuits_together = 9;
         b.circuit().wiring.conductor = "8 AWG";
       }},
      {"no-supply-conductor", panel, "P1",
       [](B& b) { b.plan.panels[0].supply.trouble = "no size keeps the drop"; }},
      {"supply-small", panel, "P1",
       [](B& b) {
         b.job.panels[0].supply_size = b.plan.panels[0].supply.conductor = "12 AWG";
         b.plan.panels[0].supply.trouble = "12 AWG may carry 20 A";
       }},
      {"supply-drop", panel, "P1",
       [](B& b) {
         b.job.panels[0].supply_length_m = 60;
         b.plan.panels[0].supply = {"6 AWG", "10 AWG", 0.04, 0.06, false, {}, ""};
       }},
  };
}

void start(B& b, rules::TripVerdict verdict) {
  b.circuit().start.check.verdict = verdict;
  b.circuit().start.check.worst_multiple = 2.5;
  b.circuit().start.check.trips_by_s = 120;
}

std::vector<Mistake> start_mistakes() {
  using enum PlaceKind;
  return {
      {"start-trips", circuit, "C01", [](B& b) { start(b, rules::TripVerdict::must_trip); }},
      {"start-not-assured", panel, "P1", [](B& b) { start(b, rules::TripVerdict::not_assured); }},
      {"start-model-off", cable, "mild", [](B& b) { b.circuit().start.model_off_frac = 0.25; }},
      {"start-above-limit", panel, "P1",
       [](B& b) {
         b.plan.panels[0].start_limit_a = 10;
         b.plan.panels[0].within_limit = false;
         b.circuit().start.delay_s = 60;
       }},
      {"start-in-sequence", panel, "P1",
       [](B& b) {
         b.plan.panels[0].start_limit_a = 10;
         b.circuit().start.delay_s = 300;
       }},
  };
}

std::vector<Mistake> panel_mistakes() {
  using enum PlaceKind;
  return {
      {"panel-overload", panel, "P1", [](B& b) { b.plan.panels[0].least_main_a = 106; }},
      {"panel-poles", panel, "P1", [](B& b) { b.plan.panels[0].poles = 14; }},
      {"phase-imbalance", panel, "P1",
       [](B& b) {
         b.plan.panels[0].circuits = {0, 0, 0};
         b.plan.panels[0].phase_a = {18, 6, 8};
       }},
      {"contacts-small", group, "main", [](B& b) { b.plan.switching[0].contacts_a = 7; }},
  };
}

std::vector<Mistake> layout_mistakes() {
  using enum PlaceKind;
  const auto conflict = [](B& b, const char* sentence) { b.plan.division.conflicts = {sentence}; };
  return {
      {"layout-conflict", run, "R3",
       [=](B& b) {
         b.job.pins = {{job::Pin::Kind::together, {"R2", "R4"}, "one riser", {"job.toml", 90}},
                       {job::Pin::Kind::apart, {"R3", "R4"}, "two floors", {"job.toml", 94}}};
         conflict(b, "Runs R3, R4 are not kept apart as pinned: another pin keeps them together.");
       }},
      {"layout-conflict", circuit, "C07",
       [=](B& b) {
         b.job.known_circuits = {known("C07", {"R9"})};
         b.job.known_circuits[0].fixed = true;
         conflict(b,
                  "Circuit C07 is fixed but cannot stay as it is: there is no run R9. It is laid out like "
                  "any other.");
       }},
      {"layout-conflict", panel, "P1",
       [=](B& b) { conflict(b, "Panel P1 stands near node N9, which hangs on no run from the supply."); }},
      {"layout-not-proven", site, "", [](B& b) { b.plan.division = {5200, 0, 4900, false, {}}; }},
      {"circuit-gone", circuit, "C03", [](B& b) { b.job.known_circuits = {known("C03", {"R3", "R4"})}; }},
      {"rule-overridden", site, "continuous-load", [](B& b) { override_rule(b, "continuous-load", 1); }},
      {"override-idle", site, "continuous-load", [](B& b) { override_rule(b, "continuous-load", 1.25); }},
      {"override-idle", site, "small-conductor", [](B& b) { override_rule(b, "small-conductor", 25); }},
  };
}

std::vector<Mistake> record_mistakes() {
  using enum PlaceKind;
  return {
      {"acceptance-unknown", site, "", [](B& b) { accept(b, "hold-chold", "R4"); }},
      {"acceptance-idle", site, "", [](B& b) { accept(b, "hold-cold", "R4"); }},
  };
}

std::vector<Mistake> all_mistakes() {
  std::vector<Mistake> all;
  for (const auto& list : {survey_mistakes(), thermal_mistakes(), control_mistakes(), outlet_mistakes(),
                           circuit_mistakes(), voltage_mistakes(), wiring_mistakes(), start_mistakes(),
                           panel_mistakes(), layout_mistakes(), record_mistakes()})
    all.insert(all.end(), list.begin(), list.end());
  return all;
}

std::set<std::string> ids(const std::vector<Finding>& findings) {
  std::set<std::string> found;
  for (const Finding& finding : findings) found.insert(finding.id);
  return found;
}

TEST(Checks, ASoundBuildingHasNoFinding) {
  const SoundBuilding building;
  for (const Finding& finding : all_findings(building.job, building.plan))
    ADD_FAILURE() << finding.id << " at " << finding.place << ": " << finding.what;
}

class EachMistake : public testing::TestWithParam<Mistake> {};

TEST_P(EachMistake, IsFoundAtItsPlaceAndNothingElseIs) {
  const Mistake& mistake = GetParam();
  SoundBuilding building;
  mistake.make(building);
  building.rebuild();
  const auto findings = all_findings(building.job, building.plan);
  bool there = false;
  for (const Finding& finding : findings) {
    there = there || (finding.id == mistake.id && finding.place_kind == mistake.kind &&
                      finding.place == mistake.place);
    const bool expected = finding.id == mistake.id || mistake.also.contains(finding.id);
    EXPECT_TRUE(expected) << finding.id << ": " << finding.what;
  }
  EXPECT_TRUE(there) << testing::PrintToString(ids(findings));
}

TEST_P(EachMistake, IsSaidInFull) {
  SoundBuilding building;
  GetParam().make(building);
  building.rebuild();
  for (const Finding& finding : all_findings(building.job, building.plan)) {
    EXPECT_THAT(finding.what, testing::EndsWith(".")) << finding.id;
    EXPECT_THAT(finding.todo, testing::EndsWith(".")) << finding.id;
    EXPECT_THAT(finding.what, testing::Not(testing::HasSubstr("nan"))) << finding.id;
    EXPECT_THAT(finding.what, testing::Not(testing::HasSubstr("–"))) << finding.id << ": a number is missing";
    EXPECT_FALSE(finding.citation.document.empty()) << finding.id;
    EXPECT_FALSE(finding.citation.basis.empty()) << finding.id;
    EXPECT_FALSE(finding.file.empty()) << finding.id;
    EXPECT_FALSE(finding.accepted) << finding.id;
  }
}

std::string name_of(const testing::TestParamInfo<Mistake>& tried) {
  std::string name = tried.param.id + "_" + std::to_string(tried.index);
  std::ranges::replace(name, '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Catalogue, EachMistake, testing::ValuesIn(all_mistakes()), name_of);

TEST(Checks, EveryKindOfFindingHasAMistake) {
  std::set<std::string> tried;
  for (const Mistake& mistake : all_mistakes()) tried.insert(mistake.id);
  for (const CatalogueEntry& entry : finding_catalogue())
    EXPECT_TRUE(!is_of_the_plan(entry.subject) || tried.contains(std::string(entry.id))) << entry.id;
}

TEST(Checks, RunsThatAreAlikeShareOneFinding) {
  SoundBuilding building;
  for (std::size_t r = 1; r < 4; ++r)
    building.run_plan(r).derating_frac = 0.9 - 0.01 * static_cast<double>(r);
  const auto findings = all_findings(building.job, building.plan);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].place, "R4");
  EXPECT_THAT(findings[0].what, testing::HasSubstr("(and 2 more: R2, R3)"));
}

TEST(Checks, SpeakTheUnitsOfTheJob) {
  SoundBuilding building;
  building.group().setback_c = 40;
  EXPECT_THAT(all_findings(building.job, building.plan)[0].what, testing::HasSubstr("104"));
  building.job.units = units::System::metric;
  EXPECT_THAT(all_findings(building.job, building.plan)[0].what, testing::HasSubstr("40"));
}

TEST(Checks, PointAtTheLineThatCanChangeIt) {
  SoundBuilding building;
  building.run(3).length_m = 0;
  const auto findings = survey(building.job, building.plan.network);
  ASSERT_EQ(findings.size(), 1u);
  EXPECT_EQ(findings[0].file, "runs.csv");
  EXPECT_EQ(findings[0].line, 5);
}

TEST(Checks, SurveyNeedsNoPlan) {
  SoundBuilding building;
  building.job.outlets[0].safe_outlet_valve = false;
  building.plan.runs.clear();
  EXPECT_EQ(ids(survey(building.job, building.plan.network)), std::set<std::string>{"outlet-scald"});
}

}  // namespace
}  // namespace firstdraw::plan
