#include "finding_jobs.hpp"

#include <fmt/format.h>

#include <limits>

#include "plan/sound_building.hpp"
#include "power/cold_start.hpp"

namespace firstdraw::plan {

namespace {

using J = job::Job;
using List = std::vector<JobFault>;

job::KnownCircuit standing(const char* id, std::vector<std::string> runs, double breaker_a) {
  job::KnownCircuit known;
  known.id = id;
  known.feed_node = "mix";
  known.runs = std::move(runs);
  known.fixed = breaker_a > 0;
  if (known.fixed) known.breaker_a = breaker_a;
  known.place = {"circuits.csv", 2};
  return known;
}

auto stands_on(double breaker_a) {
  return [=](J& j) { j.known_circuits = {standing("C01", {"R2", "R3", "R4"}, breaker_a)}; };
}

/// A sheet as its own core and core-to-pipe resistance make it; `core_j_per_m_k` delays the settled current.
void write_sheet(const power::ColdStartModel& core, physics::CableSheet& sheet) {
  constexpr double volts = 208, settled_s = 300;
  power::StartPipe kept;
  kept.heat_j_per_m_k = std::numeric_limits<double>::infinity();
  for (auto& point : sheet.output) point.power_w_per_m = core.cable.power_w_per_m(point.pipe_c, volts);
  for (auto& point : sheet.cold_start) {
    const power::ColdStart start(core, kept, {volts, point.start_c}, settled_s);
    point.peak_a_per_m = start.peak_a_per_m();
    point.settled_a_per_m = start.current_a_per_m(settled_s);
  }
}

void of_one_piece(J& j) { write_sheet({{10, 540, 0.02, 1.25}, 60}, j.cables[0]); }

/// A core that starts a hundred times as strong as it settles, and slowly.
void slow_start(J& j) {
  write_sheet({{10, 60, 0.06, 1.25}, 600}, j.cables[0]);
  j.cables[0].max_length.push_back({16, 208, 0, 60});
  j.panels[0].main_a = 0;
  j.requirements.rules = rules::RuleSet::intl;
  j.wiring.insulation = "PVC";
  j.wiring.method = "B2";
  j.wiring.make = "class 2";
  j.wiring.conduit.clear();
  j.wiring.breaker = "iec-60898-1-d";
}

/// Branches of unlike length from the tee.
auto header(int first, int end_before) {
  return [=](J& j) {
    j.panels[0].phases = 1;
    j.panels[0].main_a = 0;
    j.panels[0].free_poles = 0;
    for (int i = first; i < end_before; ++i) {
      const std::string end = fmt::format("H{}", i);
      j.runs.push_back(small_run(fmt::format("R{}", 10 + i), "tee", end, "copper L 1", 40 + 1.7 * i, "void"));
      j.runs.back().thickness_m = 0.0508;
      j.outlets.push_back(j.outlets.back());
      j.outlets.back().id = fmt::format("O{}", 10 + i);
      j.outlets.back().node = end;
    }
  };
}

void listed_far_down(J& j) { j.cables[0].voltage.insert(j.cables[0].voltage.begin(), {170, 0.77}); }
void little_to_spare(J& j) {
  listed_far_down(j);
  j.requirements.margin_frac = 0.2;
}

auto overridden(const char* rule, double value) {
  return [=](J& j) { j.overrides = {{rule, value, "agreed on site", "A. Example"}}; };
}

/// More current at a start, and shorter circuits listed for small breakers.
void hungry_start(J& j) {
  j.cables[0].cold_start = {{0, 0.60, 0.42}, {10, 0.55, 0.40}};
  j.cables[0].max_length.push_back({15, 208, 0, 60});
  stands_on(20)(j);
}

void add_period(J& j, job::Period::Setting setting, double hold_c) {
  constexpr double hour_s = 3600;
  j.periods = {{"main", 0x1f, 22 * hour_s, 5 * hour_s, setting, hold_c}};
}

void pin(J& j, job::Pin::Kind kind, std::vector<std::string> runs) {
  j.pins.push_back({kind, std::move(runs), "as the owner wants", {"job.toml", 0}});
}

void all_apart(J& j) { pin(j, job::Pin::Kind::apart, {"R2", "R3", "R4"}); }

List circuit_faults() {
  return {
      {"no-ground-fault", "P1", [](J& j) { j.panels[0].ground_fault = false; }},
      {"over-80", "C01", stands_on(15), hungry_start},
      {"breaker-beyond-sheet", "C01", stands_on(40), stands_on(20)},
      {"breaker-not-standard", "C01", stands_on(25),
       [](J& j) {
         j.cables[0].max_length.push_back({25, 208, 0, 150});
         stands_on(20)(j);
       }},
      {"over-length", "C01", [](J& j) { j.cables[0].max_length = {{20, 208, 0, 18}, {30, 208, 0, 19}}; }},
      {"length-not-listed", "mild",
       [](J& j) {
         for (auto& row : j.cables[0].max_length) row.voltage_v = 120;
       }},
      {"leakage-budget", "C01", [](J& j) { j.cables[0].capacitance_f_per_m = 1.2e-8; }},
      {"leakage-budget", "C01", overridden("standing-leakage", 0.007), [](J&) {}, {"rule-overridden"}},
  };
}

List voltage_faults() {
  return {
      {"voltage-not-listed", "P1", [](J& j) { j.panels[0].voltage_v = 215; },
       [](J& j) {
         j.panels[0].voltage_v = 208;
         j.cables[0].voltage = {{190, 0.88}, {208, 1.0}, {212, 1.02}};
         j.panels[0].high_frac = 1.0;
       }},
      {"voltage-low-not-listed", "P1", [](J& j) { j.panels[0].low_frac = 0.9; }},
      {"voltage-high-not-listed", "P1", [](J& j) { j.panels[0].high_frac = 1.2; }},
      {"no-steady-state", "C01", [](J& j) { j.cables[0].bus_loop_ohm_per_m = 30; }},
      {"feeder-drop", "C01", [](J& j) { j.panels[0].feeder_length_m = 330; },
       [](J& j) { j.wiring.max_drop_frac = 0.1; }},
      {"total-drop", "C01", [](J& j) { j.cables[0].bus_loop_ohm_per_m = 0.32; }, listed_far_down},
      {"far-voltage-not-listed", "C01",
       [](J& j) { j.cables[0].voltage = {{197, 0.925}, {208, 1.0}, {240, 1.18}}; }},
      {"far-voltage", "C01", [](J& j) { j.cables[0].bus_loop_ohm_per_m = 0.2; }, little_to_spare},
  };
}

List wiring_faults() {
  return {
      {"no-conductor", "C01", [](J& j) { j.wiring.ambient_c = 88; }},
      {"no-raceway",
       "C01",
       [](J& j) { j.wiring.circuits_together = 40; },
       [](J& j) { j.wiring.ambient_c = 70; },
       {"grouping-bites"}},
      {"grouping-bites", "P1", [](J& j) { j.wiring.circuits_together = 12; }},
      {"no-supply-conductor", "P1", [](J& j) { j.panels[0].main_a = 400; },
       [](J& j) { j.panels[0].supply_length_m = 10; }},
      {"supply-small", "P1", [](J& j) { j.panels[0].supply_size = "12 AWG"; },
       [](J& j) {
         j.panels[0].supply_length_m = 10;
         j.panels[0].supply_size = "1 AWG";
       }},
      {"supply-drop", "P1", [](J& j) { j.panels[0].supply_length_m = 2500; },
       [](J& j) {
         j.panels[0].supply_length_m = 10;
         j.panels[0].supply_size = "1 AWG";
       }},
  };
}

List start_faults() {
  return {
      {"start-not-assured", "P1", [](J& j) { j.requirements.start_c = 0; },
       [](J& j) { j.runs[1].length_m = 68; }},
      {"start-model-off", "mild",
       [](J& j) {
         for (auto& point : j.cables[0].cold_start) point.settled_a_per_m *= 0.6;
       },
       of_one_piece},
      {"start-trips", "C01", [](J& j) { j.wiring.breaker = "iec-60898-1-b"; }, slow_start},
      {"start-above-limit", "P1", [](J& j) { j.panels[0].start_limit_a = 6; }},
      {"start-in-sequence", "P1", [](J& j) { j.panels[0].start_limit_a = 5.2; }, all_apart},
  };
}

List panel_faults() {
  return {
      {"panel-overload", "P1", [](J& j) { j.panels[0].other_a = 97; },
       [](J& j) { j.panels[0].start_limit_a = 150; }},
      {"panel-poles", "P1", [](J& j) { j.panels[0].free_poles = 1; }},
      {"phase-imbalance", "P1", all_apart, [](J& j) { j.runs[1].length_m = 68; }},
      {"contacts-small", "main", [](J& j) { j.groups[0].contacts_a = 3; },
       [](J& j) { j.groups[0].contacts_a = 16; }},
  };
}

List layout_faults() {
  return {
      {"layout-conflict", "R2", [](J& j) { pin(j, job::Pin::Kind::apart, {"R2", "R4"}); },
       [](J& j) { pin(j, job::Pin::Kind::together, {"R2", "R4"}); }},
      {"layout-conflict", "R2", [](J& j) { pin(j, job::Pin::Kind::together, {"R2", "R3"}); },
       [](J& j) { j.groups[0].circuits = job::CircuitScope::level; }},
      {"layout-conflict", "C01", [](J& j) { j.known_circuits[0].runs = {"R1", "R2"}; }, stands_on(20)},
      {"layout-not-proven", "", header(4, 12), header(0, 4)},
      {"circuit-gone", "C07", [](J& j) { j.known_circuits.push_back(standing("C07", {"R3"}, 0)); },
       [](J& j) { j.known_circuits = {standing("C01", {"R2", "R4"}, 0)}; }},
      {"rule-overridden", "continuous-load", overridden("continuous-load", 1.0)},
      {"rule-overridden", "small-conductor", overridden("small-conductor", 25)},
      {"override-idle", "continuous-load", overridden("continuous-load", 1.25)},
      {"override-idle", "voltage-drop-feeder", overridden("voltage-drop-feeder", 0.02)},
  };
}

List control_faults() {
  return {
      {"sensor-lost-on", "main", [](J& j) { j.groups[0].when_lost = job::SensorLost::on; }},
      {"off-period", "main", [](J& j) { add_period(j, job::Period::Setting::off, 0); }},
      {"setback-growth", "main", [](J& j) { add_period(j, job::Period::Setting::temperature, 40); },
       [](J& j) { add_period(j, job::Period::Setting::temperature, 51); }},
  };
}

}  // namespace

job::Job sound_job() {
  job::Job job = SoundBuilding().job;
  job.spaces[0].air = {19, 22, 27};
  job.groups[0].hold_tolerance_k = 4;
  job.groups[0].differential_k = 2;
  job.groups[0].cycle_s = 600;
  job.cables[0].min_bend_radius_m = 0.03;
  for (auto& run : job.runs) run.thickness_m = 0.0508;
  return job;
}

std::vector<JobFault> job_faults() {
  List all;
  for (const auto& list : {circuit_faults(), voltage_faults(), wiring_faults(), start_faults(),
                           panel_faults(), layout_faults(), control_faults()})
    all.insert(all.end(), list.begin(), list.end());
  return all;
}

}  // namespace firstdraw::plan
