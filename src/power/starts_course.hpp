// The current of laid-out circuits after switching on at the coldest pipe, in pieces of time.
//
// Every pipe's course is computed once per metre of cable and kept as its largest current in each piece; a
// circuit adds pieces up, which is never below the largest current of the sum.
#pragma once

#include <map>
#include <span>
#include <tuple>
#include <utility>
#include <vector>

#include "power/circuits.hpp"
#include "power/cold_start.hpp"
#include "power/remembered.hpp"

namespace firstdraw::power {

/// Largest current of one circuit in each piece.
struct StartPieces {
  std::vector<double> largest_a;
  double inrush_over_s = 0;  // within 5 %; NaN when not before the end
};

/// Model of one cable's start; `usable` when the data sheet has what it needs and does not contradict it.
struct SheetModel {
  ColdStartModel model;
  double off_frac = 0;
  bool usable = false;
};

inline constexpr double fine_piece_s = 5, fine_until_s = 600;  // then minutes, later five of them
inline constexpr double sheet_settled_s = 300;                 // of a data sheet's settled current

class StartCourses {
 public:
  /// Keeps the reference.
  StartCourses(const std::vector<physics::HeatingCable>& cables, double start_c);

  /// Ends of the pieces, from 0 to 3 h.
  const std::vector<double>& edges_s() const { return edges_s_; }
  double start_c() const { return start_c_; }
  /// Of cables[cable].
  const SheetModel& model(int cable);
  /// Courses that were not asked for since the call before are forgotten.
  void next_round() { courses_.next_round(); }

  /// By the model, raised where it would fall below the data sheet's peak or settled current.
  StartPieces by_model(const Circuit& circuit, double voltage_v, std::span<const CircuitPart> parts);
  /// By the data sheet's two points: the peak for 300 s, the settled current from then on.
  StartPieces by_sheet(const Circuit& circuit) const;

 private:
  const StartPieces& per_metre(int cable, double voltage_v, const StartPipe& pipe);
  double settled_on_kept_pipe(int cable, double voltage_v);

  const std::vector<physics::HeatingCable>& cables_;
  double start_c_;
  std::vector<double> edges_s_;
  std::map<int, SheetModel> models_;
  std::map<std::pair<int, double>, double> kept_a_;
  Remembered<std::tuple<int, double, double, double, double, int>, StartPieces> courses_;
};

}  // namespace firstdraw::power
