#include "physics/radial_ladder.hpp"

#include <cmath>
#include <numbers>

namespace firstdraw::physics {
namespace {

using std::numbers::pi;
constexpr int cells_per_layer = 64;  // and half of that, for Richardson's extrapolation
constexpr double very_large_w_per_m_k = 1e12;

struct Ring {
  double inner_m, outer_m;  // radii
  double conductivity, j_per_m3_k;
};

Ring ring_of(const Layer& layer, double mean_c) {
  return {0.5 * layer.inner_diameter_m, 0.5 * layer.outer_diameter_m,
          layer.conductivity_factor * layer.insulation.conductivity_at(mean_c),
          layer.insulation.density_kg_per_m3 * layer.insulation.heat_capacity_j_per_kg_k};
}

/// a0 + a1 s + ... + a4 s^4: an admittance or impedance in powers of the rate s.
using Series = std::array<double, 5>;

Series inverse(const Series& a) {
  Series out{1 / a[0]};
  for (std::size_t n = 1; n < a.size(); ++n) {
    double sum = 0;
    for (std::size_t k = 1; k <= n; ++k) sum += a[k] * out[n - k];
    out[n] = -sum / a[0];
  }
  return out;
}

/// The admittance behind a resistance.
Series behind(Series admittance, double resistance_m_k_per_w) {
  Series impedance = inverse(admittance);
  impedance[0] += resistance_m_k_per_w;
  return inverse(impedance);
}

/// From the outer face of a ring to its inner face in finite volumes: half of a cell's resistance on either
/// side of its heat. Equal steps of ln r: every cell has the same resistance.
Series through(const Ring& ring, Series admittance, int cells) {
  const double step = std::log(ring.outer_m / ring.inner_m) / cells;
  const double half_resistance = 0.5 * step / (2 * pi * ring.conductivity);
  for (int i = cells - 1; i >= 0; --i) {
    const double inner_m = ring.inner_m * std::exp(i * step);
    const double area_m2 = pi * inner_m * inner_m * std::expm1(2 * step);
    admittance = behind(admittance, half_resistance);
    admittance[1] += ring.j_per_m3_k * area_m2;
    admittance = behind(admittance, half_resistance);
  }
  return admittance;
}

Series moments_on(const std::vector<Layer>& layers, double mean_c, double surface_w_per_m_k, int cells) {
  Series admittance{surface_w_per_m_k};
  for (auto layer = layers.rbegin(); layer != layers.rend(); ++layer) {
    admittance = through(ring_of(*layer, mean_c), admittance, cells);
  }
  return admittance;
}

/// Admittance (b0 + b1 s + b2 s^2) / (1 + a1 s + a2 s^2).
struct Rational {
  double b0, b1, b2, a1, a2;
};

/// The ladder with that response, from the wall outwards: at a very fast change only G0 counts, then C1, ...
RadialLadder cauer(const Rational& y) {
  RadialLadder out;
  out.wall_to_inner_w_per_m_k = y.b2 / y.a2;
  // Behind G0 the admittance is (b0 + b1 s + b2 s^2) / (c0 + c1 s).
  const double c0 = 1 - y.b0 * y.a2 / y.b2, c1 = y.a1 - y.b1 * y.a2 / y.b2;
  out.inner_j_per_m_k = y.b2 / c1;
  // Behind C1 it is (b0 + d s) / (c0 + c1 s).
  const double d = y.b1 - out.inner_j_per_m_k * c0;
  out.inner_to_outer_w_per_m_k = d / c1;
  // Behind G1 it is (b0 + d s) / e.
  const double e = c0 - y.b0 * c1 / d;
  out.outer_j_per_m_k = d / e;
  out.outer_to_air_w_per_m_k = y.b0 / e;
  return out;
}

/// The one with the first five moments of the exact admittance. That is steady + s times a sum of positive
/// terms w x/(1 + x s); two terms with its first four moments are Gauss's quadrature, hence positive, and so
/// is the ladder.
Rational matched(const Series& y) {
  const double m0 = y[1], m1 = -y[2], m2 = y[3], m3 = -y[4];
  const double gram = m0 * m2 - m1 * m1;
  const double a1 = (m0 * m3 - m1 * m2) / gram, a2 = (m1 * m3 - m2 * m2) / gram;
  return {y[0], y[0] * a1 + y[1], y[0] * a2 + y[1] * a1 + y[2], a1, a2};
}

bool all_positive(const RadialLadder& ladder) {
  return ladder.wall_to_inner_w_per_m_k > 0 && ladder.inner_to_outer_w_per_m_k > 0 &&
         ladder.outer_to_air_w_per_m_k > 0 && ladder.inner_j_per_m_k > 0 && ladder.outer_j_per_m_k > 0;
}

RadialLadder without_heat(double steady_w_per_m_k) {
  return {.wall_to_inner_w_per_m_k = very_large_w_per_m_k,
          .inner_to_outer_w_per_m_k = very_large_w_per_m_k,
          .outer_to_air_w_per_m_k = steady_w_per_m_k};
}

/// Should rounding spoil the matching: equal masses between thirds of the resistance. Keeps the steady
/// conductance and the first moment, C1 (2/3)^2 + C2 (1/3)^2.
RadialLadder in_thirds(const Series& y) {
  const double third = 3 * y[0], half_j = 9.0 / 5 * y[1];
  return {third, third, third, half_j, half_j};
}

/// Modified Bessel functions without their exponential: exp(-x) I_n, exp(x) K_n for n = 0, 1.
struct Bessel {
  double i0, i1, k0, k1;
};

Bessel scaled_bessel(double x) {
  if (x < 600) {
    const double up = std::exp(x), down = 1 / up;
    return {down * std::cyl_bessel_i(0, x), down * std::cyl_bessel_i(1, x), up * std::cyl_bessel_k(0, x),
            up * std::cyl_bessel_k(1, x)};
  }
  // Hankel's expansion (Abramowitz and Stegun 9.7.1, 9.7.2; memory): the next term is below 1e-9.
  const double t = 1 / (8 * x), i = 1 / std::sqrt(2 * pi * x), k = std::sqrt(pi / (2 * x));
  const double even = 4.5 * t * t, odd = -7.5 * t * t;
  return {i * (1 + t + even), i * (1 - 3 * t + odd), k * (1 - t + even), k * (1 + 3 * t + odd)};
}

/// From the outer face of a ring to its inner face: T = A I0(qr) + B K0(qr), q^2 = rate / diffusivity.
double through_exactly(const Ring& ring, double outer_admittance, double rate_per_s) {
  const double q_per_m = std::sqrt(rate_per_s * ring.j_per_m3_k / ring.conductivity);
  const double log_ratio = std::log(ring.outer_m / ring.inner_m), turn = 2 * pi * ring.conductivity;
  if (q_per_m * ring.outer_m < 1e-8) return 1 / (log_ratio / turn + 1 / outer_admittance);
  const double x = q_per_m * ring.inner_m, z = q_per_m * ring.outer_m;
  const Bessel in = scaled_bessel(x), out = scaled_bessel(z);
  const double falling = turn * z * out.i1 + outer_admittance * out.i0;
  const double rising = (turn * z * out.k1 - outer_admittance * out.k0) * std::exp(-2 * (z - x));
  return turn * x * (falling * in.k1 - rising * in.i1) / (falling * in.k0 + rising * in.i0);
}

}  // namespace

double RadialLadder::steady_w_per_m_k() const {
  return 1 / (1 / wall_to_inner_w_per_m_k + 1 / inner_to_outer_w_per_m_k + 1 / outer_to_air_w_per_m_k);
}

bool is_bare(const RadialLadder& ladder) {
  return ladder.inner_j_per_m_k == 0 && ladder.outer_j_per_m_k == 0;
}

std::array<double, 5> admittance_moments(const std::vector<Layer>& layers, double mean_c,
                                         double surface_w_per_m_k) {
  Series fine = moments_on(layers, mean_c, surface_w_per_m_k, cells_per_layer);
  const Series coarse = moments_on(layers, mean_c, surface_w_per_m_k, cells_per_layer / 2);
  for (std::size_t n = 0; n < fine.size(); ++n) fine[n] += (fine[n] - coarse[n]) / 3;
  return fine;
}

RadialLadder radial_ladder(const std::vector<Layer>& layers, double mean_c, double surface_w_per_m_k) {
  const Series moments = admittance_moments(layers, mean_c, surface_w_per_m_k);
  if (moments[1] == 0) return without_heat(moments[0]);
  const RadialLadder ladder = cauer(matched(moments));
  return all_positive(ladder) ? ladder : in_thirds(moments);
}

double exact_admittance_w_per_m_k(const std::vector<Layer>& layers, double mean_c, double surface_w_per_m_k,
                                  double rate_per_s) {
  double admittance = surface_w_per_m_k;
  for (auto layer = layers.rbegin(); layer != layers.rend(); ++layer) {
    admittance = through_exactly(ring_of(*layer, mean_c), admittance, rate_per_s);
  }
  return admittance;
}

double admittance_w_per_m_k(const RadialLadder& ladder, double rate_per_s) {
  const double outer = rate_per_s * ladder.outer_j_per_m_k + ladder.outer_to_air_w_per_m_k;
  const double middle = 1 / (1 / ladder.inner_to_outer_w_per_m_k + 1 / outer);
  const double inner = rate_per_s * ladder.inner_j_per_m_k + middle;
  return 1 / (1 / ladder.wall_to_inner_w_per_m_k + 1 / inner);
}

}  // namespace firstdraw::physics
