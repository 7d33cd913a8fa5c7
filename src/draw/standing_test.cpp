#include "draw/standing.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace firstdraw::draw {
namespace {

constexpr StandingCell cell{1290, 226, 100, 60, 12, 1.2, 0.6, 0.45, -0.2};

using Vector = Propagator::Vector;

Vector slope(const Vector& x, double source_w) {
  return {cell.film_w_per_m_k * (x[1] - x[0]) / cell.water_j_per_m_k,
          (cell.film_w_per_m_k * (x[0] - x[1]) - cell.g0_w_per_m_k * (x[1] - x[2]) +
           cell.cable_slope_w_per_m_k * x[1] + source_w) /
              cell.wall_j_per_m_k,
          (cell.g0_w_per_m_k * (x[1] - x[2]) - cell.g1_w_per_m_k * (x[2] - x[3])) / cell.inner_j_per_m_k,
          (cell.g1_w_per_m_k * (x[2] - x[3]) - cell.g2_w_per_m_k * x[3]) / cell.outer_j_per_m_k};
}

struct Integrated {
  Vector x;
  double wall_k_s = 0, outer_k_s = 0;
};

/// Classical Runge-Kutta with short steps: an independent way to the same numbers.
Integrated runge_kutta(Vector x, double source_w, double duration_s) {
  constexpr int steps = 20000;
  const double h = duration_s / steps;
  Integrated result{x};
  for (int n = 0; n < steps; ++n) {
    const auto shifted = [](const Vector& a, const Vector& k, double by) {
      return Vector{a[0] + by * k[0], a[1] + by * k[1], a[2] + by * k[2], a[3] + by * k[3]};
    };
    const Vector k1 = slope(x, source_w), k2 = slope(shifted(x, k1, h / 2), source_w),
                 k3 = slope(shifted(x, k2, h / 2), source_w), k4 = slope(shifted(x, k3, h), source_w);
    const Vector before = x;
    for (std::size_t i = 0; i < 4; ++i) x[i] += h / 6 * (k1[i] + 2 * k2[i] + 2 * k3[i] + k4[i]);
    result.wall_k_s += h / 2 * (before[1] + x[1]);
    result.outer_k_s += h / 2 * (before[3] + x[3]);
  }
  result.x = x;
  return result;
}

Vector apply(const Propagator& p, const Vector& x, double source_w) {
  Vector y{};
  for (std::size_t i = 0; i < 4; ++i) {
    for (std::size_t k = 0; k < 4; ++k) y[i] += p.next[i][k] * x[k];
    y[i] += p.response[i] * source_w;
  }
  return y;
}

TEST(Standing, FollowsRungeKuttaOverAnyStep) {
  const Vector start{35, 20, 12, 3};
  for (const double step_s : {1.0, 60.0, 900.0, 20000.0}) {
    Propagator p(cell);
    p.prepare(step_s);
    const Integrated expected = runge_kutta(start, 8, step_s);
    const Vector y = apply(p, start, 8);
    for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(y[i], expected.x[i], 1e-8) << step_s << " " << i;
    double wall = 8 * p.wall_integral_of_f, outer = 8 * p.outer_integral_of_f;
    for (std::size_t i = 0; i < 4; ++i) {
      wall += p.wall_integral[i] * start[i];
      outer += p.outer_integral[i] * start[i];
    }
    // The check's trapezoid has an error of its own.
    EXPECT_NEAR(wall, expected.wall_k_s, 1e-6 * std::abs(expected.wall_k_s)) << step_s;
    EXPECT_NEAR(outer, expected.outer_k_s, 1e-6 * std::abs(expected.outer_k_s)) << step_s;
  }
}

TEST(Standing, TwoStepsAreOneLongStep) {
  Propagator p(cell);
  const Vector start{35, 20, 12, 3};
  p.prepare(100);
  const Vector half = apply(p, start, 5), whole_in_two = apply(p, half, 5);
  p.prepare(200);
  const Vector whole = apply(p, start, 5);
  for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(whole[i], whole_in_two[i], 1e-11);
}

TEST(Standing, HeatIsNeitherMadeNorLost) {
  Propagator p(cell);
  const Vector start{35, 20, 12, 3};
  p.prepare(333);
  const Vector end = apply(p, start, 7);
  const Vector capacity{cell.water_j_per_m_k, cell.wall_j_per_m_k, cell.inner_j_per_m_k,
                        cell.outer_j_per_m_k};
  double stored = 0, wall = 7 * p.wall_integral_of_f, outer = 7 * p.outer_integral_of_f;
  for (std::size_t i = 0; i < 4; ++i) {
    stored += capacity[i] * (end[i] - start[i]);
    wall += p.wall_integral[i] * start[i];
    outer += p.outer_integral[i] * start[i];
  }
  EXPECT_NEAR(stored, 7 * 333 + cell.cable_slope_w_per_m_k * wall - cell.g2_w_per_m_k * outer, 1e-7);
}

}  // namespace
}  // namespace firstdraw::draw
