// Steady state: one duty, many runs. At the sensor run the duty is what holds its set-point; every other run finds the
// temperature at which  duty * passes * p(T, V) * L_cable-on-pipe = q(T) * loss length.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "job/job.hpp"
#include "physics/heating_cable.hpp"
#include "physics/pipe_loss.hpp"

namespace firstdraw::hold {

/// Loss of one run against water and air, prepared for very many evaluations: exact film and k(T) physics tabulated to
/// better than 1e-6 of the loss over the working range. factor k: see Tolerances.
class LossCurve {
 public:
  LossCurve() = default;
  LossCurve(const physics::PipeSection& section, const physics::Surroundings& around);
  /// W/m. `insulation_factor` multiplies the conductivity of the insulation.
  double loss_w_per_m(double water_c, double air_c, double insulation_factor = 1) const;

 private:
  std::vector<double> resistance_;  // implementation detail
};

/// One run as this room sees it. Untraced runs have no cable and are not solved.
struct HeldRun {
  int job_run = -1;
  int group = -1;                       // index into job.groups
  int cable = -1;                       // index into the cables given to the solver
  int passes = 1;
  double pipe_length_m = 0;             // heated by passes * pipe_length of cable
  double loss_length_m = 0;             // pipe plus equivalent lengths
  double derating_frac = 1;             // plastic pipe
  LossCurve loss;
  job::AirTemperatures air;
};

struct Building {
  std::vector<HeldRun> runs;
  std::vector<physics::HeatingCable> cables;
  struct Group {
    int sensor = -1;                    // index into runs; -1: none
    double maintain_c = 0, setback_c = 0, hold_tolerance_k = 0;
    double sensor_offset_k = 0;         // reading minus water, from the wall-angle model
    std::optional<double> entered_ambient_c;
    double voltage_v = 0, low_frac = 0.95, high_frac = 1.05;
  };
  std::vector<Group> groups;            // like job.groups
};

/// Everything that can differ from the nominal. Per-run spans may be empty (nominal).
struct Conditions {
  enum class Air { low, usual, high } air = Air::usual;
  double voltage_frac = 1;
  double cable_output_frac = 1;
  double loss_frac = 1;
  double air_shift_k = 0;
};

enum class Mode { sensor_at_maintain, sensor_at_setback, stuck_on, entered_ambient, off };

struct RunState {
  double water_c = 0;
  double loss_w = 0;      // whole run
  double power_w = 0;     // time-mean electrical, whole run
  double cable_w_per_m = 0;  // output while on, per metre of cable
  bool extrapolated = false; // the data sheet's table ended before this temperature
};
struct GroupState {
  double duty = 0;        // 1 when the sensor run cannot be held
  bool saturated = false;
  double power_w = 0;
  int coldest = -1, hottest = -1;   // indices into runs
};
struct State {
  std::vector<RunState> runs;      // like Building.runs
  std::vector<GroupState> groups;
};
/// Balance closes to 1e-9 of the loss on every run.
State solve(const Building& building, Mode mode, const Conditions& conditions);

/// Kelvin of water temperature per kelvin by which the ambient was entered wrong (open loop).
std::vector<double> ambient_error_k_per_k(const Building& building);

/// Time from standing cold to maintain with the cable on, lumped wall, water and insulation; infinity if never.
struct WarmUp {
  double to_maintain_s = 0;
};
WarmUp warm_up(const HeldRun& run, const physics::HeatingCable& cable, double heat_capacity_j_per_m_k, double start_c,
               double target_c, double air_c, double voltage_v);

/// Independent tolerances, as half-widths of about two standard deviations unless said otherwise; sources in docs/physics.md.
struct Tolerances {
  double insulation_frac = 0.15;         // per run
  double cable_batch_frac = 0.0;         // per cable type: from the data sheet when 0
  double air_k = 0;                      // per space: from the space's low and high when 0
  double voltage_frac = 0.0;             // per group: from the panel when 0
  double sensor_k = 1.0;                 // per group
};
struct Quantiles {
  double p5 = 0, p50 = 0, p95 = 0;
};
struct Uncertainty {
  std::vector<Quantiles> water_c;              // per run
  std::vector<double> holds_prob;              // per run: P(T >= maintain - tolerance)
  std::vector<double> first_to_fail_prob;      // per run: P(it is the coldest when not all hold)
  std::vector<double> group_holds_prob;        // every run of the group
  double all_hold_prob = 0;
  int samples = 0;
  std::uint64_t seed = 0;
};
/// Seeded quasi-random sampling; same result for any number of threads.
Uncertainty uncertainty(const Building& building, const Tolerances& tolerances, int samples, std::uint64_t seed,
                        int threads = 1);

}  // namespace firstdraw::hold
