#include "power/cold_start.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace firstdraw::power {

namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

// Explicit Runge-Kutta of order 5 with an estimate of order 4 (J. R. Dormand, P. J. Prince, J. Comput. Appl.
// Math. 6, 1980).
constexpr int stages = 7;
constexpr double weight[stages][stages - 1] = {
    {},
    {1. / 5},
    {3. / 40, 9. / 40},
    {44. / 45, -56. / 15, 32. / 9},
    {19372. / 6561, -25360. / 2187, 64448. / 6561, -212. / 729},
    {9017. / 3168, -355. / 33, 46732. / 5247, 49. / 176, -5103. / 18656},
    {35. / 384, 0, 500. / 1113, 125. / 192, -2187. / 6784, 11. / 84}};
constexpr double error_weight[stages] = {71. / 57600,      0,         -71. / 16695, 71. / 1920,
                                         -17253. / 339200, 22. / 525, -1. / 40};

void require(bool holds, const char* what) {
  if (!holds) throw std::logic_error(std::string("cold start: ") + what);
}

double hermite(double frac, double step_s, double y0, double slope0, double y1, double slope1) {
  const double rest = 1 - frac;
  return y0 + frac * frac * (3 - 2 * frac) * (y1 - y0) +
         frac * rest * step_s * (rest * slope0 - frac * slope1);
}

/// First of the times from which on `off` stays within `limit`; NaN when it does not at the last.
template <class Off>
double within_from_s(std::span<const double> times_s, double limit, const Off& off) {
  std::size_t first = times_s.size();
  while (first > 0 && off(times_s[first - 1]) <= limit) --first;
  if (first == times_s.size()) return unknown;
  if (first == 0) return times_s.front();
  double low_s = times_s[first - 1], high_s = times_s[first];
  for (int i = 0; i < 50; ++i) {
    const double middle_s = 0.5 * (low_s + high_s);
    (off(middle_s) <= limit ? high_s : low_s) = middle_s;
  }
  return high_s;
}

/// Largest, or NaN when one is not known.
double latest_s(double a, double b) { return std::isnan(a) || std::isnan(b) ? unknown : std::max(a, b); }

}  // namespace

double ColdStartModel::current_a_per_m(double core_c, double voltage_v) const {
  return voltage_v / (cable.core_ohm_m * std::exp(cable.beta_per_k * (core_c - cable.reference_c)));
}

ColdStart::ColdStart(const ColdStartModel& model, const StartPipe& pipe, const StartConditions& start,
                     double end_s)
    : model_(model), pipe_(pipe), start_(start) {
  require(model.core_j_per_m_k > 0 && model.cable.core_to_pipe_m_k_per_w > 0 && model.cable.core_ohm_m > 0,
          "heat, thermal resistance and resistance of the core must be positive");
  require(pipe.heat_j_per_m_k > 0 && pipe.loss_w_per_m_k >= 0 && pipe.passes > 0,
          "the pipe needs heat and passes, and a loss that is not negative");
  require(start.voltage_v > 0 && std::isfinite(start.voltage_v), "the voltage must be positive");
  require(std::isfinite(start.start_c) && std::isfinite(pipe.air_c), "temperatures must be finite");
  require(end_s > 0 && std::isfinite(end_s), "the end must be after the start");
  integrate(end_s);
  for (const Moment& moment : moments_) times_s_.push_back(moment.time_s);
}

ColdStart::State ColdStart::slope(const State& at) const {
  const double heat_w = start_.voltage_v * model_.current_a_per_m(at.core_c, start_.voltage_v);
  const double to_pipe_w = (at.core_c - at.pipe_c) / model_.cable.core_to_pipe_m_k_per_w;
  const double to_air_w = pipe_.loss_w_per_m_k * (at.pipe_c - pipe_.air_c);
  return {(heat_w - to_pipe_w) / model_.core_j_per_m_k,
          (pipe_.passes * to_pipe_w - to_air_w) / pipe_.heat_j_per_m_k};
}

ColdStart::Trial ColdStart::tried(const Moment& from, double step_s) const {
  State slopes[stages] = {from.slope}, to = from.at, error{};
  for (int s = 1; s < stages; ++s) {
    to = from.at;
    for (int k = 0; k < s; ++k) {
      to.core_c += step_s * weight[s][k] * slopes[k].core_c;
      to.pipe_c += step_s * weight[s][k] * slopes[k].pipe_c;
    }
    slopes[s] = slope(to);
  }
  for (int s = 0; s < stages; ++s) {
    error.core_c += step_s * error_weight[s] * slopes[s].core_c;
    error.pipe_c += step_s * error_weight[s] * slopes[s].pipe_c;
  }
  return {{from.time_s + step_s, to, slopes[stages - 1]},
          std::max(std::abs(error.core_c), std::abs(error.pipe_c))};
}

void ColdStart::integrate(double end_s) {
  const State begin{start_.start_c, start_.start_c};
  moments_.push_back({0, begin, slope(begin)});
  double step_s = 0.01 * model_.core_j_per_m_k * model_.cable.core_to_pipe_m_k_per_w;
  while (moments_.back().time_s < end_s) {
    const double left_s = end_s - moments_.back().time_s;
    Trial trial = tried(moments_.back(), std::min(step_s, left_s));
    if (step_s >= left_s) trial.to.time_s = end_s;
    require(trial.to.time_s > moments_.back().time_s, "a step became too short to count");
    const double share = trial.error_k / start_.step_error_k;
    if (share <= 1) moments_.push_back(trial.to);
    const double grow = 0.9 * std::pow(1 / std::max(share, 1e-10), 0.2);
    step_s = std::min(step_s, left_s) * (std::isfinite(grow) ? std::clamp(grow, 0.2, 5.0) : 0.2);
  }
}

ColdStart::State ColdStart::state(double time_s) const {
  const auto after = std::ranges::upper_bound(moments_, time_s, {}, &Moment::time_s);
  if (after == moments_.begin()) return moments_.front().at;
  if (after == moments_.end()) return moments_.back().at;
  const Moment &a = *(after - 1), &b = *after;
  const double step_s = b.time_s - a.time_s, frac = (time_s - a.time_s) / step_s;
  return {hermite(frac, step_s, a.at.core_c, a.slope.core_c, b.at.core_c, b.slope.core_c),
          hermite(frac, step_s, a.at.pipe_c, a.slope.pipe_c, b.at.pipe_c, b.slope.pipe_c)};
}

double ColdStart::core_c(double time_s) const { return state(time_s).core_c; }
double ColdStart::pipe_c(double time_s) const { return state(time_s).pipe_c; }

double ColdStart::current_a_per_m(double time_s) const {
  return model_.current_a_per_m(core_c(time_s), start_.voltage_v);
}

double ColdStart::peak_a_per_m() const {
  const auto coldest =
      std::ranges::min_element(moments_, {}, [](const Moment& moment) { return moment.at.core_c; });
  return model_.current_a_per_m(coldest->at.core_c, start_.voltage_v);
}

double ColdStart::resting_a_per_m(double pipe_c) const {
  return model_.cable.power_w_per_m(pipe_c, start_.voltage_v) / start_.voltage_v;
}

double ColdStart::final_a_per_m() const {
  if (std::isinf(pipe_.heat_j_per_m_k)) return resting_a_per_m(start_.start_c);
  if (pipe_.loss_w_per_m_k <= 0) return unknown;
  physics::CableModel to_air = model_.cable;
  to_air.core_to_pipe_m_k_per_w += pipe_.passes / pipe_.loss_w_per_m_k;
  return to_air.power_w_per_m(pipe_.air_c, start_.voltage_v) / start_.voltage_v;
}

double ColdStart::inrush_over_s(double within_frac) const {
  return within_from_s(times_s_, within_frac, [this](double time_s) {
    const State at = state(time_s);
    return std::abs(model_.current_a_per_m(at.core_c, start_.voltage_v) / resting_a_per_m(at.pipe_c) - 1);
  });
}

double ColdStart::settled_s(double within_frac) const {
  const double final_a = final_a_per_m();
  return within_from_s(times_s_, within_frac,
                       [&](double time_s) { return std::abs(current_a_per_m(time_s) / final_a - 1); });
}

CircuitStart::CircuitStart(const ColdStartModel& model, std::span<const CircuitPart> parts,
                           const StartConditions& start, double end_s)
    : end_s_(end_s) {
  require(!parts.empty(), "a circuit needs a part");
  for (const CircuitPart& part : parts) {
    require(part.cable_length_m >= 0, "a length must not be negative");
    starts_.emplace_back(model, part.pipe, start, end_s);
    lengths_m_.push_back(part.cable_length_m);
  }
}

double CircuitStart::current_a(double time_s) const {
  double sum_a = 0;
  for (std::size_t i = 0; i < starts_.size(); ++i)
    sum_a += lengths_m_[i] * starts_[i].current_a_per_m(time_s);
  return sum_a;
}

std::vector<double> CircuitStart::moments_s() const {
  std::vector<double> all_s;
  for (const ColdStart& start : starts_)
    all_s.insert(all_s.end(), start.times_s().begin(), start.times_s().end());
  std::ranges::sort(all_s);
  all_s.erase(std::unique(all_s.begin(), all_s.end()), all_s.end());
  return all_s;
}

double CircuitStart::peak_a() const {
  double peak_a = 0;
  for (const double time_s : moments_s()) peak_a = std::max(peak_a, current_a(time_s));
  return peak_a;
}

double CircuitStart::after_300_s_a() const { return current_a(300); }

double CircuitStart::inrush_over_s(double within_frac) const {
  double last_s = 0;
  for (const ColdStart& start : starts_) last_s = latest_s(last_s, start.inrush_over_s(within_frac));
  return last_s;
}

double CircuitStart::settled_s(double within_frac) const {
  double last_s = 0;
  for (const ColdStart& start : starts_) last_s = latest_s(last_s, start.settled_s(within_frac));
  return last_s;
}

std::vector<double> CircuitStart::largest_in_pieces_a(double every_s) const {
  require(every_s > 0, "pieces need a length");
  const auto count = static_cast<std::size_t>(std::ceil(end_s_ / every_s * (1 - 1e-12)));
  std::vector<double> edges_s;
  for (std::size_t i = 0; i <= count; ++i)
    edges_s.push_back(std::min(end_s_, static_cast<double>(i) * every_s));
  return largest_between_a(edges_s);
}

std::vector<double> CircuitStart::largest_between_a(std::span<const double> edges_s) const {
  require(edges_s.size() > 1 && edges_s.front() >= 0 && edges_s.back() <= end_s_, "edges lie in the course");
  std::vector<double> at_edge_a, largest_a;
  for (const double edge_s : edges_s) at_edge_a.push_back(current_a(edge_s));
  for (std::size_t i = 0; i + 1 < edges_s.size(); ++i)
    largest_a.push_back(std::max(at_edge_a[i], at_edge_a[i + 1]));
  std::size_t piece = 0;
  for (const double time_s : moments_s()) {
    while (piece + 1 < largest_a.size() && time_s >= edges_s[piece + 1]) ++piece;
    if (time_s <= edges_s.back()) largest_a[piece] = std::max(largest_a[piece], current_a(time_s));
  }
  return largest_a;
}

}  // namespace firstdraw::power
