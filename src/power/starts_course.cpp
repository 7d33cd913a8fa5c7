#include "power/starts_course.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace firstdraw::power {

namespace {

constexpr double inrush_within_frac = 0.05;
constexpr double step_error_k = 1e-6;      // in the current: below 1e-6 of it
constexpr double course_end_s = 3 * 3600;  // continuous is 3 h (NEC article 100)
constexpr double minute_s = 60, minutes_until_s = 3600, coarse_s = 300;

std::vector<double> piece_edges_s() {
  std::vector<double> edges_s{0};
  const auto up_to = [&](double until_s, double every_s) {
    while (edges_s.back() < until_s) edges_s.push_back(edges_s.back() + every_s);
  };
  up_to(fine_until_s, fine_piece_s);
  up_to(minutes_until_s, minute_s);
  up_to(course_end_s, coarse_s);
  return edges_s;
}

double later_s(double a_s, double b_s) {
  return std::isnan(a_s) || std::isnan(b_s) ? NAN : std::max(a_s, b_s);
}

}  // namespace

StartCourses::StartCourses(const std::vector<physics::HeatingCable>& cables, double start_c)
    : cables_(cables), start_c_(start_c), edges_s_(piece_edges_s()) {}

const SheetModel& StartCourses::model(int cable) {
  const auto [place, fresh] = models_.try_emplace(cable);
  if (!fresh) return place->second;
  const physics::CableSheet& sheet = cables_[piping::at(cable)].sheet();
  const auto fit = fit_cold_start(sheet);
  if (fit) place->second = {fit->model, std::abs(fit->worst_frac()), !fit->contradicted(sheet)};
  return place->second;
}

StartPieces StartCourses::by_model(const Circuit& circuit, double voltage_v,
                                   std::span<const CircuitPart> parts) {
  StartPieces sum{std::vector<double>(edges_s_.size() - 1, 0.0), 0};
  for (const CircuitPart& part : parts) {
    const StartPieces& metre = per_metre(circuit.cable, voltage_v, part.pipe);
    for (std::size_t i = 0; i < sum.largest_a.size(); ++i)
      sum.largest_a[i] += part.cable_length_m * metre.largest_a[i];
    sum.inrush_over_s = later_s(sum.inrush_over_s, metre.inrush_over_s);
  }
  const double kept_a = circuit.cable_length_m * settled_on_kept_pipe(circuit.cable, voltage_v);
  const double raise = std::max({1.0, circuit.peak_a / sum.largest_a.front(), circuit.settled_a / kept_a});
  for (double& largest_a : sum.largest_a) largest_a *= raise;
  return sum;
}

StartPieces StartCourses::by_sheet(const Circuit& circuit) const {
  StartPieces pieces{{}, NAN};
  for (std::size_t i = 0; i + 1 < edges_s_.size(); ++i)
    pieces.largest_a.push_back(edges_s_[i] < sheet_settled_s ? circuit.peak_a : circuit.settled_a);
  return pieces;
}

const StartPieces& StartCourses::per_metre(int cable, double voltage_v, const StartPipe& pipe) {
  const auto key =
      std::tuple(cable, voltage_v, pipe.heat_j_per_m_k, pipe.loss_w_per_m_k, pipe.air_c, pipe.passes);
  return courses_.get(key, [&] {
    const CircuitPart metre{pipe, 1};
    const CircuitStart start(model(cable).model, {&metre, 1}, {voltage_v, start_c_, step_error_k},
                             course_end_s);
    return StartPieces{start.largest_between_a(edges_s_), start.inrush_over_s(inrush_within_frac)};
  });
}

/// As the sheet's start currents are taken: 300 s after switching on, pipe kept at the start temperature.
double StartCourses::settled_on_kept_pipe(int cable, double voltage_v) {
  const auto [place, fresh] = kept_a_.try_emplace({cable, voltage_v}, 0);
  if (fresh) {
    const StartPipe kept{std::numeric_limits<double>::infinity(), 0, start_c_, 1};
    place->second = ColdStart(model(cable).model, kept, {voltage_v, start_c_}, sheet_settled_s)
                        .current_a_per_m(sheet_settled_s);
  }
  return place->second;
}

}  // namespace firstdraw::power
