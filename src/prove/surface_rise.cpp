#include "prove/surface_rise.hpp"

#include <algorithm>
#include <cmath>

#include "hold/loss_shape.hpp"

namespace firstdraw::prove {
namespace {

constexpr double first_k = 3, second_k = 15, least_w_per_m = 1e-3;

}  // namespace

SurfaceRise::SurfaceRise(const hold::LossCurve& curve, double air_c)
    : first_w_per_m_(curve.shape().at_rise(first_k, air_c, 1).loss_w_per_m) {
  const double second_w_per_m = curve.shape().at_rise(second_k, air_c, 1).loss_w_per_m;
  exponent_ = std::log(second_k / first_k) / std::log(second_w_per_m / first_w_per_m_);
}

SurfaceRise::Sample SurfaceRise::at(double loss_w_per_m) const {
  const double loss = std::max(loss_w_per_m, least_w_per_m);
  const double rise_k = first_k * std::pow(loss / first_w_per_m_, exponent_);
  return {rise_k, exponent_ * rise_k / loss};
}

}  // namespace firstdraw::prove
