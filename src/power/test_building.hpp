// A small invented building for the tests of this room: one panel, one group, one cable, runs added one by
// one.
#pragma once

#include <optional>
#include <utility>

#include "power/circuits.hpp"

namespace firstdraw::power {

struct TestBuilding {
  TestBuilding() {
    job.requirements.rules = rules::RuleSet::us;
    job.requirements.start_c = 10;
    job.supply.node = "heater";
    job::Panel panel;
    panel.id = "P1";
    panel.voltage_v = 208;
    panel.line_to_line = true;
    panel.phases = 3;
    job.panels.push_back(panel);
    job::ControlGroup group;
    group.id = "G1";
    group.panel = "P1";
    job.groups.push_back(group);
    sheet.id = "invented";
    sheet.rated_voltage_v = 208;
    sheet.output = {{10, 20}, {60, 10}};
    sheet.voltage = {{200, 0.97}, {240, 1.1}};
    sheet.cold_start = {{10, 0.25, 0.125}};
    sheet.max_length = {{15, 208, 10, 90}, {20, 208, 10, 120}, {30, 208, 10, 150}};
    sheet.bus_loop_ohm_per_m = 0.02;
    sheet.max_powered_c = 65;
    sheet.capacitance_f_per_m = 0.3e-9;
  }

  TestBuilding& run(const std::string& id, const std::string& from, const std::string& to, double length_m,
                    bool traced = true) {
    job::Run made;
    made.id = id;
    made.from = from;
    made.to = to;
    made.length_m = length_m;
    made.group = traced ? "G1" : "";
    made.traced = traced;
    job.runs.push_back(made);
    runs.push_back({traced ? 0 : piping::none, 1, traced ? length_m : 0.0, 12});
    return *this;
  }

  /// Invented prices; the panel stands near `nodes`, its feeder 10 m away from there.
  TestBuilding& prices(std::vector<std::string> nodes = {"heater"}) {
    job.economics.connection_cost = 350;
    job.economics.tee_cost = 120;
    job.economics.end_cost = 45;
    job.economics.breaker_cost_per_a = 2;
    job.economics.wiring_cost_per_m = 9;
    job.panels[0].feeder_length_m = 10;
    job.panels[0].nodes = std::move(nodes);
    return *this;
  }

  TestBuilding& pin(job::Pin::Kind kind, std::vector<std::string> ids) {
    job::Pin made;
    made.kind = kind;
    made.runs = std::move(ids);
    job.pins.push_back(made);
    return *this;
  }

  TestBuilding& known(const std::string& id, const std::string& feed_node, std::vector<std::string> ids,
                      bool fixed = false, std::optional<double> breaker_a = std::nullopt) {
    job::KnownCircuit made;
    made.id = id;
    made.feed_node = feed_node;
    made.runs = std::move(ids);
    made.fixed = fixed;
    made.breaker_a = breaker_a;
    job.known_circuits.push_back(made);
    return *this;
  }

  Layout lay_out() const {
    return power::lay_out(job, piping::build_network(job), {physics::HeatingCable(sheet)}, runs);
  }

  job::Job job;
  physics::CableSheet sheet;
  std::vector<RunCable> runs;
};

}  // namespace firstdraw::power
