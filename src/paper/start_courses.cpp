#include "paper/start_courses.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace firstdraw::paper {
namespace {

using piping::at;

bool same(const std::vector<rules::TripPoint>& a, const std::vector<rules::TripPoint>& b) {
  return std::ranges::equal(a, b, [](const rules::TripPoint& one, const rules::TripPoint& two) {
    return one.multiple == two.multiple && one.promise == two.promise && one.time_s == two.time_s &&
           one.after_multiple == two.after_multiple && one.after_s == two.after_s;
  });
}

double multiple_at(const power::Circuit& circuit, double time_s) {
  return current_at(circuit.start.course, time_s) / circuit.breaker_a;
}

// Compared at the corners of the upper one.
bool alike(const power::Circuit& upper, const power::Circuit& lower) {
  return std::ranges::all_of(upper.start.course, [&](const rules::LoadPoint& corner) {
    const double above = multiple_at(upper, corner.time_s), below = multiple_at(lower, corner.time_s);
    return below <= above * (1 + alike_frac) && below >= above * (1 - alike_frac);
  });
}

double worst_multiple(const power::Circuit& circuit) {
  double worst_a = 0;
  for (const rules::LoadPoint& corner : circuit.start.course) worst_a = std::max(worst_a, corner.current_a);
  return worst_a / circuit.breaker_a;
}

void join(const plan::Plan& plan, StartChart& chart, std::vector<int> circuits) {
  std::ranges::stable_sort(circuits, std::greater<>(),
                           [&](int each) { return worst_multiple(plan.circuits[at(each)]); });
  std::set<double> ratings;
  for (const int each : circuits) {
    const power::Circuit& circuit = plan.circuits[at(each)];
    ratings.insert(circuit.breaker_a);
    chart.end_s = std::max(chart.end_s, circuit.start.course.back().time_s);
    const auto found = std::ranges::find_if(chart.starts, [&](const AlikeStarts& starts) {
      return alike(plan.circuits[at(starts.drawn)], circuit);
    });
    if (found != chart.starts.end())
      found->circuits.push_back(each);
    else
      chart.starts.push_back({each, {each}, worst_multiple(circuit)});
  }
  for (AlikeStarts& starts : chart.starts) std::ranges::sort(starts.circuits);
  for (const double rating : ratings)
    chart.ratings += fmt::format("{}{:.0f}", chart.ratings.empty() ? "" : ", ", rating);
  chart.ratings += " A";
}

}  // namespace

double current_at(const std::vector<rules::LoadPoint>& course, double time_s) {
  if (course.empty()) return std::nan("");
  const auto after = std::ranges::upper_bound(course, time_s, {}, &rules::LoadPoint::time_s);
  if (after == course.begin()) return course.front().current_a;
  if (after == course.end()) return course.back().current_a;
  const rules::LoadPoint& from = *(after - 1);
  return std::lerp(from.current_a, after->current_a, (time_s - from.time_s) / (after->time_s - from.time_s));
}

double time_above_s(const std::vector<rules::LoadPoint>& course, double current_a) {
  double sum_s = 0;
  for (std::size_t each = 1; each < course.size(); ++each) {
    const double length_s = course[each].time_s - course[each - 1].time_s;
    const double low = std::min(course[each - 1].current_a, course[each].current_a),
                 high = std::max(course[each - 1].current_a, course[each].current_a);
    if (low >= current_a && high > current_a)
      sum_s += length_s;
    else if (high > current_a)
      sum_s += length_s * (high - current_a) / (high - low);
  }
  return sum_s;
}

std::vector<StartChart> start_charts(const plan::Plan& plan, const std::vector<int>& circuits,
                                     const std::string& breaker_type) {
  std::vector<StartChart> charts;
  std::vector<std::vector<int>> members;
  for (const int each : circuits) {
    const power::Circuit& circuit = plan.circuits[at(each)];
    if (circuit.start.course.empty() || !(circuit.breaker_a > 0)) continue;
    auto points = rules::trip_points(breaker_type, circuit.breaker_a);
    const auto found =
        std::ranges::find_if(charts, [&](const StartChart& chart) { return same(chart.points, points); });
    if (found == charts.end()) {
      charts.push_back({std::move(points), "", {}, 0});
      members.push_back({each});
    } else {
      members[static_cast<std::size_t>(found - charts.begin())].push_back(each);
    }
  }
  for (std::size_t each = 0; each < charts.size(); ++each) join(plan, charts[each], members[each]);
  return charts;
}

std::string joined_ids(const plan::Plan& plan, const std::vector<int>& circuits) {
  constexpr std::size_t most = 3;
  std::string text;
  for (std::size_t each = 0; each < std::min(circuits.size(), most); ++each)
    text += (text.empty() ? "" : ", ") + plan.circuits[at(circuits[each])].id;
  return circuits.size() > most ? fmt::format("{} + {}", text, circuits.size() - most) : text;
}

}  // namespace firstdraw::paper
