// A building without a single finding, and the plan for it, both by hand: the tests of the checks break one
// thing at a time. The plan's numbers are plausible, not computed.
#pragma once

#include <limits>
#include <numbers>

#include "plan/plan.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::plan {

struct SoundBuilding {
  job::Job job;
  Plan plan;

  SoundBuilding() {
    describe();
    for (std::size_t r = 0; r < job.runs.size(); ++r) plan.runs.push_back(planned(job.runs[r]));
    GroupPlan group;
    group.duty = 0.5;
    group.holds_prob = 0.97;
    group.coldest_run = 3;
    group.hottest_run = 2;
    group.heat_up_s = 4 * 3600;
    group.best_sensor_run = "R2";
    plan.groups = {group};
    plan.circuits = {made_circuit()};
    plan.panels = {panel_load()};
    plan.switching = {{0, 0, {0}, true, 2, 20, 0}};
    rebuild();
  }

  /// After a change of runs, nodes or outlets.
  void rebuild() { plan.network = piping::build_network(job); }

  job::Run& run(std::size_t index) { return job.runs.at(index); }
  job::ControlGroup& group() { return job.groups[0]; }
  power::Circuit& circuit() { return plan.circuits[0]; }
  RunPlan& run_plan(std::size_t index) { return plan.runs.at(index); }

 private:
  /// heater - R1 - mix - R2 - tee - R3 (riser) - upper outlet; tee - R4 - outlet
  void describe() {
    job = small_job();
    job.requirements = {rules::RuleSet::us, "hotel", "ashrae-12", "ashrae-90.1-2016", "iecc-c404.5", 0.1, 10};
    job.supply = {"heater", "mix", "L1", 60, 54, 10};
    job.levels = {{"L1", "Level 1", 0}, {"L2", "Level 2", 3}};
    job.spaces = {{"void", "Ceiling void", {16, 21, 27}}};
    job.panels[0].main_a = 100;
    job.panels[0].free_poles = 12;
    group().maintain_c = group().setback_c = 52;
    group().entered_ambient_c.reset();
    group().high_cutout_c = 62;
    group().low_alarm_c = 47;
    group().high_alarm_c = 58;
    job.cables = {invented_sheet("mild", 1, 18)};
    job.runs = {small_run("R1", "heater", "mix", "copper L 1-1/4", 2, "void"),
                small_run("R2", "mix", "tee", "copper L 1-1/4", 20, "void"),
                small_run("R3", "tee", "up", "copper L 1", 4, "void"),
                small_run("R4", "tee", "end", "copper L 1", 15, "void")};
    run(0).traced = false;
    run(0).group.clear();
    run(2).orientation = physics::Orientation::vertical;
    run(2).level = "L2";
    for (std::size_t r = 0; r < job.runs.size(); ++r) run(r).place.line = static_cast<int>(r) + 2;
    job.outlets = {outlet("O1", "up", 2), outlet("O2", "end", 3)};
  }

  static job::Outlet outlet(const std::string& id, const std::string& node, int line) {
    job::Outlet made;
    made.id = id;
    made.node = node;
    made.fixture = "shower";
    made.runout_pipe = pipe_named("copper L 1/2");
    made.runout_length_m = 2;
    made.safe_outlet_valve = true;
    made.place = {"outlets.csv", line};
    return made;
  }

  static RunPlan planned(const job::Run& run) {
    RunPlan made;
    made.run_class = run.traced ? "B" : "A";
    const double bore_m = run.pipe.outer_diameter_m + 0.01;
    made.insulation = {
        physics::SizeSeries::inch_iron, "next size", bore_m, bore_m + 0.0762, 0.0381, "invented"};
    if (!run.traced) return made;
    made.cable = 0;
    made.passes = 1;
    made.cable_length_m = run.length_m;
    made.spare_frac = 0.2;
    made.at_maintain_c = made.at_setback_c = made.worst_cold_c = made.worst_hot_c = 52;
    made.stuck_on_c = 60;
    made.holds_prob = 0.98;
    made.warm_up_s = 4 * 3600;
    made.circuit = 0;
    return made;
  }

  static power::PanelLoad panel_load() {
    power::PanelLoad made;
    made.panel = 0;
    made.circuits = {0};
    made.poles = 2;
    made.working_a = 3;
    made.settled_a = 6;
    made.phase_a = {6, 6, 6};
    made.working_w = 600;
    made.settled_w = 1200;
    made.least_main_a = 7.5;
    made.together_peak_a = made.peak_a = made.bound_a = 12;
    return made;
  }

  static power::Circuit made_circuit() {
    power::Circuit made;
    made.id = "C01";
    made.group = made.panel = made.cable = 0;
    made.runs = {1, 2, 3};
    made.cable_length_m = 39;
    made.max_length_m = 120;
    made.breaker_a = 20;
    made.poles = 2;
    made.working_a = 3;
    made.settled_a = 6;
    made.peak_a = 12;
    made.leakage_a = 0.001;
    made.far_drop_frac = 0.005;
    made.feeder_drop_frac = 0.005;
    made.working_w = 624;
    made.feed_v = 207;
    made.far_v = 206;
    made.wiring.one_way_m = 20;
    made.wiring.conductor = made.wiring.earth = made.wiring.conductor_before_drop = "12 AWG";
    made.wiring.conduit_kind = "EMT";
    made.wiring.conduit = "1/2";
    made.start.check.held_s = std::numeric_limits<double>::infinity();
    made.start.check.trips_by_s = std::numeric_limits<double>::infinity();
    made.start.check.worst_multiple = 0.6;
    made.start.modelled = true;
    made.start.model_off_frac = 0.02;
    return made;
  }
};

}  // namespace firstdraw::plan
