// The wall of a heated pipe as the sensor and the cable feel it: films for the wall-angle model, what the
// sensor reads.
#pragma once

#include "hold/hold.hpp"
#include "physics/heating_cable.hpp"
#include "physics/pipe.hpp"

namespace firstdraw::plan {

/// Films on the two sides of the wall, W/(m2 K): standing water inside, insulation and air outside.
struct WallFilms {
  double inner_w_per_m2_k = 0, outer_w_per_m2_k = 0;
};
WallFilms wall_films(const physics::Pipe& pipe, const hold::LossCurve& loss, double water_c, double air_c);

/// What a sensor at `angle_rad` from the cable reads above the water when the cable just covers the loss, K.
/// The sheath beside the bulb is taken half-way between the pipe and the core of the fitted cable model: the
/// sheet tells no more (assumption, no source; nil at the usual mounting opposite the cable).
double sensor_offset_k(const physics::Pipe& pipe, const hold::LossCurve& loss, double water_c, double air_c,
                       double angle_rad, const physics::HeatingCable& cable, int passes);
/// The same with the cable's fitted model at hand.
double sensor_offset_k(const physics::Pipe& pipe, const hold::LossCurve& loss, double water_c, double air_c,
                       double angle_rad, const physics::HeatingCable& cable, const physics::CableModel& model,
                       int passes);

}  // namespace firstdraw::plan
