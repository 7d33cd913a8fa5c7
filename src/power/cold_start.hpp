// How the current of a self-regulating cable falls after switching on: two bodies, the core that heats at
// once and the pipe that follows, fitted to the data sheet. docs/circuits-start.md.
//
//   C_core dT_core/dt = V^2/R(T_core) - (T_core - T_pipe)/Rc                     per metre of cable
//   C_pipe dT_pipe/dt = passes (T_core - T_pipe)/Rc - U (T_pipe - T_air)         per metre of pipe
//
// Breakers are sized by the sheet's own start currents (physics::HeatingCable), not by this model.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "physics/heating_cable.hpp"

namespace firstdraw::power {

struct ColdStartModel {
  physics::CableModel cable;  // R(T) and Rc
  double core_j_per_m_k = 0;  // of the core and what warms with it, per metre of cable

  double current_a_per_m(double core_c, double voltage_v) const;
};

/// Where model and sheet lie furthest apart: model over sheet less one.
struct ColdStartMisfit {
  double at_c = 0, sheet = 0, model = 0;  // W/m for output, A/m for currents
  double frac() const { return model / sheet - 1; }
};

struct ColdStartFit {
  ColdStartModel model;
  ColdStartMisfit output, peak, settled;
  /// False when the sheet's settled currents are its steady ones within `settled_alike_frac`: then they only
  /// bound the heat capacity from above, and the bound is taken, so that the current falls late rather than
  /// early.
  bool capacity_determined = true;

  double worst_frac() const;
  /// The sheet contradicts the model by more than its own tolerance of output.
  bool contradicted(const physics::CableSheet& sheet) const;
};

inline constexpr double settled_alike_frac = 0.01;

/// Least squares of the logarithms of the sheet's outputs, peak and settled currents at rated voltage; the
/// start currents taken as measured on a pipe kept at the start temperature (common practice, no source).
/// None when the sheet has fewer than two outputs above 0 at different temperatures, or no start current.
std::optional<ColdStartFit> fit_cold_start(const physics::CableSheet& sheet);

/// What the cable warms and what carries the heat off, per metre of pipe.
struct StartPipe {
  double heat_j_per_m_k = 0;  // water, wall and insulation together; infinite: kept at its temperature
  double loss_w_per_m_k = 0;  // through the insulation to the air
  double air_c = 0;
  int passes = 1;
};

struct StartConditions {
  double voltage_v = 0;
  double start_c = 0;  // of core and pipe
  /// Error of one step; as tight as this the cubic between steps is as good.
  double step_error_k = 1e-10;
};

/// The course of one start, from time 0 to `end_s`.
class ColdStart {
 public:
  /// Throws std::logic_error unless voltage, heat, end and passes are positive, temperatures finite, and the
  /// loss not negative.
  ColdStart(const ColdStartModel& model, const StartPipe& pipe, const StartConditions& start, double end_s);

  /// Held at the ends: before 0 the value at 0.
  double core_c(double time_s) const;
  double pipe_c(double time_s) const;
  double current_a_per_m(double time_s) const;

  double peak_a_per_m() const;
  double end_s() const { return moments_.back().time_s; }
  /// What the current tends to, with the pipe at its own balance: p = W(beta R V^2/R(T_air))/(beta R) with R
  /// = Rc + passes/U. NaN for a pipe that loses nothing and is not kept at its temperature.
  double final_a_per_m() const;
  /// From when on the current stays within `within_frac` of what the core would draw at rest on the pipe as
  /// warm as it then is (the inrush is over), and of the final current; NaN when not before the end.
  double inrush_over_s(double within_frac) const;
  double settled_s(double within_frac) const;
  std::span<const double> times_s() const { return times_s_; }  // of the steps taken

 private:
  struct State {
    double core_c = 0, pipe_c = 0;
  };
  struct Moment {
    double time_s = 0;
    State at, slope;  // slope in K/s
  };
  struct Trial {
    Moment to;
    double error_k = 0;
  };
  State slope(const State& at) const;
  Trial tried(const Moment& from, double step_s) const;
  void integrate(double end_s);
  State state(double time_s) const;
  double resting_a_per_m(double pipe_c) const;

  ColdStartModel model_;
  StartPipe pipe_;
  StartConditions start_;
  std::vector<Moment> moments_;
  std::vector<double> times_s_;
};

/// Part of a circuit on one pipe.
struct CircuitPart {
  StartPipe pipe;
  double cable_length_m = 0;
};

/// A circuit's start: the sum over its parts, each at the voltage of the feed (the fall along the cable only
/// lowers the current).
class CircuitStart {
 public:
  CircuitStart(const ColdStartModel& model, std::span<const CircuitPart> parts, const StartConditions& start,
               double end_s);
  double current_a(double time_s) const;
  double peak_a() const;
  double after_300_s_a() const;
  /// When the inrush is over in every part; NaN when not before the end.
  double inrush_over_s(double within_frac) const;
  double settled_s(double within_frac) const;
  double end_s() const { return end_s_; }
  /// Largest current in each piece of `every_s` from 0 to the end: no piece's current is above its entry.
  std::vector<double> largest_in_pieces_a(double every_s) const;
  /// Same for the pieces between `edges_s`, which rise from 0 to the end or less.
  std::vector<double> largest_between_a(std::span<const double> edges_s) const;

 private:
  std::vector<double> moments_s() const;
  std::vector<ColdStart> starts_;
  std::vector<double> lengths_m_;
  double end_s_ = 0;
};

}  // namespace firstdraw::power
