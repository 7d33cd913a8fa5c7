// plan(job) -> Plan: the one entry point for the terminal, the page and the pack. An immutable value,
// printable as JSON.
#pragma once

#include <array>
#include <cstdint>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "hold/hold.hpp"
#include "job/job.hpp"
#include "physics/pipe_loss.hpp"
#include "piping/network.hpp"
#include "plan/finding.hpp"
#include "power/circuits.hpp"

namespace firstdraw::power {
class Known;  // power/known.hpp
}

namespace firstdraw::plan {

struct Options {
  int samples = 2000;
  std::uint64_t seed = 1;
  int threads = 1;
};

/// What was chosen and computed for one run; like job.runs.
struct RunPlan {
  std::string run_class;     // "A", "B"…: runs that are alike share choices
  int cable = piping::none;  // index into job.cables; none: untraced
  int passes = 0;
  physics::InsulationSize insulation;                   // the preformed size that clears pipe and cable
  bool thickness_chosen = false, cable_chosen = false;  // by the plan rather than the user
  double cable_length_m = 0, loss_length_m = 0;
  double loss_w_per_m = 0;    // at the group's maintain temperature (not heated: as delivered), usual air
  double output_w_per_m = 0;  // cable on this pipe at maintain, nominal voltage, per metre of pipe
  // Worst case: output (low voltage, weak cable) over loss with margin in the coldest air, minus 1.
  double spare_frac = 0;
  double derating_frac = 1;
  // Steady temperatures, degC; NaN for runs that are not heated. worst_hot and stuck_on: hottest air, high
  // voltage, strong cable, least loss (options.hpp). open_loop: duty from the entered ambient, NaN when none
  // was entered.
  double at_maintain_c = 0, at_setback_c = 0, worst_cold_c = 0, worst_hot_c = 0, stuck_on_c = 0,
         open_loop_c = 0;
  double open_loop_error_k_per_k = 0;
  hold::Quantiles water_c;
  double holds_prob = 0, first_to_fail_prob = 0;
  double warm_up_s = 0;
  double energy_kwh_per_day = 0;
  // What the cable on this run gets while on, as a share of the panel's voltage: power/local_voltage.hpp. All
  // temperatures and probabilities above count it.
  double voltage_frac = 1;        // at maintain, panel at nominal voltage
  double worst_voltage_frac = 1;  // in the worst cold case, panel at its lowest
  int circuit = piping::none;     // index into Plan.circuits
};

struct GroupPlan {
  double duty = 0, setback_duty = 0, worst_duty = 0, power_w = 0;
  int coldest_run = piping::none, hottest_run = piping::none;  // indices into job.runs
  double sensor_offset_k = 0;                                  // what the sensor reads above the water
  double holds_prob = 0;
  double energy_kwh_per_day = 0, energy_kwh_per_year = 0, cost_per_year = 0;
  double heat_up_s = 0;         // slowest run; infinity: never
  std::string best_sensor_run;  // the run that governs: if different from the user's, a finding says so
  // Settings a technician keys in, all from the job or computed: see settings.
};

/// One line of the settings sheet, in the order a technician needs them.
struct Setting {
  std::string group, name, value, note;  // value in the job's units
};

/// One line of the bill of materials.
struct MaterialLine {
  std::string section;  // "Heating cable", "Connections", "Insulation", "Labels", "Electrical"
  std::string item, detail, unit;
  double quantity = 0;  // in `unit`
  double price = 0;     // of the whole line, material alone; NaN when unknown
  std::string basis;    // allowance or rule
};

/// What was decided for one run class, what else was possible and why it lost.
struct Choice {
  std::string run_class, description;
  int runs = 0;
  double pipe_length_m = 0;
  std::string chosen;
  double lifetime_cost = 0;
  struct Rejected {
    std::string option, why;
    double lifetime_cost = 0;  // NaN when it was not feasible
  };
  std::vector<Rejected> rejected;
};

/// One line of the load calculation: a figure, how it came about, and the clause it rests on.
struct LoadLine {
  std::string panel, circuit;  // ids; circuit empty for the panel itself
  std::string quantity;        // "Continuous load", "Ampacity after factors"
  std::string value;           // with unit
  std::string how;             // one sentence; names an override as such
  rules::Citation citation;
};

struct Totals {
  double traced_m = 0, cable_m = 0, working_w = 0, settled_w = 0;
  double energy_kwh_per_day = 0, energy_kwh_per_year = 0, cost_per_year = 0;
  double all_hold_prob = 0;  // NaN when not sampled
  int stops = 0, fixes = 0, notes = 0, accepted = 0;
};

struct Plan {
  piping::Network network;
  std::vector<RunPlan> runs;      // like job.runs
  std::vector<GroupPlan> groups;  // like job.groups
  std::vector<power::Circuit> circuits;
  std::vector<power::PanelLoad> panels;
  std::vector<power::Switching> switching;  // like job.groups
  power::Division division;
  std::vector<LoadLine> load;  // by panel, then by circuit
  std::vector<Setting> settings;
  std::vector<MaterialLine> materials;
  std::vector<Choice> choices;
  std::vector<Finding> findings;             // stops first, then by place
  std::vector<job::Assumption> assumptions;  // the job's and the plan's own
  std::vector<rules::Citation> sources;      // every citation used, once, sorted
  Totals totals;
  Options options;
};

/// Chooses, lays out, couples heat and current, judges starts and checks, in that order. The job must have
/// come through job::read_job or satisfy what it checks; survey slips are findings. Same job and options,
/// same plan, for any number of threads.
Plan make_plan(const job::Job& job, const Options& options = {});
/// The same plan, sooner where `known` was handed in with an earlier plan of much the same building. One plan
/// at a time may use it.
Plan make_plan(const job::Job& job, const Options& options, std::shared_ptr<power::Known> known);

/// Findings that need no thermal or electrical result: what `firstdraw check` reports.
std::vector<Finding> survey(const job::Job& job, const piping::Network& network);

/// Keys carry units; schema in schemas/plan.schema.json and schemas/findings.schema.json.
nlohmann::json to_json(const job::Job& job, const Plan& plan);
nlohmann::json to_json(const std::vector<Finding>& findings);

/// The catalogue of findings: id, severity, title; docs/findings.md is made from it.
struct FindingKind {
  std::string id;
  Severity severity{};
  std::string title;
};
const std::vector<FindingKind>& finding_kinds();

}  // namespace firstdraw::plan
