// A small invented building for the tests of this room: a heater, a main, a riser, a branch in a colder void,
// and an untraced runout main.
#pragma once

#include <numbers>
#include <stdexcept>
#include <string>

#include "job/job.hpp"

namespace firstdraw::plan {

inline physics::CableSheet invented_sheet(const std::string& id, double power_scale, double price_per_m) {
  physics::CableSheet sheet;
  sheet.id = sheet.name = id;
  sheet.maker = "Larkspur Thermal (invented)";
  sheet.source = "invented sheet " + id;
  sheet.rated_voltage_v = 208;
  for (const auto& [pipe_c, power] :
       {std::pair{5.0, 22.0}, {20.0, 18.0}, {40.0, 12.5}, {50.0, 9.5}, {60.0, 6.0}, {75.0, 1.5}})
    sheet.output.push_back({pipe_c, power * power_scale});
  sheet.voltage = {{190, 0.88}, {208, 1.0}, {240, 1.18}};
  sheet.cold_start = {{0, 0.24 * power_scale, 0.13 * power_scale},
                      {10, 0.21 * power_scale, 0.12 * power_scale}};
  sheet.max_length = {{20, 208, 0, 120 / power_scale}, {30, 208, 0, 180 / power_scale}};
  sheet.output_tolerance_frac = 0.1;
  sheet.bus_loop_ohm_per_m = 0.027;
  sheet.bus_conductor = "16 AWG";
  sheet.capacitance_f_per_m = 300e-12;
  sheet.max_powered_c = 85;
  sheet.max_unpowered_c = 85;
  sheet.section = {0.0137, 0.0061};
  sheet.price_per_m = price_per_m;
  return sheet;
}

inline physics::Pipe pipe_named(const std::string& text) {
  const auto found = physics::find_pipe(text);
  if (!found) throw std::logic_error(found.error());
  return *found;
}

inline job::Run small_run(const std::string& id, const std::string& from, const std::string& to,
                          const std::string& pipe, double length_m, const std::string& space) {
  job::Run run;
  run.id = id;
  run.from = from;
  run.to = to;
  run.level = "L1";
  run.space = space;
  run.group = "main";
  run.pipe = pipe_named(pipe);
  run.length_m = length_m;
  run.insulation = "glass-fibre";
  run.place = {"runs.csv", 2};
  return run;
}

inline job::Job small_job() {
  job::Job job;
  job.site.name = "Invented clinic";
  job.units = units::System::us;
  job.paper = "letter";
  job.requirements = {rules::RuleSet::us, "clinic", "none", "none", "none", 0.1, 5};
  job.economics = {.currency = "USD",
                   .energy_price_per_kwh = 0.15,
                   .life_years = 20,
                   .discount_frac = 0.04,
                   .connection_cost = 450,
                   .cable_labour_per_m = 12,
                   .insulation_price_per_m3 = 1500,
                   .insulation_fixed_per_m = 10,
                   .hours_per_year = 8760};
  job.design = {{}, {0.0254, 0.0381, 0.0508}, physics::SizeSeries::inch_iron, 1};
  job.supply = {"heater", "mix", "L1", 60, 49, 10};
  job.levels = {{"L1", "Level 1", 0}};
  job.spaces = {{"ceiling", "Ceiling", {18, 21, 27}}, {"void", "Cold void", {8, 14, 27}}};
  job.panels = {{"P1", "Panel 1", "plant room", 208, true, 3, 0.95, 1.05, 20, 0, 0, true, 60}};
  job::ControlGroup group;
  group.id = group.name = "main";
  group.panel = "P1";
  group.sensor_run = "R2";
  group.sensor_angle_rad = std::numbers::pi;
  group.maintain_c = 46;
  group.setback_c = 46;
  group.hold_tolerance_k = 2;
  group.entered_ambient_c = 21;
  group.low_alarm_c = 40;
  group.high_alarm_c = 55;
  job.groups = {group};
  job.runs = {small_run("R1", "mix", "a", "copper L 1-1/4", 12, "ceiling"),
              small_run("R2", "a", "b", "copper L 1", 20, "ceiling"),
              small_run("R3", "b", "c", "copper L 3/4", 15, "void"),
              small_run("R4", "b", "d", "copper L 3/4", 9, "ceiling"),
              small_run("R0", "heater", "mix", "copper L 1-1/4", 2, "ceiling")};
  job.runs[2].valves = 1;
  job.runs[4].traced = false;
  job.runs[4].group.clear();
  job.cables = {invented_sheet("mild", 0.75, 18), invented_sheet("strong", 1.3, 26)};
  return job;
}

}  // namespace firstdraw::plan
