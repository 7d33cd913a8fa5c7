#include "generate_job.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numbers>
#include <stdexcept>

#include "generate_cable.hpp"
#include "generate_tree.hpp"

namespace firstdraw::bench {

namespace {

using job::Job;

double feet(double value) { return units::to_si(value, "ft", units::Kind::length).value(); }
double inches(double value) { return units::to_si(value, "in", units::Kind::size).value(); }
double fahrenheit(double value) { return units::to_si(value, "°F", units::Kind::temperature).value(); }

struct SizeStep {
  int taps;
  const char* size;
  double thickness_in;
};
constexpr std::array<SizeStep, 8> size_steps{{{6, "3/4", 1},
                                              {16, "1", 1},
                                              {40, "1-1/4", 1},
                                              {100, "1-1/2", 1.5},
                                              {250, "2", 1.5},
                                              {600, "2-1/2", 1.5},
                                              {1500, "3", 1.5},
                                              {100000000, "4", 1.5}}};

const SizeStep& size_for(int taps) {
  for (const auto& step : size_steps) {
    if (taps <= step.taps) return step;
  }
  return size_steps.back();
}

struct Sizes {
  std::array<physics::Pipe, size_steps.size()> pipes;
  physics::Pipe runout;

  Sizes() {
    for (std::size_t i = 0; i < size_steps.size(); ++i) {
      pipes[i] = physics::find_pipe("copper", "L", size_steps[i].size).value();
    }
    runout = physics::find_pipe("copper", "L", "1/2").value();
  }
  const physics::Pipe& pipe(const SizeStep& step) const {
    return pipes[static_cast<std::size_t>(&step - size_steps.data())];
  }
};

std::string riser_group(int riser) { return riser < 0 ? "mains" : fmt::format("riser-{}", riser + 1); }

std::string space_of(const Branch& branch) {
  switch (branch.place) {
    case Place::plant:
      return "plant";
    case Place::ground_main:
      return "void";
    case Place::riser:
      return fmt::format("shaft-{}", branch.riser + 1);
    case Place::floor_main:
      return "corridor";
    default:
      return "walls";
  }
}

job::Run run_of(const Branch& branch, const Sizes& sizes) {
  const SizeStep& step = size_for(branch.taps_below);
  job::Run run;
  run.id = branch.id;
  run.from = branch.from;
  run.to = branch.to;
  run.level = fmt::format("{}", branch.level + 1);
  run.space = space_of(branch);
  run.traced = branch.place != Place::plant;
  run.group = run.traced ? riser_group(branch.riser) : "";
  run.pipe = sizes.pipe(step);
  run.length_m = feet(branch.length_ft);
  run.insulation = "glass-fibre";
  if (branch.place != Place::wall && branch.place != Place::drop) run.thickness_m = inches(step.thickness_in);
  const bool upright = branch.place == Place::riser || branch.place == Place::drop;
  run.orientation = upright ? physics::Orientation::vertical : physics::Orientation::horizontal;
  run.valves = branch.place == Place::wall || branch.place == Place::ground_main ? 1 : 0;
  run.elbows = branch.place == Place::floor_main ? 0 : 1;
  run.tees = branch.place == Place::drop ? 0 : 1;
  run.supports = 1 + static_cast<int>(branch.length_ft / 8);
  return run;
}

void add_outlet(Job& job, const Branch& branch, const char* fixture, const Sizes& sizes, Dice& dice) {
  job::Outlet outlet;
  outlet.id = fmt::format("{}-{}", branch.to, fixture);
  outlet.node = branch.to;
  outlet.fixture = fixture;
  outlet.space = "walls";
  outlet.room = branch.to;
  outlet.runout_pipe = sizes.runout;
  outlet.runout_length_m = feet(dice.halves(3, 6));
  outlet.profile = "guest";
  outlet.safe_outlet_valve = outlet.fixture != "service-sink";
  job.outlets.push_back(std::move(outlet));
}

void add_runs(Job& job, const Tree& tree, Dice& dice) {
  const Sizes sizes;
  std::vector<bool> carries(tree.branches.size(), false);
  for (const auto& branch : tree.branches) {
    if (branch.parent >= 0) carries[static_cast<std::size_t>(branch.parent)] = true;
  }
  job.runs.reserve(tree.branches.size());
  for (std::size_t i = 0; i < tree.branches.size(); ++i) {
    const auto& branch = tree.branches[i];
    job.runs.push_back(run_of(branch, sizes));
    if (branch.place == Place::drop) {
      add_outlet(job, branch, "lavatory", sizes, dice);
      add_outlet(job, branch, "shower", sizes, dice);
    } else if (!carries[i]) {
      add_outlet(job, branch, "service-sink", sizes, dice);
    }
  }
}

void add_group(Job& job, int riser, const std::string& sensor_run) {
  const std::string id = riser_group(riser);
  job::Panel panel{"HP-" + id, "Heating panel " + id, "Electrical closet", 208, true, 3};
  panel.feeder_length_m = feet(60);
  panel.free_poles = 84;
  job.panels.push_back(std::move(panel));
  job::ControlGroup group;
  group.id = id;
  group.name = id;
  group.panel = "HP-" + id;
  group.sensor_run = sensor_run;
  group.sensor_angle_rad = std::numbers::pi;
  group.maintain_c = fahrenheit(126);
  group.setback_c = fahrenheit(118);
  group.hold_tolerance_k = 1;
  group.entered_ambient_c = fahrenheit(70);
  group.high_cutout_c = fahrenheit(155);
  group.low_alarm_c = fahrenheit(110);
  group.high_alarm_c = fahrenheit(140);
  group.differential_k = 2;
  group.sensor_lag_s = 60;
  group.cycle_s = 600;
  job.groups.push_back(std::move(group));
}

/// A group for the ground mains and one for every riser that has runs, each with its sensor on its first run.
void add_groups(Job& job) {
  std::vector<std::string> seen;
  for (const auto& run : job.runs) {
    if (run.group.empty() || (!job.groups.empty() && job.groups.back().id == run.group)) continue;
    if (std::ranges::find(seen, run.group) != seen.end()) continue;
    seen.push_back(run.group);
    add_group(job, run.group == "mains" ? -1 : std::stoi(run.group.substr(6)) - 1, run.id);
  }
}

void add_spaces(Job& job, int levels, int risers) {
  for (int level = 0; level < levels; ++level) {
    job.levels.push_back({fmt::format("{}", level + 1), fmt::format("Level {}", level + 1),
                          level == 0 ? 0.0 : feet(5 + 10.0 * level)});
  }
  const auto space = [&](const std::string& id, double low_f, double usual_f, double high_f) {
    job.spaces.push_back({id, id, {fahrenheit(low_f), fahrenheit(usual_f), fahrenheit(high_f)}});
  };
  space("plant", 65, 80, 95);
  space("void", 60, 72, 80);
  space("corridor", 62, 71, 80);
  space("walls", 62, 71, 80);
  for (int riser = 0; riser < risers; ++riser) space(fmt::format("shaft-{}", riser + 1), 60, 72, 84);
}

void add_frame(Job& job, int levels, int runs, std::uint64_t seed) {
  job.site.name =
      fmt::format("Generated building, {} levels, {} runs, seed {} (invented)", levels, runs, seed);
  job.units = units::System::us;
  job.paper = "letter";
  job.requirements = {rules::RuleSet::us, "hotel", "cdc",         "ashrae-90.1-2016",
                      "iecc-c404.5",      0.1,     fahrenheit(50)};
  job.economics = {.currency = "USD",
                   .energy_price_per_kwh = 0.14,
                   .life_years = 20,
                   .discount_frac = 0.04,
                   .connection_cost = 450,
                   .cable_labour_per_m = 13,
                   .insulation_price_per_m3 = 1400,
                   .insulation_fixed_per_m = 10,
                   .hours_per_year = 8760};
  job.design.thicknesses_m = {inches(1), inches(1.5), inches(2)};
  job.supply = {"HEATER", "", "1", fahrenheit(140), fahrenheit(140), fahrenheit(50)};
  job.profiles = {{"guest", "hotel", {}, {}, {}, 1}};
  job.cables = generate_cables();
}

}  // namespace

Job generate_job(int levels, int runs, std::uint64_t seed) {
  if (levels < 1 || levels > 200) throw std::invalid_argument("levels: 1 to 200");
  if (runs < 2 || runs > 1000000) throw std::invalid_argument("runs: 2 to 1000000");
  Dice dice(seed);
  Job job;
  add_frame(job, levels, runs, seed);
  const Tree tree = grow_tree(levels, runs, dice);
  add_spaces(job, levels, tree.risers);
  add_runs(job, tree, dice);
  add_groups(job);
  return job;
}

}  // namespace firstdraw::bench
