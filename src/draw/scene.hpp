// The network in time, compiled: what the simulation needs to know of a building and nothing else. Flat
// arrays in an order where every run comes after the run that feeds it. Equations in docs/draw.md.
//
// Per metre of run, temperatures of water T, wall W and two insulation masses A, B:
//   water  cw (dT/dt + u dT/dx) = g (W - T)                       cw = rho c * bore area, plug flow
//   wall   Cp dW/dt = g (T - W) + s p(W) - G0 (W - A) - [U(W - air) - U_ref] (W - air)
//   inner  C1 dA/dt = G0 (W - A) - G1 (A - B)
//   outer  C2 dB/dt = G1 (A - B) - G2 (B - air)
// with g = film * pi d: flowing film while water moves, standing film when it does not; p the cable's output
// at the wall's temperature, s = passes * derating * voltage factor * share of output switched on * live
// share of the cell; U(d) = loss_u0 + loss_u1 d + loss_u2 d^2 the whole conductance wall to air in its
// dependence on the difference d (conductivity and outer film), U_ref the ladder's own steady conductance.
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "draw/control.hpp"
#include "draw/series.hpp"
#include "physics/radial_ladder.hpp"

namespace firstdraw::draw {

inline constexpr int none = -1;
constexpr std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// Output of one kind of cable at its nominal voltage over wall temperature: straight lines on an even grid.
struct CableCurve {
  static constexpr int points = 141;
  static constexpr double first_c = -20, step_k = 1;
  double power_w_per_m[points]{};
  double at(double wall_c) const;
};

struct SceneRun {
  std::string id;
  int upstream = none;  // index into Scene.runs; none: leaves the supply. Always smaller than the own index
  int job_run = none;   // index into job.runs; none for a runout
  double length_m = 0, inner_diameter_m = 0;
  int cells = 1;  // of equal length
  double wall_j_per_m_k = 0;
  physics::RadialLadder insulation;
  double loss_u0 = 0, loss_u1 = 0, loss_u2 = 0;  // see above; per metre of run, fittings included
  double standing_film_w_per_m2_k = 0;
  double flowing_film_w_per_m2_k = std::numeric_limits<double>::quiet_NaN();  // NaN: from the flow
  Series air_c = 20.0;
  // Cable; group none: not heated.
  int group = none, cable = none;
  double cable_share = 0;         // passes * derating * voltage factor
  double linear_about_c = 50;     // where the standing equations are linearised
  std::vector<double> live_frac;  // per cell, share of cable alive; empty: all
  double cable_until_s = std::numeric_limits<double>::infinity();  // then its circuit loses power for good
};

/// One fixture at the end of its own untraced runout.
struct Tap {
  std::string id;     // outlet id, "#2" for the second of several
  int outlet = none;  // index into job.outlets
  int run = none;     // its runout; no other run or tap hangs on it
  double hot_c = 45;  // what counts as hot here
  std::string hot_basis;
};

struct SceneGroup {
  std::string id;
  ControlSettings control;
  int sensor_run = none;            // index into Scene.runs; none: no sensor
  double sensor_at_frac = 0.5;      // along that run
  double sensor_k_per_w_per_m = 0;  // reading above the wall per W/m of cable on, from the wall-angle model
  double sensor_offset_k = 0;
  double sensor_lag_s = 60;
  bool sensor_present = true;
  bool sensor_off_pipe = false;  // reads the air around its run
  enum class Contactor { works, stuck_on, stuck_off } contactor = Contactor::works;
  /// From when on sensor and contactor are as they say; before, both work.
  double fault_begin_s = -std::numeric_limits<double>::infinity();
};

/// Heater and mixing valve. The heater is a fully mixed tank when `tank_m3` is above 0, else an endless
/// source.
struct Supply {
  Series stored_c = 60.0;  // endless source: its temperature; tank: its set-point
  double tank_m3 = 0, heater_w = 0, tank_differential_k = 4;
  double delivered_c = std::numeric_limits<double>::infinity();  // mixing valve's setting; infinity: none
  int valve_run = none;  // water is tempered at this run's far end; none: at the supply itself
  Series cold_c = 10.0;
};

struct Scene {
  std::vector<SceneRun> runs;
  std::vector<Tap> taps;
  std::vector<SceneGroup> groups;
  std::vector<CableCurve> cables;
  Supply supply;
  double water_j_per_m3_k = 4.13e6;  // at 50 degC (IAPWS-IF97)
  bool axial_mixing = false;
};

/// Broken promises (an order that is none, a tap on a shared run, a capacity that is not positive) throw
/// std::logic_error.
void check(const Scene& scene);

}  // namespace firstdraw::draw
