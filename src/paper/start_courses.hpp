// Cold starts of a panel made ready to draw: current over rating, circuits that start alike joined.
#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "rules/breaker_trip.hpp"

namespace firstdraw::paper {

/// At `time_s`, on straight lines between the corners; held at the ends. NaN without corners.
double current_at(const std::vector<rules::LoadPoint>& course, double time_s);
/// How long the course lies above `current_a`, s.
double time_above_s(const std::vector<rules::LoadPoint>& course, double current_a);

/// Circuits whose course over the rating lies everywhere within `alike_frac` of the one with the highest
/// peak, which is drawn for all.
struct AlikeStarts {
  int drawn = 0;              // index into plan.circuits
  std::vector<int> circuits;  // with that one, in the plan's order
  double worst_multiple = 0;
};
inline constexpr double alike_frac = 0.05;

/// Circuits for whose breakers the standard has the same points, worst first. Circuits without a course are
/// left out.
struct StartChart {
  std::vector<rules::TripPoint> points;
  std::string ratings;  // "15, 20 A"
  std::vector<AlikeStarts> starts;
  double end_s = 0;
};
std::vector<StartChart> start_charts(const plan::Plan& plan, const std::vector<int>& circuits,
                                     const std::string& breaker_type);

/// "C01, C02, C07"; of many the first few and how many more.
std::string joined_ids(const plan::Plan& plan, const std::vector<int>& circuits);

}  // namespace firstdraw::paper
