#include "physics/water.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace firstdraw::physics {
namespace {

constexpr double gas_constant_j_per_kg_k = 461.526;  // IF97 specific gas constant of water
constexpr double domestic_pressure_mpa = 0.5;
constexpr double critical_k = 647.096;
constexpr double critical_kg_per_m3 = 322;

struct Region1Term {
  int i, j;
  double n;
};

// IAPWS R7-97(2012), Table 2.
constexpr std::array<Region1Term, 34> region1{{
    {0, -2, 0.14632971213167},        {0, -1, -0.84548187169114},       {0, 0, -0.37563603672040e1},
    {0, 1, 0.33855169168385e1},       {0, 2, -0.95791963387872},        {0, 3, 0.15772038513228},
    {0, 4, -0.16616417199501e-1},     {0, 5, 0.81214629983568e-3},      {1, -9, 0.28319080123804e-3},
    {1, -7, -0.60706301565874e-3},    {1, -1, -0.18990068218419e-1},    {1, 0, -0.32529748770505e-1},
    {1, 1, -0.21841717175414e-1},     {1, 3, -0.52838357969930e-4},     {2, -3, -0.47184321073267e-3},
    {2, 0, -0.30001780793026e-3},     {2, 1, 0.47661393906987e-4},      {2, 3, -0.44141845330846e-5},
    {2, 17, -0.72694996297594e-15},   {3, -4, -0.31679644845054e-4},    {3, 0, -0.28270797985312e-5},
    {3, 6, -0.85205128120103e-9},     {4, -5, -0.22425281908000e-5},    {4, -2, -0.65171222895601e-6},
    {4, 10, -0.14341729937924e-12},   {5, -8, -0.40516996860117e-6},    {8, -11, -0.12734301741641e-8},
    {8, -6, -0.17424871230634e-9},    {21, -29, -0.68762131295531e-18}, {23, -31, 0.14478307828521e-19},
    {29, -38, 0.26335781662795e-22},  {30, -39, -0.11947622640071e-22}, {31, -40, 0.18228094581404e-23},
    {32, -41, -0.93537087292458e-25},
}};

/// Gibbs energy over R T and its derivatives by reduced pressure (p) and inverse reduced temperature (t).
struct Gibbs {
  double g = 0, p = 0, pp = 0, t = 0, tt = 0, pt = 0;
};

Gibbs gibbs_region1(double pi, double tau) {
  const double a = 7.1 - pi, b = tau - 1.222;
  Gibbs sum;
  for (const auto& [i, j, n] : region1) {
    const double term = n * std::pow(a, i) * std::pow(b, j);
    sum.g += term;
    sum.p -= term * i / a;
    sum.pp += term * i * (i - 1) / (a * a);
    sum.t += term * j / b;
    sum.tt += term * j * (j - 1) / (b * b);
    sum.pt -= term * i * j / (a * b);
  }
  return sum;
}

/// sum over i of x^i * sum over j of h[i][j] y^j
template <std::size_t Rows, std::size_t Columns>
double double_series(const std::array<std::array<double, Columns>, Rows>& h, double x, double y) {
  double sum = 0;
  for (std::size_t i = Rows; i-- > 0;) {
    double row = 0;
    for (std::size_t j = Columns; j-- > 0;) row = row * y + h[i][j];
    sum = sum * x + row;
  }
  return sum;
}

// IAPWS R12-08, Tables 1 and 2 (row: power of 1/T - 1, column: power of rho - 1).
constexpr std::array<double, 4> viscosity_dilute{1.67752, 2.20462, 0.6366564, -0.241605};
constexpr std::array<std::array<double, 7>, 6> viscosity_dense{{
    {5.20094e-1, 2.22531e-1, -2.81378e-1, 1.61913e-1, -3.25372e-2, 0, 0},
    {8.50895e-2, 9.99115e-1, -9.06851e-1, 2.57399e-1, 0, 0, 0},
    {-1.08374, 1.88797, -7.72479e-1, 0, 0, 0, 0},
    {-2.89555e-1, 1.26613, -4.89837e-1, 0, 6.98452e-2, 0, -4.35673e-3},
    {0, 0, -2.57040e-1, 0, 0, 8.72102e-3, 0},
    {0, 1.20573e-1, 0, 0, 0, 0, -5.93264e-4},
}};

// IAPWS R15-11, Tables 1 and 2.
constexpr std::array<double, 5> conductivity_dilute{2.443221e-3, 1.323095e-2, 6.770357e-3, -3.454586e-3,
                                                    4.096266e-4};
constexpr std::array<std::array<double, 6>, 5> conductivity_dense{{
    {1.60397357, -0.646013523, 0.111443906, 0.102997357, -0.0504123634, 0.00609859258},
    {2.33771842, -2.78843778, 1.53616167, -0.463045512, 0.0832827019, -0.00719201245},
    {2.19650529, -4.54580785, 3.55777244, -1.40944978, 0.275418278, -0.0205938816},
    {-1.21051378, 1.60812989, -0.621178141, 0.0716373224, 0, 0},
    {-2.7203370, 4.57586331, -3.18369245, 1.1168348, -0.19268305, 0.012913842},
}};

}  // namespace

If97 if97_region1(double temp_k, double pressure_mpa) {
  const double pi = pressure_mpa / 16.53, tau = 1386 / temp_k;
  const double rt = gas_constant_j_per_kg_k * temp_k;
  const Gibbs g = gibbs_region1(pi, tau);
  const double compress = g.p - tau * g.pt;
  If97 out;
  out.volume_m3_per_kg = pi * g.p * rt / (pressure_mpa * 1e6);
  out.enthalpy_j_per_kg = tau * g.t * rt;
  out.heat_capacity_j_per_kg_k = -tau * tau * g.tt * gas_constant_j_per_kg_k;
  out.internal_energy_j_per_kg = (tau * g.t - pi * g.p) * rt;
  out.entropy_j_per_kg_k = (tau * g.t - g.g) * gas_constant_j_per_kg_k;
  out.sound_m_per_s = std::sqrt(rt * g.p * g.p / (compress * compress / (tau * tau * g.tt) - g.pp));
  out.expansion_per_k = (1 - tau * g.pt / g.p) / temp_k;
  return out;
}

double viscosity_pa_s(double temp_k, double density_kg_per_m3) {
  const double t = temp_k / critical_k, rho = density_kg_per_m3 / critical_kg_per_m3;
  double dilute = 0;
  for (std::size_t i = viscosity_dilute.size(); i-- > 0;) dilute = dilute / t + viscosity_dilute[i];
  const double mu0 = 100 * std::sqrt(t) / dilute;
  return 1e-6 * mu0 * std::exp(rho * double_series(viscosity_dense, 1 / t - 1, rho - 1));
}

double conductivity_w_per_m_k(double temp_k, double density_kg_per_m3) {
  const double t = temp_k / critical_k, rho = density_kg_per_m3 / critical_kg_per_m3;
  double dilute = 0;
  for (std::size_t i = conductivity_dilute.size(); i-- > 0;) dilute = dilute / t + conductivity_dilute[i];
  const double lambda0 = std::sqrt(t) / dilute;
  return 1e-3 * lambda0 * std::exp(rho * double_series(conductivity_dense, 1 / t - 1, rho - 1));
}

Water water(double temp_c) {
  const double temp_k = std::clamp(temp_c, 0.0, 100.0) + 273.15;
  const If97 state = if97_region1(temp_k, domestic_pressure_mpa);
  Water out;
  out.density_kg_per_m3 = 1 / state.volume_m3_per_kg;
  out.heat_capacity_j_per_kg_k = state.heat_capacity_j_per_kg_k;
  out.conductivity_w_per_m_k = conductivity_w_per_m_k(temp_k, out.density_kg_per_m3);
  out.viscosity_pa_s = viscosity_pa_s(temp_k, out.density_kg_per_m3);
  out.expansion_per_k = state.expansion_per_k;
  return out;
}

}  // namespace firstdraw::physics
