#include "plan/sensor.hpp"

#include <numbers>

#include "physics/wall_angle.hpp"

namespace firstdraw::plan {

WallFilms wall_films(const physics::Pipe& pipe, const hold::LossCurve& loss, double water_c, double air_c) {
  const double lost_w_per_m = loss.loss_w_per_m(water_c, air_c);
  const double bore_m = pipe.inner_diameter_m();
  WallFilms films;
  films.outer_w_per_m2_k = lost_w_per_m / (std::numbers::pi * pipe.outer_diameter_m * (water_c - air_c));
  double wall_rise_k = 1;  // the film grows with its own temperature difference: three rounds settle it
  for (int round = 0; round < 3; ++round) {
    films.inner_w_per_m2_k = physics::standing_water_film_w_per_m2_k(bore_m, water_c, water_c + wall_rise_k);
    wall_rise_k = lost_w_per_m / (std::numbers::pi * bore_m * films.inner_w_per_m2_k);
  }
  return films;
}

double sensor_offset_k(const physics::Pipe& pipe, const hold::LossCurve& loss, double water_c, double air_c,
                       double angle_rad, const physics::HeatingCable& cable, int passes) {
  return sensor_offset_k(pipe, loss, water_c, air_c, angle_rad, cable,
                         physics::fit_cable(cable.sheet()).model, passes);
}

double sensor_offset_k(const physics::Pipe& pipe, const hold::LossCurve& loss, double water_c, double air_c,
                       double angle_rad, const physics::HeatingCable& cable, const physics::CableModel& model,
                       int passes) {
  const WallFilms films = wall_films(pipe, loss, water_c, air_c);
  const double power_w_per_m = loss.loss_w_per_m(water_c, air_c);
  const physics::WallProfile wall =
      physics::wall_profile(pipe, films.inner_w_per_m2_k, films.outer_w_per_m2_k, water_c, air_c,
                            power_w_per_m, cable.sheet().section.width_m);
  const double one_cable_w_per_m = power_w_per_m / passes;
  const double sheath_c = wall.at(0) + 0.5 * one_cable_w_per_m * model.core_to_pipe_m_k_per_w;
  physics::SensorMount mount;
  mount.angle_rad = angle_rad;
  return physics::sensor_reading_c(wall, mount, sheath_c) - water_c;
}

}  // namespace firstdraw::plan
