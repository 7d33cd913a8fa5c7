// From a planned job to a draw::Scene: every run with its chosen insulation and cable, every fixture with its
// runout, every control group with its controller; and the same building with something wrong.
#pragma once

#include <expected>
#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "draw/demand.hpp"
#include "draw/scene.hpp"
#include "job/job.hpp"
#include "plan/plan.hpp"

namespace firstdraw::forecast {

enum class FaultKind {
  sensor_beside_cable,  // group
  sensor_upstream,      // group: on the last untraced run above its runs, where supply water flows
  sensor_lost,          // group
  contactor_stuck_on,   // group
  contactor_stuck_off,  // group
  breaker_open,         // circuit
  wrong_voltage,        // group, volts at the cable
  wrong_ambient,        // group, degC entered
  wet_insulation,       // run, factor on conductivity
  missing_insulation,   // run
  dead_cable,       // run, share of its length from which it is dead, with all that follows on its circuit
  clock_off,        // group, seconds the controller is ahead
  wrong_cable,      // group, `cable` on all its runs
  sensor_off_pipe,  // group
};
struct Fault {
  FaultKind kind{};
  std::string place;    // id of group, circuit or run
  double value = 0;     // as above
  std::string cable{};  // id of a sheet
  /// True time; before it all is well. Not read from text. Counts for sensor_lost, sensor_off_pipe,
  /// contactors and breakers; any other kind must have been so from the beginning.
  double begin_s = -std::numeric_limits<double>::infinity();
  bool operator==(const Fault&) const = default;
};
bool may_begin_later(FaultKind kind);
/// Reads "wet-insulation:R12=3", "wrong-voltage:mains=120 V"; one sentence with the nearest known name else.
std::expected<Fault, std::string> read_fault(std::string_view text, const job::Job& job,
                                             const plan::Plan& plan);
struct FaultHelp {
  FaultKind kind{};
  std::string_view name, place, value, what;
};
std::span<const FaultHelp> fault_help();

/// What differs from the nominal building in one member of an ensemble.
struct Variation {
  std::vector<double> insulation_factor;  // per job run, on conductivity; empty: 1
  std::vector<double> air_shift_k;        // per job run; empty: 0
  std::vector<double> cable_factor;       // per job cable; empty: 1
  std::vector<double> voltage_factor;     // per group; empty: 1
  std::vector<double> sensor_shift_k;     // per group; empty: 0
};

struct SceneOptions {
  std::vector<Fault> faults;
  bool traced = true;  // false: the same pipes without any heating cable
  bool axial_mixing = false;
  double cell_m = 0.75;  // longest cell of a run; runouts take a quarter
  Variation variation;
};
/// Runs that do not hang on the supply are left out. Local voltage: the share of the panel's that the plan
/// gives each run at maintain.
draw::Scene make_scene(const job::Job& job, const plan::Plan& plan, const SceneOptions& options);

/// Which fixture is used how: the outlet's profile of the job, else the published one for the building's
/// kind. `assumptions` says what was taken where the job is silent, of taps and their runouts.
struct Demand {
  std::vector<draw::UseProfile> profiles;
  std::vector<draw::TapUse> taps;  // point into `profiles`
  std::vector<job::Assumption> assumptions;
};
Demand demand_of(const job::Job& job, const draw::Scene& scene);

}  // namespace firstdraw::forecast
