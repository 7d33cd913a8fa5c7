// An invented building for the tests and benches of this room: any number of runs in a few kinds, several
// groups and spaces. No part of the program. All figures of its cables are invented.
#pragma once

#include <string>
#include <vector>

#include "hold/hold.hpp"
#include "physics/insulation.hpp"
#include "physics/pipe.hpp"

namespace firstdraw::hold {

inline physics::CableSheet invented_sheet(const std::string& id, double power_at_10c_w_per_m) {
  physics::CableSheet sheet;
  sheet.id = id;
  sheet.name = "invented " + id;
  sheet.rated_voltage_v = 208;
  const double p = power_at_10c_w_per_m;
  sheet.output = {{5, 1.05 * p},  {10, p},        {25, 0.86 * p}, {40, 0.70 * p},
                  {46, 0.62 * p}, {55, 0.50 * p}, {65, 0.33 * p}, {80, 0.08 * p}};
  sheet.voltage = {{180, 0.82}, {198, 0.94}, {208, 1}, {220, 1.07}, {240, 1.19}};
  sheet.output_tolerance_frac = 0.10;
  sheet.source = "invented";
  return sheet;
}

/// A kind of run: pipe and insulation with its section.
struct InventedKind {
  physics::PipeSection section;
  LossCurve loss;
  double derating_frac = 1;
};

inline physics::PipeSection invented_section(const char* pipe, const char* insulation, double bore_m,
                                             double outer_m) {
  const auto found_pipe = physics::find_pipe(pipe);
  const auto found = physics::find_insulation(insulation);
  physics::InsulationSize size;
  size.bore_m = bore_m;
  size.outer_diameter_m = outer_m;
  return physics::insulated(found_pipe.value(), found.value(), size);
}

inline std::vector<InventedKind> invented_kinds() {
  struct Text {
    const char *pipe, *insulation;
    double bore_m, outer_m, derating_frac;
  };
  const std::vector<Text> texts{
      {"copper L 3/4", "glass fibre", 0.0286, 0.0889, 1},   {"copper L 1", "glass fibre", 0.0349, 0.1016, 1},
      {"copper L 1-1/2", "glass fibre", 0.0483, 0.1143, 1}, {"copper L 2", "glass fibre", 0.0603, 0.1413, 1},
      {"copper 22x1", "elastomeric", 0.028, 0.078, 1},      {"cpvc 1", "pe-foam", 0.0349, 0.0857, 0.85}};
  std::vector<InventedKind> kinds;
  for (const Text& text : texts) {
    auto section = invented_section(text.pipe, text.insulation, text.bore_m, text.outer_m);
    const LossCurve loss(section, physics::Surroundings{});
    kinds.push_back({std::move(section), loss, text.derating_frac});
  }
  return kinds;
}

/// `runs` runs over groups of 25 with a sensor on each group's first run; every fifth group goes by an
/// entered ambient.
inline Building invented_building(int runs) {
  const auto kinds = invented_kinds();
  Building building;
  building.cables = {physics::HeatingCable(invented_sheet("mild", 24)),
                     physics::HeatingCable(invented_sheet("strong", 36))};
  const job::AirTemperatures airs[] = {{15, 21, 27}, {18, 22, 26}, {10, 18, 30}};
  for (int r = 0; r < runs; ++r) {
    const InventedKind& kind = kinds[static_cast<std::size_t>(r * 7 % static_cast<int>(kinds.size()))];
    HeldRun run;
    run.job_run = r;
    run.group = r / 25;
    run.cable = run.group % 2;
    run.pipe_length_m = 3 + r % 11;
    run.loss_length_m = run.pipe_length_m * (1 + 0.02 * (r % 5));
    run.derating_frac = kind.derating_frac;
    run.loss = kind.loss;
    run.space = r / 40 % 6;
    run.air = airs[run.space % 3];
    run.key = run_key("R" + std::to_string(r));
    building.runs.push_back(run);
  }
  for (int g = 0; g * 25 < runs; ++g) {
    Building::Group group;
    group.sensor = g % 5 == 4 ? -1 : g * 25;
    group.maintain_c = 46;
    group.setback_c = 40;
    group.hold_tolerance_k = 3;
    group.entered_ambient_c = 20;
    group.voltage_v = 208;
    building.groups.push_back(group);
  }
  return building;
}

}  // namespace firstdraw::hold
