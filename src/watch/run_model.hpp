// The sensor's run as the estimates see it while its water stands: water with its wall as one mass, the
// insulation as two more, per metre of pipe. docs/logs-estimates.md.
//   C  dM/dt = s k_c p(W) - G0 (W - A) - [U(d) - U_ref] d         W = M + film rise, d = W - air
//   C1 dA/dt = G0 (W - A) - G1 (A - B)
//   C2 dB/dt = G1 (A - B) - G2 (B - air)                          G, U all times the conductance asked for
#pragma once

#include <array>
#include <span>
#include <vector>

#include "job/job.hpp"
#include "physics/heating_cable.hpp"
#include "physics/radial_ladder.hpp"
#include "plan/plan.hpp"

namespace firstdraw::watch {

/// The design's figures of one run, per metre of pipe, fittings included.
struct RunDesign {
  double water_j_per_m_k = 0, wall_j_per_m_k = 0;
  double film_w_per_m_k = 0;        // standing water to wall
  double sensor_k_per_w_per_m = 0;  // reading above the wall while the cable is on
  double sensor_lag_s = 0;
  physics::RadialLadder ladder;
  double air_c = 0, air_low_c = 0, air_high_c = 0;
  double about_c = 0;  // set-point that it was worked out at
  /// Conductance wall to air by the difference, every kelvin from first_k on; straight between.
  static constexpr int points = 101;
  static constexpr double first_k = -20;
  std::array<double, points> conductance_w_per_m_k{};
  /// Output per metre of pipe by wall temperature, every kelvin from first_c on, passes, derating and local
  /// voltage counted.
  static constexpr double first_c = -20;
  std::array<double, points + 40> output_w_per_m{};
  double cable_tolerance_frac = 0.1;

  double capacity_j_per_m_k() const { return water_j_per_m_k + wall_j_per_m_k; }
  double conductance_at(double difference_k) const;
  double output_at(double wall_c) const;
};

/// Of a heated run with a cable in the plan.
RunDesign run_design(const job::Job& job, const plan::Plan& plan, int group, int run);

/// What is fitted. Shares are over the design's.
struct RunState {
  double conductance_frac = 1, air_shift_k = 0, cable_frac = 1;
  double capacity_frac = 1, rise_frac = 1, sensor_shift_k = 0;  // nuisances
  static constexpr int count = 6;
};

/// Log on an even grid.
struct Grid {
  std::int64_t begin_ms = 0;
  double step_s = 60;
  std::vector<double> reading_c;  // NaN: nothing logged
  std::vector<double> on_frac;    // of the step that begins here; NaN: not known
  std::vector<double> air_c;      // at the step's beginning
  std::size_t size() const { return reading_c.size(); }
};

/// Steps [first, last) in which no water was drawn and everything is known.
struct Stretch {
  std::size_t first = 0, last = 0;
};

/// Readings of every stretch by the model, minus the logged ones, one after another; the water's temperature
/// at the start of each is the one that fits best (robust), so it is no parameter. `skip` steps at each start
/// are left out: film and sensor settle.
struct Residuals {
  std::vector<double> residual_k;
  std::vector<std::size_t> at;  // step
};
Residuals residuals(const RunDesign& design, const Grid& grid, std::span<const Stretch> stretches,
                    const RunState& state, std::size_t skip, double noise_k);

/// A week of the design's run under a thermostat whose set-points are `set_points_c` (every `slot_s`, off far
/// below zero), nobody drawing: mean reading and on share of every slot. The week before runs in.
struct HeldWeek {
  std::vector<double> reading_c, on_frac;
};
HeldWeek held_week(const RunDesign& design, std::span<const double> set_points_c, double slot_s,
                   double differential_k);

}  // namespace firstdraw::watch
