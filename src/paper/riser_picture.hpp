// The riser drawing made visible: runs in their circuit's line, labels, sensors, power connections, outlets.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "paper/drawing.hpp"
#include "paper/page.hpp"
#include "plan/plan.hpp"

namespace firstdraw::paper {

/// Sizes of the drawing's texts at scale 1; a sheet may shrink them to `least_scale`, where they are still 6
/// pt.
inline constexpr double riser_label_pt = 6.8;
inline constexpr double least_scale = 0.89;

/// A figure for every run, shown as the run's shade and written beside it instead of its size and circuit.
struct RunShades {
  std::vector<double> values;  // like job.runs; NaN: not known
  double highest = 1;          // the darkest shade
  double step = 0;             // between the numbers of the scale; 0: a nice one
  std::string what, unit;      // "Hours a day in the growth band", "h"
};

class RiserPicture {
 public:
  RiserPicture(const job::Job& job, const plan::Plan& plan, const RiserDrawing& drawing);
  /// The heat map: shades instead of circuits, without power connections and sensors.
  RiserPicture(const job::Job& job, const plan::Plan& plan, const RiserDrawing& drawing, RunShades shades);

  /// Lines, symbols and labels that lie in `window` (the drawing's millimetres).
  void draw(Ink& ink, const Frame& window) const;
  /// Lines alone, for a key plan at `scale`.
  void draw_lines(Ink& ink, double scale) const;
  /// Names of the levels in `window`, right-aligned at `right_mm`, in a column `width_mm` wide.
  void draw_level_names(Ink& ink, const Frame& window, double right_mm, double width_mm) const;
  /// What the symbols and lines mean, for the circuits present in `window`; returns the height used.
  double draw_legend(Ink& ink, const Frame& window, Point at, double width_mm) const;
  /// Runs and outlets in `window` as spans of x: a vertical cut inside a span spoils a label.
  std::vector<std::pair<double, double>> spoilt_spans_mm(const Frame& window) const;
  /// Left and right end of the piping between two heights; left above right when there is none.
  std::pair<double, double> extent_mm(double top_mm, double bottom_mm) const;

 private:
  Pen pen_of(int run) const;
  bool shaded(int run) const;
  struct RunLine {
    Point from, to;
    int run = -1;
  };
  void lines_of(Ink& ink, const std::vector<RunLine>& lines) const;
  std::string beside(int run) const;
  double draw_shade_legend(Ink& ink, Point at, double width_mm) const;
  std::vector<int> circuits_in(const Frame& window) const;
  void bands(Ink& ink, const Frame& window) const;
  void run_lines(Ink& ink, const Frame& window) const;
  bool run_in(const Frame& window, int run) const;
  void run_label(Ink& ink, const Frame& window, const DrawnRun& drawn) const;
  void riser_label(Ink& ink, const Frame& window, const DrawnRun& drawn) const;
  void sensor(Ink& ink, const Frame& window, const DrawnRun& drawn) const;
  void nodes(Ink& ink, const Frame& window) const;
  void power_connections(Ink& ink, const Frame& window) const;
  void outlets(Ink& ink, const Frame& window) const;

  const job::Job& job_;
  const plan::Plan& plan_;
  const RiserDrawing& drawing_;
  std::map<int, std::string> sensors_;  // run → group ids
  std::map<int, std::string> feeds_;    // node → circuit ids
  std::set<int> reached_level_;         // nodes where a run arrives from the side and none rises
  std::optional<RunShades> shades_;
};

}  // namespace firstdraw::paper
