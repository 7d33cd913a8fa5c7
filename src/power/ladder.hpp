// Voltage and current along a heating cable that branches, without the bound of electrical.hpp.
//
//   dV/dx = -r I,  dI/dx = -p(V)/V,  V given at the feed, I = 0 at every end, currents add up at tees.
//
// The fall u = V_feed - V is a polynomial of degree 4 on each element, weak form, Gauss-Lobatto points: order
// 8 at the ends of elements, which lie where a law bends. Newton's method; each step eliminates the tree from
// its ends in linear time. docs/circuits.md, tests/reference/ladder_test.cpp.
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "physics/heating_cable.hpp"
#include "piping/network.hpp"

namespace firstdraw::power {

/// Output of a metre of cable, W/m, and how it changes with voltage.
struct Output {
  double w_per_m = 0;
  double w_per_m_v = 0;
};
/// Output of one stretch by local voltage > 0. Must be continuous; the order is kept where it is smooth
/// between the stretch's `bends_v`.
using OutputLaw = std::function<Output(double volts)>;

/// p0 (V/V0)^n: n = 2 a constant conductance, 1 a current that does not depend on voltage, 0 constant power.
OutputLaw power_law(double w_per_m, double at_volts, double exponent);
/// Wires that heat nothing: the wiring before a cable.
OutputLaw takes_nothing();
/// The data sheet at a pipe temperature; outside its voltages the factor is held, as HeatingCable does.
/// `cable` must outlive the law; `output_scale` multiplies the sheet's output.
OutputLaw sheet_law(const physics::HeatingCable& cable, double pipe_c, double output_scale = 1);
/// Where that law bends: the voltages of the table.
std::vector<double> sheet_bends_v(const physics::HeatingCable& cable);
/// The fitted core on a pipe of given temperature: dp/dV = n p/V with n = voltage_exponent.
OutputLaw model_law(const physics::CableModel& model, double pipe_c);

/// Where the pipe itself settles: cable that puts out (V/V0)^n w_per_m (zero_c - T)/(zero_c - reference_c) on
/// a pipe that loses U (T - T_air), both per metre of cable. reference/electrical: T = (a Tm + U Ta)/(a + U).
struct FloatingPipe {
  double w_per_m = 0, at_volts = 0, exponent = 0;
  double reference_c = 0;  // pipe temperature of w_per_m
  double zero_c = 0;       // where the output ends
  double loss_w_per_m_k = 0, air_c = 0;

  double pipe_c(double volts) const;
  Output output(double volts) const;
};
OutputLaw floating_law(const FloatingPipe& pipe);

/// Any falling output p(T, V) on a pipe that settles where p = U (T - T_air): the temperature, °C, by
/// bisection to the last digit. Derivatives of the law it makes by central differences, which only Newton's
/// path depends on.
using OutputByPipe = std::function<double(double pipe_c, double volts)>;
double settled_pipe_c(const OutputByPipe& w_per_m, double loss_w_per_m_k, double air_c, double volts);
OutputLaw settled_law(OutputByPipe w_per_m, double loss_w_per_m_k, double air_c);

/// A stretch of cable, in metres of cable (several passes: one after the other). Parents come before their
/// children.
struct LadderStretch {
  int parent = piping::none;  // index of the stretch this one continues; none: starts at the feed
  double length_m = 0;
  double loop_ohm_per_m = 0;  // both bus wires, at their temperature: copper_resistance_at
  OutputLaw law;
  std::vector<double> bends_v{};  // where the law is not smooth: elements end there, whatever their length
};

struct LadderOptions {
  double element_kl = 0.12;  // longest element, times k = sqrt(r p/V^2) at the feed
  double step_frac = 1e-12;  // Newton ends when no voltage moves by more than this share of the feed's
  int max_iterations = 60;
};

struct LadderFlow {
  double far_v = 0;       // at the far end
  double entering_a = 0;  // at the near end
  double heater_w = 0, bus_w = 0;
};

struct LadderResult {
  std::vector<LadderFlow> stretches;  // like the input
  double feed_v = 0, total_a = 0, heater_w = 0, bus_w = 0;
  double lowest_v = 0;
  double balance_frac = 0;  // |V I - heater - bus| / V I
  double last_step_v = 0;
  int iterations = 0;
  bool converged = false;  // when not, nothing else here may be used
};

/// False when none was found, or the cable ends dead: the sheet's output is held below its lowest voltage,
/// and a cable that is far too long can then seem to settle there.
bool has_steady_state(const LadderResult& found);

/// Throws std::logic_error unless the feed is above 0 V, every stretch has a length, a resistance and a law,
/// and parents come first. Time and memory are linear in the stretches.
LadderResult solve_ladder(std::span<const LadderStretch> tree, double feed_v,
                          const LadderOptions& options = {});

}  // namespace firstdraw::power
