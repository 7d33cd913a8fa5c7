#include "draw/film_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "physics/inside_film.hpp"

namespace firstdraw::draw {
namespace {

constexpr int flows = 61, temps = 4;                          // a quarter of an octave; 30 K
constexpr double lowest_flow_log2 = -11 - 9.965784284662087;  // 0.49 ml/s
constexpr double per_octave = 4, temp_step_k = 30;
constexpr double length_ratio = 1.2;

double speed(double flow_m3_per_s, double inner_diameter_m) {
  return flow_m3_per_s / (std::numbers::pi / 4 * inner_diameter_m * inner_diameter_m);
}

}  // namespace

FilmTable::FilmTable(double inner_diameter_m, double length_m) {
  std::array<physics::Water, temps> waters{};
  for (int t = 0; t < temps; ++t) waters[static_cast<std::size_t>(t)] = physics::water(t * temp_step_k);
  film_.reserve(std::size_t{flows} * temps);
  for (int f = 0; f < flows; ++f)
    for (const physics::Water& water : waters)
      film_.push_back(physics::flowing_film_w_per_m2_k(
          inner_diameter_m, length_m, speed(std::exp2(lowest_flow_log2 + f / per_octave), inner_diameter_m),
          water));
}

double FilmTable::film_w_per_m2_k(double flow_m3_per_s, double water_c) const {
  const double f = std::clamp((std::log2(flow_m3_per_s) - lowest_flow_log2) * per_octave, 0.0, flows - 1.0);
  const double t = std::clamp(water_c / temp_step_k, 0.0, temps - 1.0);
  const int f0 = std::min(static_cast<int>(f), flows - 2), t0 = std::min(static_cast<int>(t), temps - 2);
  const double* corner = &film_[static_cast<std::size_t>(f0) * temps + static_cast<std::size_t>(t0)];
  const double at_f0 = corner[0] + (t - t0) * (corner[1] - corner[0]);
  const double at_f1 = corner[temps] + (t - t0) * (corner[temps + 1] - corner[temps]);
  return at_f0 + (f - f0) * (at_f1 - at_f0);
}

const FilmTable& FilmTables::of(double inner_diameter_m, double length_m) {
  const int length_class = static_cast<int>(std::lround(std::log(length_m) / std::log(length_ratio)));
  auto& table = tables_[{inner_diameter_m, length_class}];
  if (!table) table = std::make_unique<FilmTable>(inner_diameter_m, std::pow(length_ratio, length_class));
  return *table;
}

}  // namespace firstdraw::draw
