#include "hold/loss_shape.hpp"

#include <algorithm>
#include <cmath>

namespace firstdraw::hold {
namespace {

constexpr double highest_root = 3.4;  // fourth root of 134 K
constexpr int table_cells = 64;
constexpr double table_tolerance = 1e-7;  // of the convective coefficient

double fixed_resistance(const physics::PipeSection& section) {
  using std::numbers::pi;
  double resistance = 0;
  if (section.inner_film_w_per_m2_k > 0) {
    resistance += 1 / (pi * section.inner_diameter_m * section.inner_film_w_per_m2_k);
  }
  if (section.wall_conductivity_w_per_m_k > 0 && section.inner_diameter_m < section.outer_diameter_m) {
    resistance += std::log(section.outer_diameter_m / section.inner_diameter_m) /
                  (2 * pi * section.wall_conductivity_w_per_m_k);
  }
  return resistance;
}

double outermost_diameter_m(const physics::PipeSection& section) {
  return section.layers.empty() ? section.outer_diameter_m : section.layers.back().outer_diameter_m;
}

bool depends_on_air(const physics::Surroundings& around) { return around.law != physics::FilmLaw::iso_12241; }

}  // namespace

std::vector<LossShape::Piece> LossShape::pieces_of(const physics::Insulation& insulation) {
  const auto& temps = insulation.mean_c;
  const auto& values = insulation.conductivity_w_per_m_k;
  std::vector<Piece> pieces{{temps.front(), values.front(), 0, 0}};  // held below the first point
  double integral = 0;
  for (std::size_t i = 0; i + 1 < temps.size(); ++i) {
    const double slope = (values[i + 1] - values[i]) / (temps[i + 1] - temps[i]);
    pieces.push_back({temps[i], values[i], slope, integral});
    integral += 0.5 * (values[i] + values[i + 1]) * (temps[i + 1] - temps[i]);
  }
  pieces.push_back({temps.back(), values.back(), 0, integral});  // and above the last
  return pieces;
}

LossShape::LossShape(const physics::PipeSection& section, const physics::Surroundings& around)
    : around_(around),
      diameter_m_(outermost_diameter_m(section)),
      fixed_m_k_per_w_(fixed_resistance(section)) {
  const double room_k = around.air_c + 273.15;
  grey_ = physics::radiation_w_per_m2_k(around.air_c, around) / (4 * room_k * room_k * room_k);
  for (auto layer = section.layers.rbegin(); layer != section.layers.rend(); ++layer) {
    const double log_ratio = std::log(layer->outer_diameter_m / layer->inner_diameter_m);
    rings_.push_back(
        {log_ratio / (2 * std::numbers::pi * layer->conductivity_factor), pieces_of(layer->insulation)});
  }
  if (!depends_on_air(around)) {
    convection_ = CheckedCurve(0, highest_root, table_cells, table_tolerance, [&](double root) {
      return convection(root * root * root * root, 0);  // air at 0 keeps every digit of a small rise
    });
  }
  whole_ = convection_.is_whole();
  constexpr double usual_rise_k = 4;
  const March usual = at_rise(usual_rise_k, around.air_c, 1);
  surface_share_ = usual_rise_k / (usual.water_c - around.air_c);
}

double LossShape::convection(double rise_k, double air_c) const {
  physics::Surroundings around = around_;
  around.air_c = air_c;
  return physics::convection_w_per_m2_k(diameter_m_, air_c + rise_k, around);
}

CurveSample LossShape::convection_directly(double rise_k, double air_c) const {
  const double sign = rise_k < 0 ? -1 : 1;
  return sample_directly(std::sqrt(std::sqrt(std::abs(rise_k))),
                         [&](double root) { return convection(sign * root * root * root * root, air_c); });
}

double LossShape::loss_w_per_m(double water_c, double air_c, double factor) const {
  const double rise_k = water_c - air_c;
  if (rise_k == 0) return 0;
  struct Residual {
    double value, by_water, by_loss;
  };
  const auto residual = [&](double at_c, double) { return Residual{water_c - at_c, -1, 0}; };
  return settle(air_c, factor, std::min(0.0, rise_k), std::max(0.0, rise_k), surface_share_ * rise_k,
                residual)
      .loss_w_per_m;
}

}  // namespace firstdraw::hold
