#include "draw/standing.hpp"

#include <cmath>

namespace firstdraw::draw {
namespace {

using Vector = Propagator::Vector;
using Matrix = Propagator::Matrix;

/// One rotation of Jacobi's method: makes m[p][q] vanish.
void rotate(Matrix& m, Matrix& vectors, std::size_t p, std::size_t q) {
  if (m[p][q] == 0) return;
  const double theta = (m[q][q] - m[p][p]) / (2 * m[p][q]);
  const double t = (theta >= 0 ? 1.0 : -1.0) / (std::abs(theta) + std::sqrt(theta * theta + 1));
  const double c = 1 / std::sqrt(t * t + 1), s = t * c;
  for (std::size_t k = 0; k < 4; ++k) {
    const double kp = m[k][p], kq = m[k][q];
    m[k][p] = c * kp - s * kq;
    m[k][q] = s * kp + c * kq;
  }
  for (std::size_t k = 0; k < 4; ++k) {
    const double pk = m[p][k], qk = m[q][k];
    m[p][k] = c * pk - s * qk;
    m[q][k] = s * pk + c * qk;
    const double vp = vectors[k][p], vq = vectors[k][q];
    vectors[k][p] = c * vp - s * vq;
    vectors[k][q] = s * vp + c * vq;
  }
}

bool is_diagonal(const Matrix& m) {
  double off = 0, on = 0;
  for (std::size_t i = 0; i < 4; ++i)
    for (std::size_t k = 0; k < 4; ++k) (i == k ? on : off) += m[i][k] * m[i][k];
  return off <= 1e-34 * on;
}

/// Leaves the eigenvalues on the diagonal of `m`; columns of the result are the eigenvectors.
Matrix diagonalise(Matrix& m) {
  Matrix vectors{};
  for (std::size_t i = 0; i < 4; ++i) vectors[i][i] = 1;
  constexpr int most_sweeps = 20;  // convergence is quadratic: five are enough for any 4 x 4
  for (int sweep = 0; sweep < most_sweeps && !is_diagonal(m); ++sweep)
    for (std::size_t p = 0; p < 3; ++p)
      for (std::size_t q = p + 1; q < 4; ++q) rotate(m, vectors, p, q);
  return vectors;
}

/// exp(-rate t), its integral, and the integrals of those, good for rates near 0 too.
struct Decay {
  double value, integral, second, third;
};
Decay decay(double rate_per_s, double step_s) {
  const double x = rate_per_s * step_s;
  if (std::abs(x) < 1e-4) {
    const double integral = step_s * (1 - x / 2 + x * x / 6);
    return {1 - x + x * x / 2, integral, step_s * step_s * (0.5 - x / 6), step_s * step_s * step_s / 6};
  }
  const double fallen = -std::expm1(-x);
  const double second = (step_s - fallen / rate_per_s) / rate_per_s;
  return {1 - fallen, fallen / rate_per_s, second, (0.5 * step_s * step_s - second) / rate_per_s};
}

}  // namespace

Propagator::Propagator(const StandingCell& cell) {
  const Vector root{std::sqrt(cell.water_j_per_m_k), std::sqrt(cell.wall_j_per_m_k),
                    std::sqrt(cell.inner_j_per_m_k), std::sqrt(cell.outer_j_per_m_k)};
  const double g = cell.film_w_per_m_k, g0 = cell.g0_w_per_m_k, g1 = cell.g1_w_per_m_k;
  Matrix m{};
  m[0] = {g, -g, 0, 0};
  m[1] = {-g, g + g0 - cell.cable_slope_w_per_m_k, -g0, 0};
  m[2] = {0, -g0, g0 + g1, -g1};
  m[3] = {0, 0, -g1, g1 + cell.g2_w_per_m_k};
  for (std::size_t i = 0; i < 4; ++i)
    for (std::size_t k = 0; k < 4; ++k) m[i][k] /= root[i] * root[k];
  const Matrix vectors = diagonalise(m);
  for (std::size_t i = 0; i < 4; ++i) {
    rate_per_s_[i] = m[i][i];
    drive_[i] = vectors[1][i] / root[1];
    for (std::size_t k = 0; k < 4; ++k) {
      out_[k][i] = vectors[k][i] / root[k];
      in_[i][k] = vectors[k][i] * root[k];
    }
  }
}

void Propagator::prepare(double step_s) {
  if (step_s == prepared_s_) return;
  prepared_s_ = step_s;
  next = {};
  response = ramp = wall_integral = outer_integral = {};
  wall_integral_of_f = outer_integral_of_f = wall_integral_of_ramp = outer_integral_of_ramp = 0;
  for (std::size_t mode = 0; mode < 4; ++mode) {
    const Decay d = decay(rate_per_s_[mode], step_s);
    for (std::size_t i = 0; i < 4; ++i) {
      const double left = out_[i][mode] * d.value;
      for (std::size_t k = 0; k < 4; ++k) next[i][k] += left * in_[mode][k];
      response[i] += out_[i][mode] * d.integral * drive_[mode];
      ramp[i] += out_[i][mode] * d.second * drive_[mode] / step_s;
      wall_integral[i] += out_[1][mode] * d.integral * in_[mode][i];
      outer_integral[i] += out_[3][mode] * d.integral * in_[mode][i];
    }
    wall_integral_of_f += out_[1][mode] * d.second * drive_[mode];
    outer_integral_of_f += out_[3][mode] * d.second * drive_[mode];
    wall_integral_of_ramp += out_[1][mode] * d.third * drive_[mode] / step_s;
    outer_integral_of_ramp += out_[3][mode] * d.third * drive_[mode] / step_s;
  }
}

}  // namespace firstdraw::draw
