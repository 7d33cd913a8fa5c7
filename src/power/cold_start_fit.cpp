// The start model fitted to a data sheet. Parameters are the logarithms of r0, beta, g = beta Rc and the
// core's time C Rc: all positive, all of order one to least squares.
#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "power/cold_start.hpp"
#include "power/least_squares.hpp"

namespace firstdraw::power {

namespace {

constexpr double sheet_settles_s = 300;
constexpr double least_time_s = 0.1, most_time_s = 36000;
constexpr double reach = 4;  // e^4 either way: farther no sheet lies, and steps would grow without end

ColdStartModel model_of(const std::vector<double>& logs, double time_s) {
  ColdStartModel model;
  model.cable.core_ohm_m = std::exp(logs[0]);
  model.cable.beta_per_k = std::exp(logs[1]);
  model.cable.core_to_pipe_m_k_per_w = std::exp(logs[2] - logs[1]);
  model.core_j_per_m_k = time_s / model.cable.core_to_pipe_m_k_per_w;
  return model;
}

/// The sheet at rated voltage, and what a model makes of it.
class SheetFit {
 public:
  explicit SheetFit(const physics::CableSheet& sheet) : sheet_(sheet) {
    for (const auto& point : sheet.output)
      if (point.power_w_per_m > 0) output_.push_back(point);
  }

  bool enough() const {
    return output_.size() > 1 && output_.front().pipe_c < output_.back().pipe_c && !sheet_.cold_start.empty();
  }

  std::vector<double> start() const {
    const physics::CableModel first = physics::fit_cable(sheet_).model;
    const double g = first.beta_per_k * first.core_to_pipe_m_k_per_w;
    return {std::log(first.core_ohm_m), std::log(std::max(1e-4, first.beta_per_k)),
            std::log(std::max(1e-3, g))};
  }

  double resting_a_per_m(const ColdStartModel& model, double pipe_c) const {
    return model.cable.power_w_per_m(pipe_c, sheet_.rated_voltage_v) / sheet_.rated_voltage_v;
  }
  /// On a pipe that stays at `start_c` the core comes to rest at least as fast as it does at the end: where
  /// that is quick there is nothing to integrate, and an explicit method would take steps without end.
  double settled_a_per_m(const ColdStartModel& model, double start_c, double step_error_k = 1e-10) const {
    const double resting_a = resting_a_per_m(model, start_c), rc = model.cable.core_to_pipe_m_k_per_w;
    const double slowest_s =
        model.core_j_per_m_k * rc / (1 + model.cable.beta_per_k * rc * resting_a * sheet_.rated_voltage_v);
    constexpr double times_settled = 40;  // e^-40 is left
    if (sheet_settles_s > times_settled * slowest_s) return resting_a;
    const StartPipe kept{std::numeric_limits<double>::infinity(), 0, start_c, 1};
    return ColdStart(model, kept, {sheet_.rated_voltage_v, start_c, step_error_k}, sheet_settles_s)
        .current_a_per_m(sheet_settles_s);
  }
  double peak_a_per_m(const ColdStartModel& model, double start_c) const {
    return model.current_a_per_m(start_c, sheet_.rated_voltage_v);
  }

  using Settled = std::function<double(const ColdStartModel&, double start_c)>;
  /// ln(model/sheet) of outputs and peaks, and of settled currents by `settled` when given.
  std::vector<double> residuals(const ColdStartModel& model, const Settled& settled) const {
    std::vector<double> all;
    for (const auto& point : output_)
      all.push_back(
          std::log(model.cable.power_w_per_m(point.pipe_c, sheet_.rated_voltage_v) / point.power_w_per_m));
    for (const auto& point : sheet_.cold_start) {
      all.push_back(std::log(peak_a_per_m(model, point.start_c) / point.peak_a_per_m));
      if (settled) all.push_back(std::log(settled(model, point.start_c) / point.settled_a_per_m));
    }
    return all;
  }

  std::vector<double> without_time(std::vector<double> from, const Settled& settled) const {
    return least_squares(
               std::move(from), reach,
               [&](const std::vector<double>& logs) { return residuals(model_of(logs, 1), settled); })
        .parameters;
  }

  ColdStartModel with_time(std::vector<double> from) const {
    constexpr double usual_s = 60;
    from.push_back(std::log(usual_s));
    const auto model = [](const std::vector<double>& logs) {
      return model_of(logs, std::clamp(std::exp(logs[3]), least_time_s, most_time_s));
    };
    const Settled settled = [this](const ColdStartModel& m, double start_c) {
      return settled_a_per_m(m, start_c);
    };
    return model(least_squares(from, reach, [&](const std::vector<double>& logs) {
                   return residuals(model(logs), settled);
                 }).parameters);
  }

  /// Mean logarithm of the sheet's settled currents over the model's resting ones.
  double settled_excess(const ColdStartModel& model) const {
    double sum = 0;
    for (const auto& point : sheet_.cold_start)
      sum += std::log(point.settled_a_per_m / resting_a_per_m(model, point.start_c));
    return sum / static_cast<double>(sheet_.cold_start.size());
  }

  /// The slowest core whose current after 300 s is still alike to its resting one at every start.
  double slowest_alike_s(const std::vector<double>& logs) const {
    double low = std::log(least_time_s), high = std::log(most_time_s);
    for (int i = 0; i < 30; ++i) {
      const double middle = 0.5 * (low + high);
      (alike(model_of(logs, std::exp(middle))) ? low : high) = middle;
    }
    return std::exp(low);
  }

  ColdStartFit judged(const ColdStartModel& model, bool capacity_determined) const {
    ColdStartFit fit{model, {}, {}, {}, capacity_determined};
    for (const auto& point : output_)
      keep_worse(fit.output, {point.pipe_c, point.power_w_per_m,
                              model.cable.power_w_per_m(point.pipe_c, sheet_.rated_voltage_v)});
    for (const auto& point : sheet_.cold_start) {
      keep_worse(fit.peak, {point.start_c, point.peak_a_per_m, peak_a_per_m(model, point.start_c)});
      keep_worse(fit.settled, {point.start_c, point.settled_a_per_m, settled_a_per_m(model, point.start_c)});
    }
    return fit;
  }

 private:
  static void keep_worse(ColdStartMisfit& worst, const ColdStartMisfit& next) {
    if (worst.sheet == 0 || std::abs(next.frac()) > std::abs(worst.frac())) worst = next;
  }

  bool alike(const ColdStartModel& model) const {
    constexpr double coarse_k = 1e-7;  // many starts, and only their end is looked at
    return std::ranges::all_of(sheet_.cold_start, [&](const physics::ColdStartPoint& point) {
      return settled_a_per_m(model, point.start_c, coarse_k) <=
             (1 + settled_alike_frac) * resting_a_per_m(model, point.start_c);
    });
  }

  const physics::CableSheet& sheet_;
  std::vector<physics::OutputPoint> output_;
};

}  // namespace

double ColdStartFit::worst_frac() const {
  return std::max({std::abs(output.frac()), std::abs(peak.frac()), std::abs(settled.frac())});
}

bool ColdStartFit::contradicted(const physics::CableSheet& sheet) const {
  return worst_frac() > sheet.output_tolerance_frac;
}

std::optional<ColdStartFit> fit_cold_start(const physics::CableSheet& sheet) {
  const SheetFit fit(sheet);
  if (!fit.enough()) return std::nullopt;
  const auto base = fit.without_time(fit.start(), {});
  if (fit.settled_excess(model_of(base, 1)) > settled_alike_frac)
    return fit.judged(fit.with_time(base), true);
  const auto logs = fit.without_time(
      base, [&](const ColdStartModel& model, double start_c) { return fit.resting_a_per_m(model, start_c); });
  return fit.judged(model_of(logs, fit.slowest_alike_s(logs)), false);
}

}  // namespace firstdraw::power
