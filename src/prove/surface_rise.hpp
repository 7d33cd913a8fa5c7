// How much warmer than the air the jacket of an insulation is. Private to the room.
#pragma once

#include "hold/hold.hpp"

namespace firstdraw::prove {

/// Rise of the outermost surface over the air by what passes it: a power law through two rises of the film
/// law that the plan's loss rests on, 2 % off between 1 K and 40 K.
class SurfaceRise {
 public:
  SurfaceRise() = default;
  SurfaceRise(const hold::LossCurve& curve, double air_c);

  struct Sample {
    double rise_k = 0, by_loss = 0;  // slope: K per W/m
  };
  Sample at(double loss_w_per_m) const;

 private:
  double first_w_per_m_ = 1, exponent_ = 1;
};

}  // namespace firstdraw::prove
