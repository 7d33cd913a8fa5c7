// The physical model of a self-regulating cable and its fit to a data sheet. The model's equation, with
// T = pipe + p Rc inside R(T), is ln p + beta Rc p = 2 ln V - ln r0 - beta (pipe - T0): linear in ln r0, beta
// and g = beta Rc, which gives both the start of the fit and its derivatives.
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "physics/heating_cable.hpp"
#include "physics/lambert_w.hpp"

namespace firstdraw::physics {
namespace {

using Vector3 = std::array<double, 3>;
using Matrix3 = std::array<Vector3, 3>;

struct Reading {
  double pipe_c, log_v2, power_w_per_m;
};

/// Parameters of the linear form: ln r0 at the reference, beta, g = beta Rc.
struct Linear {
  double log_r0 = 0, beta = 0, g = 0;
};

constexpr double least_beta_per_k = 1e-9;

double log_power(const Linear& at, double rise_c, double log_v2) {
  const double log_cold = log_v2 - at.log_r0 - at.beta * rise_c;
  if (at.g <= 0) return log_cold;
  return std::log(lambert_w_of_exp(log_cold + std::log(at.g)) / at.g);
}

/// Solves a symmetric positive 3x3 system by Gaussian elimination with pivoting.
Vector3 solve3(Matrix3 a, Vector3 b) {
  for (std::size_t k = 0; k < 3; ++k) {
    std::size_t pivot = k;
    for (std::size_t i = k + 1; i < 3; ++i) {
      if (std::abs(a[i][k]) > std::abs(a[pivot][k])) pivot = i;
    }
    std::swap(a[k], a[pivot]);
    std::swap(b[k], b[pivot]);
    for (std::size_t i = k + 1; i < 3; ++i) {
      const double factor = a[i][k] / a[k][k];
      for (std::size_t j = k; j < 3; ++j) a[i][j] -= factor * a[k][j];
      b[i] -= factor * b[k];
    }
  }
  Vector3 x{};
  for (std::size_t k = 3; k-- > 0;) {
    double sum = b[k];
    for (std::size_t j = k + 1; j < 3; ++j) sum -= a[k][j] * x[j];
    x[k] = sum / a[k][k];
  }
  return x;
}

/// Normal equations J'J and J'r.
struct Normal {
  Matrix3 jj{};
  Vector3 jr{};

  void add(const Vector3& j, double r) {
    for (std::size_t i = 0; i < 3; ++i) {
      jr[i] += j[i] * r;
      for (std::size_t k = 0; k < 3; ++k) jj[i][k] += j[i] * j[k];
    }
  }
  /// Marquardt's step: the diagonal raised in proportion to itself. `hold_g` keeps the third parameter.
  Vector3 step(double damping, bool hold_g) const {
    Matrix3 a = jj;
    Vector3 b = jr;
    for (std::size_t i = 0; i < 3; ++i) a[i][i] += damping * jj[i][i] + 1e-300;
    if (hold_g) {
      a[0][2] = a[1][2] = a[2][0] = a[2][1] = b[2] = 0;
      a[2][2] = 1;
    }
    return solve3(a, b);
  }
};

class Fit {
 public:
  Fit(std::vector<Reading> readings, double reference_c)
      : readings_(std::move(readings)), reference_c_(reference_c) {}

  /// Levenberg-Marquardt on ln p, from the linear solution.
  Linear run() const {
    Linear at = linear_start();
    double misfit = sum_of_squares(at), damping = 1e-6;
    for (int round = 0; round < 100 && damping < 1e12; ++round) {
      const Linear next = moved(at, normal_at(at).step(damping, at.g <= 0));
      const double better = sum_of_squares(next);
      if (!(better < misfit)) {
        damping *= 10;
        continue;
      }
      const bool done = misfit - better <= 1e-15 * misfit;
      at = next;
      misfit = better;
      damping = std::max(1e-12, 0.1 * damping);
      if (done) break;
    }
    return at;
  }

  double worst(const Linear& at) const {
    double worst = 0;
    for (const Reading& reading : readings_)
      worst = std::max(worst, std::abs(std::expm1(-residual(at, reading))));
    return worst;
  }

 private:
  double residual(const Linear& at, const Reading& reading) const {
    return std::log(reading.power_w_per_m) - log_power(at, reading.pipe_c - reference_c_, reading.log_v2);
  }

  double sum_of_squares(const Linear& at) const {
    double sum = 0;
    for (const Reading& reading : readings_) {
      const double r = residual(at, reading);
      sum += r * r;
    }
    return sum;
  }

  /// A core cannot fall in resistance with temperature nor be cooler than the pipe.
  static Linear moved(const Linear& from, const Vector3& step) {
    return {from.log_r0 + step[0], std::max(least_beta_per_k, from.beta + step[1]),
            std::max(0.0, from.g + step[2])};
  }

  Linear linear_start() const {
    Normal normal;
    for (const Reading& reading : readings_) {
      const Vector3 j{1, reading.pipe_c - reference_c_, reading.power_w_per_m};
      normal.add(j, reading.log_v2 - std::log(reading.power_w_per_m));
    }
    Vector3 x = normal.step(1e-12, false);
    if (!(x[2] > 0)) {
      x = normal.step(1e-12, true);
      x[2] = 0;
    }
    return {x[0], std::max(least_beta_per_k, x[1]), x[2]};
  }

  Normal normal_at(const Linear& at) const {
    Normal normal;
    for (const Reading& reading : readings_) {
      const double rise = reading.pipe_c - reference_c_;
      const double p = std::exp(log_power(at, rise, reading.log_v2));
      const double stiff = 1 + at.g * p;
      normal.add({-1 / stiff, -rise / stiff, -p / stiff}, residual(at, reading));
    }
    return normal;
  }

  std::vector<Reading> readings_;
  double reference_c_;
};

/// Every output of the sheet at every voltage of the sheet; outputs of zero say nothing to a logarithm.
std::vector<Reading> readings_of(const CableSheet& sheet) {
  std::vector<VoltagePoint> voltages = sheet.voltage;
  if (voltages.empty()) voltages.push_back({sheet.rated_voltage_v, 1});
  std::vector<Reading> out;
  for (const OutputPoint& point : sheet.output) {
    for (const VoltagePoint& voltage : voltages) {
      const double power = point.power_w_per_m * voltage.output_factor;
      if (power > 0) out.push_back({point.pipe_c, 2 * std::log(voltage.voltage_v), power});
    }
  }
  return out;
}

}  // namespace

double CableModel::power_w_per_m(double pipe_c, double voltage_v) const {
  const double log_cold =
      2 * std::log(voltage_v) - std::log(core_ohm_m) - beta_per_k * (pipe_c - reference_c);
  const double g = beta_per_k * core_to_pipe_m_k_per_w;
  return g <= 0 ? std::exp(log_cold) : lambert_w_of_exp(log_cold + std::log(g)) / g;
}

double CableModel::core_c(double pipe_c, double voltage_v) const {
  return pipe_c + core_to_pipe_m_k_per_w * power_w_per_m(pipe_c, voltage_v);
}

double CableModel::inrush_ratio(double pipe_c, double voltage_v) const {
  return std::exp(beta_per_k * core_to_pipe_m_k_per_w * power_w_per_m(pipe_c, voltage_v));
}

double CableModel::voltage_exponent(double pipe_c, double voltage_v) const {
  return 2 / (1 + beta_per_k * core_to_pipe_m_k_per_w * power_w_per_m(pipe_c, voltage_v));
}

CableFit fit_cable(const CableSheet& sheet) {
  CableFit out;
  const std::vector<Reading> readings = readings_of(sheet);
  if (readings.empty()) {
    constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
    return {{out.model.reference_c, unknown, unknown, unknown}, unknown};
  }
  const Fit fit(readings, out.model.reference_c);
  const Linear found = fit.run();
  out.model.core_ohm_m = std::exp(found.log_r0);
  out.model.beta_per_k = found.beta;
  out.model.core_to_pipe_m_k_per_w = found.g / found.beta;
  out.worst_output_error_frac = fit.worst(found);
  return out;
}

}  // namespace firstdraw::physics
