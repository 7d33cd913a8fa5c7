#include "power/starts_verdict.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

namespace firstdraw::power {

namespace {

constexpr double beside_s = 1;  // a step of the current is drawn as a fall within a second

/// Straight lines that are nowhere below the pieces.
std::vector<rules::LoadPoint> corners_above(std::span<const double> edges_s,
                                            std::span<const double> largest_a) {
  std::vector<rules::LoadPoint> corners{{0, largest_a.front()}};
  for (std::size_t i = 1; i < largest_a.size(); ++i)
    corners.push_back({edges_s[i], std::max(largest_a[i - 1], largest_a[i])});
  corners.push_back({edges_s[largest_a.size()], largest_a.back()});
  return corners;
}

/// A fall within a piece is moved to its beginning: a step of the sheet's course is then a step.
std::vector<rules::LoadPoint> steps_of_sheet(const Circuit& circuit, double end_s) {
  return {{0, circuit.peak_a},
          {sheet_settled_s, circuit.peak_a},
          {sheet_settled_s + beside_s, circuit.settled_a},
          {end_s, circuit.settled_a}};
}

/// Straight lines that a falling current is nowhere below; the sheet's settled current until 300 s where
/// there is no model. Empty for a current that rises in between.
std::vector<rules::LoadPoint> corners_below(const Circuit& circuit, const StartVerdict& start,
                                            std::span<const double> edges_s,
                                            std::span<const double> largest_a) {
  if (!start.modelled) return {{0, circuit.settled_a}, {sheet_settled_s, circuit.settled_a}};
  if (!std::ranges::is_sorted(largest_a, std::greater())) return {};
  std::vector<rules::LoadPoint> corners;
  for (std::size_t i = 0; i + 1 < largest_a.size(); ++i) corners.push_back({edges_s[i], largest_a[i + 1]});
  return corners;
}

/// What a standard promises may only be denied where the current is surely as large.
rules::TripCheck judged(const job::Job& job, const Circuit& circuit,
                        std::span<const rules::LoadPoint> below) {
  const auto types = rules::breaker_types();
  std::vector<rules::TripPoint> points;
  if (std::ranges::find(types, job.wiring.breaker) != types.end())
    points = rules::trip_points(job.wiring.breaker, circuit.breaker_a);
  auto check = rules::check_trip(points, circuit.breaker_a, circuit.start.course);
  if (check.verdict != rules::TripVerdict::must_trip) return check;
  if (!below.empty()) {
    const auto sure = rules::check_trip(points, circuit.breaker_a, below);
    if (sure.verdict == rules::TripVerdict::must_trip) {
      check.trips_by_s = sure.trips_by_s;
      return check;
    }
  }
  std::erase_if(points, [](const auto& point) { return point.promise == rules::TripPromise::trip; });
  return rules::check_trip(points, circuit.breaker_a, circuit.start.course);
}

std::string lasts(double time_s) {
  return std::isinf(time_s) ? "without end" : fmt::format("for {:g} s", time_s);
}

std::string standard_says(const Circuit& circuit) {
  const rules::TripCheck& check = circuit.start.check;
  const std::string worst =
      fmt::format("the start reaches {:.2f} times {:g} A", check.worst_multiple, circuit.breaker_a);
  if (!check.point) return worst + " and no standard at hand promises anything for that";
  const std::string point =
      fmt::format("{} at {:g} times", check.point->citation.text(), check.point->multiple);
  if (check.verdict == rules::TripVerdict::must_trip)
    return fmt::format("{}: {} trips within {:g} s", worst, point, check.point->time_s);
  return fmt::format("{}; {} holds {}", worst, point, lasts(check.point->time_s));
}

/// The maker's own word on this breaker: the length of the data sheet.
std::string sheet_says(const job::Job& job, const Circuit& circuit) {
  const auto shown = [&](double value, units::Kind kind) { return units::show(value, kind, job.units); };
  if (!circuit.length_listed)
    return fmt::format("the data sheet lists no length for a start at {}",
                       shown(job.requirements.start_c, units::Kind::temperature));
  return fmt::format(
      "{} of cable lie within the {} that data sheet, settled current and standing leakage "
      "leave this breaker",
      shown(circuit.cable_length_m, units::Kind::length), shown(circuit.max_length_m, units::Kind::length));
}

std::string decides(const job::Job& job, const Circuit& circuit) {
  return fmt::format("{}; {}.", standard_says(circuit), sheet_says(job, circuit));
}

}  // namespace

void judge_start(const job::Job& job, const StartPieces& pieces, std::span<const double> edges_s,
                 const SheetModel& model, Circuit& circuit) {
  StartVerdict& start = circuit.start;
  start.modelled = model.usable;
  start.model_off_frac = model.off_frac;
  start.inrush_over_s = pieces.inrush_over_s;
  start.course =
      start.modelled ? corners_above(edges_s, pieces.largest_a) : steps_of_sheet(circuit, edges_s.back());
  if (!(circuit.breaker_a > 0)) return;
  start.check = judged(job, circuit, corners_below(circuit, start, edges_s, pieces.largest_a));
  start.decides = decides(job, circuit);
}

}  // namespace firstdraw::power
