// Steady state: one duty, many runs. At the sensor run the duty is what holds its set-point; every other run
// finds the temperature at which  duty * passes * p(T, V) * derating * pipe length = q(T) * loss length.
// Temperatures are of the water standing in the pipe. Equations in docs/hold.md.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "job/job.hpp"
#include "physics/heating_cable.hpp"
#include "physics/pipe_loss.hpp"

namespace firstdraw::hold {

class LossShape;

/// Loss of one run against water and air, prepared for very many evaluations. Agrees with physics::pipe_loss
/// to better than 1e-6 of the loss for air -20...45 degC and water 0...95 degC (checked in its tests), and
/// follows it beyond. Copies share what was prepared: make one per kind of run, not one per run.
class LossCurve {
 public:
  LossCurve() = default;
  /// `around.air_c` is not kept: every call names its air.
  LossCurve(const physics::PipeSection& section, const physics::Surroundings& around);
  /// W/m, positive when the water is warmer. `insulation_factor` multiplies the conductivity of the
  /// insulation.
  double loss_w_per_m(double water_c, double air_c, double insulation_factor = 1) const;
  const LossShape& shape() const { return *shape_; }

 private:
  std::shared_ptr<const LossShape> shape_;
};

/// One run as this room sees it. Runs without group or cable are not solved: their states stay NaN.
struct HeldRun {
  int job_run = -1;
  int group = -1;  // index into job.groups
  int cable = -1;  // index into the cables given to the solver
  int passes = 1;
  double pipe_length_m = 0;  // heated by passes * pipe_length of cable
  double loss_length_m = 0;  // pipe plus equivalent lengths
  double derating_frac = 1;  // plastic pipe
  double voltage_frac = 1;   // what its cable gets of the group's voltage, wiring and bus wires considered
  LossCurve loss;
  job::AirTemperatures air;
  int space = -1;         // index into job.spaces; runs of one space share its air's luck; -1: on its own
  std::uint64_t key = 0;  // run_key(id); 0: taken from job_run, and then depends on numbering
};

/// What a run's own tolerances are drawn by, so that renumbering runs changes nothing. Never 0.
std::uint64_t run_key(std::string_view run_id);

struct Building {
  std::vector<HeldRun> runs;
  std::vector<physics::HeatingCable> cables;
  struct Group {
    int sensor = -1;  // index into runs; -1: none
    double maintain_c = 0, setback_c = 0, hold_tolerance_k = 0;
    double sensor_offset_k = 0;  // reading minus water, from the wall-angle model
    std::optional<double> entered_ambient_c;
    double voltage_v = 0, low_frac = 0.95, high_frac = 1.05;
  };
  std::vector<Group> groups;  // like job.groups
};

/// Everything that can differ from the nominal.
struct Conditions {
  enum class Air { low, usual, high } air = Air::usual;
  double voltage_frac = 1;
  double cable_output_frac = 1;
  double loss_frac = 1;
  double air_shift_k = 0;
};

/// sensor_at_maintain, sensor_at_setback: duty of the sensor run, whose reading (water + sensor_offset_k) is
/// at the set-point under the conditions given. A group whose sensor is missing or unheated follows its
/// entered ambient instead. entered_ambient: duty that would hold the maintain temperature on the group's
/// average run (each run weighted by its cable's power) with the entered ambient as air, nominal voltage,
/// cable and loss; the runs then settle at their real air and conditions. A group for which no ambient was
/// entered has nothing to throttle it: duty 1. stuck_on: duty 1. off: duty 0, the water comes to the air's
/// temperature.
enum class Mode { sensor_at_maintain, sensor_at_setback, stuck_on, entered_ambient, off };

struct RunState {
  double water_c = 0;
  double loss_w = 0;          // whole run
  double power_w = 0;         // time-mean electrical, whole run
  double cable_w_per_m = 0;   // output while on, per metre of cable, derating included
  bool extrapolated = false;  // the data sheet's table ended before this temperature
};
struct GroupState {
  double duty = 0;         // 1 when the sensor run (or the average run, open loop) cannot be held
  bool saturated = false;  // the duty wanted was above 1
  double power_w = 0;
  int coldest = -1, hottest = -1;  // indices into runs
};
struct State {
  std::vector<RunState> runs;  // like Building.runs
  std::vector<GroupState> groups;
};
/// Balance closes to 1e-9 of the loss on every run.
State solve(const Building& building, Mode mode, const Conditions& conditions);

/// Kelvin of water temperature per kelvin by which the ambient was entered wrong (open loop, usual air):
/// falls as the ambient entered rises. 0 where no ambient was entered or the duty stays at a limit.
std::vector<double> ambient_error_k_per_k(const Building& building);

/// Time from standing cold to `target_c` with the cable on, lumped wall, water and insulation, per metre of
/// pipe: C dT/dt = passes p(T, V) derating - q(T) loss length / pipe length. Infinity if the cable cannot
/// reach it; 0 if it is there already.
struct WarmUp {
  double to_maintain_s = 0;
};
WarmUp warm_up(const HeldRun& run, const physics::HeatingCable& cable, double heat_capacity_j_per_m_k,
               double start_c, double target_c, double air_c, double voltage_v);

/// Heat stored per metre and kelvin by standing water (at `water_c`), pipe wall, and the share of the
/// insulation that a slow change of the wall has to warm, the first moment of radial conduction:
/// 1/(2 ln^2 r) - (1 + 1/ln r)/(r^2 - 1) of its capacity, r = outer over inner diameter, exact with the
/// surface at air temperature. `insulation` may be null: bare.
double heat_capacity_j_per_m_k(const physics::Pipe& pipe, const physics::InsulationSize& size,
                               const physics::Insulation* insulation, double water_c);

/// Independent tolerances, as half-widths of two standard deviations; sources in docs/hold.md. All are
/// normal, those of air and voltage with a width of their own on each side of the usual value.
struct Tolerances {
  double insulation_frac = 0.15;  // of conductivity, per run
  double cable_batch_frac = 0.0;  // of output, per cable type: from the data sheet when 0
  double air_k = 0;               // per space: from the run's low and high when 0
  double voltage_frac = 0.0;      // per group: from the panel when 0
  double sensor_k = 1.0;          // per group
};
struct Quantiles {
  double p5 = 0, p50 = 0, p95 = 0;
};
struct Uncertainty {
  std::vector<Quantiles> water_c;          // per run
  std::vector<double> holds_prob;          // per run: P(T >= maintain - tolerance)
  std::vector<double> first_to_fail_prob;  // per run: P(not all runs hold and this one is farthest below);
                                           // sums to 1 - all_hold_prob
  std::vector<double> group_holds_prob;    // every run of the group; 1 for a group without runs
  double all_hold_prob = 0;
  int samples = 0;
  std::uint64_t seed = 0;
};
/// Latin hypercube: every tolerance has its own shuffled strata, drawn by seed and by what it belongs to. The
/// controller is in its usual mode at maintain; open-loop groups keep the duty that nominal values give. The
/// same result, bit for bit, for any number of threads; renumbering runs changes nothing when they have keys.
/// Temperatures follow solve() to 1e-3 K. Time grows with runs times samples, memory with runs plus
/// (groups + spaces + threads) times samples.
Uncertainty uncertainty(const Building& building, const Tolerances& tolerances, int samples,
                        std::uint64_t seed, int threads = 1);

}  // namespace firstdraw::hold
