// What a log says about the building: how well a pipe is insulated, how warm the air is, how strong the cable
// still is, each with an interval; and when it changed. docs/logs.md.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "units/quantity.hpp"
#include "watch/logged.hpp"
#include "week/zone.hpp"

namespace firstdraw::watch {

struct Estimated {
  double low = 0, usual = 0, high = 0;  // 5 %, 50 %, 95 %
  bool known = false;                   // false: the log does not tell it apart; then the prior's figures
};

/// Of one control group with a logged sensor (and, where logged, current or duty, set-point, air).
struct GroupEstimate {
  std::string group, run;      // where the sensor is
  Estimated conductance_frac;  // effective insulation conductance over the design's
  Estimated air_c;
  Estimated cable_frac;   // output over the data sheet's
  double residual_k = 0;  // rms of the sensor against the fitted model
  std::int64_t used = 0;  // samples
  std::vector<std::string> said, warnings;
};
/// Fits a model of the sensor's run (water with wall; insulation as two masses) with the measured on time, or
/// that of the sensor's own saw-tooth, to the stretches in which no water was drawn; robust loss (Ceres),
/// intervals from the curvature and a moving-block bootstrap, whichever is wider. Groups without a logged
/// sensor are left out; of a log that says nothing the figures are NaN and a warning says why.
std::vector<GroupEstimate> estimate(const job::Job& job, const plan::Plan& plan, const Logged& logged);

/// A moment at which the level, the on time or the cooling of a series changed for good.
struct Change {
  std::string series;
  std::int64_t at_ms = 0, earliest_ms = 0, latest_ms = 0;
  double before = 0, after = 0;
  double false_alarm_prob = 0;  // of a change so large in a series like this without one
  std::string said;
};
/// Daily figures, penalised exact segmentation (PELT), penalty set so that a series without a change has one
/// in at most `false_alarm_frac` of the cases, its autocorrelation counted. Days are those of `zone`; of UTC
/// without one. `said` is in the units of `system`, the figures are SI.
std::vector<Change> changes(const Logged& logged, units::System system, double false_alarm_frac = 0.01,
                            const week::Zone* zone = nullptr);

}  // namespace firstdraw::watch
