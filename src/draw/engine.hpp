// The simulation's state and its stages. Every run has its own clock:
//   - a run in which nothing moves is left alone until somebody needs it, then relaxed over the whole time at
//   once
//     (engine_standing.cpp);
//   - a run in which water moves is advanced block by block when the flow through it changes, and at every
//   tick
//     (engine_flow.cpp). What leaves its far end is kept as a stream of (until when, how hot) for the runs
//     below.
// So a draw costs in proportion to the path it touches. At a tick all moving runs meet, streams are emptied
// and the controllers decide (engine_control.cpp).
//
// Water is a row of equal blocks per run, one to a cell of wall, and a share `filled` of the next block that
// is entering while as much of the last one has left. When a block is full the row moves on by one: nothing
// smears.
#pragma once

#include <array>
#include <limits>
#include <memory>
#include <queue>
#include <span>
#include <vector>

#include "draw/control.hpp"
#include "draw/film_table.hpp"
#include "draw/simulate.hpp"
#include "draw/standing.hpp"

namespace firstdraw::draw {

/// What leaves a run: `temp_c` and `born_s` from the piece before until `end_s`.
struct Piece {
  double end_s, temp_c, born_s;
};

/// Per metre where it says so.
struct RunModel {
  std::size_t first = 0;  // cell
  std::size_t cells = 0;
  double cell_m = 0, block_m3 = 0;
  double water_j = 0, wall_j = 0, inner_j = 0, outer_j = 0;  // per m and K
  double g0 = 0, g1 = 0, g2 = 0, u_ref = 0, u0 = 0, u1 = 0, u2 = 0, standing_w_per_m_k = 0;
  double wetted_m = 0, area_m2 = 0;
  double share = 0;  // of the cable's curve
  int group = none, upstream = none, tap = none;
  bool above_valve = false;
  const CableCurve* cable = nullptr;
  const FilmTable* film = nullptr;

  /// Loss beyond the ladder's own: conductivity and outer film at this difference.
  double nonlinear_w_per_m(double above_air_k) const {
    return (u0 - u_ref + above_air_k * (u1 + above_air_k * u2)) * above_air_k;
  }
};

struct RunState {
  double time_s = 0;  // the state is of this time
  double flow_m3_per_s = 0, tap_flow_m3_per_s = 0;
  int open_taps = 0;
  double filled = 0, inlet_c = 0, inlet_born_s = 0;
  double film_flow_m3_per_s = 0, exchange_per_s = 0;
  double pending_exchange = 0, pending_source_s = 0;
  double last_exchange = -1, last_share = 0;  // 1 - exp(-x) of the last x
  double slow_since_s = 0, standing_since_s = 0, in_band_s = 0, below_s = 0;
  std::size_t head = 0, read = 0, log_at = 0;
  double air_c = 0;
};

/// Share of output switched on, over time: from `begin_s` until the next entry.
struct Switching {
  double begin_s, duty, integral_s;  // integral of duty up to begin_s
};

struct GroupState {
  Controller controller;
  std::vector<Switching> log;
  double reading_c = std::numeric_limits<double>::quiet_NaN(), duty = 0;
  bool averaged = false;  // pulses shorter than a step of standing water: their mean counts
  double averaged_step_s = 0;
  double on_s = 0;
  int cycles_before = 0;
};

struct TapState {
  int draw = none;
  double open_s = 0, flow_m3_per_s = 0;
  double last_c = 0, last_born_s = 0,
         left_before_c = 0;         // of the block that leaves, and of the one before it
  double left_s = 0, left_k_s = 0;  // time and temperature times time, not booked yet
  std::size_t next_mark = 0;
  bool hot = false, settled = false;
  DrawRecord record;
};

class Engine {
 public:
  Engine(const Scene& scene, std::span<const Draw> draws, const Options& options);
  Result run();

 private:
  // engine_build.cpp
  void build_runs();
  void build_paths();
  void start();

  // engine_standing.cpp
  void stand(int run, double until_s);
  struct Stretch {
    double end_s, duty;
  };
  double longest_step_s(int run) const;
  Stretch next_stretch(RunState& state, const GroupState& group, double end_s) const;
  void standing_step(int run, double step_s, double duty);
  void book_step(int run, double step_s, double cable_j, double loss_j, double stored_j);
  Propagator& propagator(int run, double duty);
  double linear_slope(int run, double duty) const;
  void follow_inlet(int run, double first_change_k, double last_change_k, double still_apart);

  // engine_flow.cpp
  void advance(int run, double until_s);
  struct Moving {
    int run;
    const RunModel& model;
    RunState& state;
  };
  bool has_front(const Moving& moving) const;
  void take_in(Moving& moving, double end_s, double filled);
  Piece inflow(Moving& moving, double end_s);
  Piece supplied(const RunState& state, double end_s);
  void let_out(Moving& moving, double end_s);
  double tempered_c(const RunState& state, double end_s, double hot_c);
  void shift(Moving& moving);
  void exchange(Moving& moving);
  void mix_along(int run, double block_s);
  void slow_step(int run, double now_s);
  void refresh_source(int run);
  void set_flow(int run, double now_s);
  void set_film(int run);
  double* water(int run) { return &water_[2 * model_[at(run)].first + state_[at(run)].head]; }
  double* born(int run) { return &born_[2 * model_[at(run)].first + state_[at(run)].head]; }

  // engine_taps.cpp
  void open(int draw);
  void close(int tap, double now_s);
  void change_flow(int tap, double now_s, double by_m3_per_s, int by_taps);
  void watch(int tap, double begin_s, double end_s);
  void book_heat(int tap);
  void pass_marks(int tap, double begin_s, double end_s);
  double leaving_c(int tap, double filled) const;
  double beyond_end_c(int run);

  // engine_control.cpp
  void tick(double now_s, double next_s);
  void read_sensor(int group, double now_s);
  void decide(int group, double now_s, double next_s);
  void lose_power(double now_s);
  void set_valve(double now_s);
  void heat_tank(double from_s, double to_s);
  double hot_share_at_valve() const;

  // engine_report.cpp
  void begin_report(double now_s);
  void sync(double now_s);
  void record(double now_s);
  void record_building(double now_s);
  void sample_ages(double now_s);
  void add_time_at(int run, double from_c, double to_c, double step_s);
  void add_cable_energy(int group, double begin_s, double end_s, double energy_j);
  void note_band(int run, double coldest_c, double step_s);
  double stored_j() const;
  Result finish(double now_s);

  double live(int run, std::size_t cell) const;

  const Scene& scene_;
  std::span<const Draw> draws_;
  const Options& options_;
  FilmTables films_;
  std::vector<RunModel> model_;
  std::vector<RunState> state_;
  std::vector<std::array<std::unique_ptr<Propagator>, 9>> propagators_;  // by eighths of output, once needed
  std::vector<std::vector<Piece>> streams_;
  // Cells; water and born have twice the room, so that a row can move on without copying.
  std::vector<double> wall_, inner_, outer_, source_, lost_, water_, born_;
  std::vector<int> path_, path_first_;  // per tap, supply first
  std::vector<int> moving_;             // runs with flow, rising
  std::vector<int> flowed_;             // runs with a stream since the last tick
  std::vector<int> in_changing_air_;
  std::vector<int> to_lose_power_;
  std::vector<GroupState> groups_;
  std::vector<TapState> taps_;
  struct Closing {
    double at_s;
    int tap, draw;
    bool operator>(const Closing& other) const {
      return at_s != other.at_s ? at_s > other.at_s : tap > other.tap;
    }
  };
  std::priority_queue<Closing, std::vector<Closing>, std::greater<>> closings_;
  double valve_share_ = 1, tank_c_ = 0, tank_drawn_j_ = 0;
  bool heater_on_ = false;
  double now_s_ = 0, cold_c_ = 0;
  bool reporting_ = false;
  double stored_at_begin_j_ = 0, age_samples_ = 0;
  Result result_;
};

}  // namespace firstdraw::draw
