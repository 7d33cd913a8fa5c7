// The part of a building that readings can speak of, compiled for very many evaluations: the circuits named,
// those of the sensors that switch them, and the groups, with dense indices of their own.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "power/circuit_cable.hpp"
#include "prove/reading.hpp"
#include "prove/run_heat.hpp"
#include "prove/surface_rise.hpp"

namespace firstdraw::prove {

/// Indices without prefix are of the scope; -1: none.
struct ScopeRun {
  int job_run = -1, circuit = -1, group = -1, space = -1;  // space: index into Scope.spaces
  RunHeat heat, bare;
  SurfaceRise surface, bare_surface;
  double air_c = 0;
  double scale = 1;         // passes, derating, metres of cable per metre of loss
  double voltage_frac = 1;  // of the panel's, as planned
  double depth_frac = 0;    // along the group's pipes: 0 nearest the heater
  double supply_c = 0;      // of the water that comes when a tap opens
  double own_air_k = 0;     // one standard deviation of air that no slot stands for
  double j_per_m_k = 0;     // per metre of loss length
  double derating_frac = 1, cable_length_m = 0, pipe_length_m = 0;
  int stretch = -1;  // of its circuit
};

struct ScopeCircuit {
  int plan_circuit = -1, group = -1, cable = -1;  // cable: index into job.cables
  std::vector<power::CableStretch> stretches;
  std::vector<int> runs;               // like stretches
  std::vector<double> start_m;         // along the way from the feed, where each stretch begins
  double panel_v = 0, volts_frac = 0;  // nominal; one standard deviation
  double wiring_ohm = 0;
  int far_stretch = -1;
  bool named = false;  // by a reading, rather than drawn in by a sensor
};

struct ScopeGroup {
  int job_group = -1;
  int sensor = -1;  // scope run; none: open loop
  bool open_loop = false;
  double set_c = 0;
  double offset_k = 0, beside_k = 0;  // reading above the water, as mounted and right beside the cable
  double swing_k = 0;                 // half of what the reading moves while the controller cycles
  std::optional<double> entered_c;
  std::vector<double> duty_by_ambient;        // open loop, at `ambient_at(i)`
  std::vector<double> duty_by_entered_cable;  // at the entered ambient, like job.cables
  bool uses_ambient = false;                  // open loop now, or when the sensor is lost
  int upstream_run = -1;                      // job run without cable above the group
  std::vector<int> circuits;
};
inline constexpr double first_ambient_c = -30, ambient_step_c = 5;
inline constexpr std::size_t ambients = 21;

struct ScopeSpace {
  int job_space = -1;
  double sigma_k = 0;  // of its air
  int slot = -1;       // of a Dual; none: counted run by run
};

struct Scope {
  Scope(const job::Job& job, const plan::Plan& plan, std::span<const Reading> readings);

  const job::Job& job;
  const plan::Plan& plan;
  std::vector<CableTable> cables;  // like job.cables
  std::vector<ScopeRun> runs;
  std::vector<ScopeCircuit> circuits;
  std::vector<ScopeGroup> groups;
  std::vector<ScopeSpace> spaces;

  int run_of(int job_run) const;  // -1: not in the scope
  int circuit_of(int plan_circuit) const;
  int group_of(int job_group) const;
};

/// Circuit and group that a reading is of, by index into plan and job; -1 where none.
struct ReadingPlace {
  int circuit = -1, group = -1, run = -1;
};
ReadingPlace place_of(const job::Job& job, const plan::Plan& plan, const Reading& reading);

}  // namespace firstdraw::prove
