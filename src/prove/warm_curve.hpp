// Temperature of a pipe that is heated from cold, cable on without a break, water standing. Lumped, as
// hold::warm_up, whose time to a temperature this is turned round. Private to the room.
#pragma once

#include "physics/heating_cable.hpp"
#include "power/cold_start.hpp"

namespace firstdraw::prove {

struct WarmCase {
  power::StartPipe pipe;  // heat, loss and air per metre of pipe
  double derating_frac = 1;
  double volts = 0;        // that the cable gets
  double output_frac = 1;  // on the data sheet's output
  double loss_frac = 1;
  double start_c = 0;
};

/// Classic Runge-Kutta of order 4, steps of at most 60 s: the pipe's time constant is hours. Good to 1e-4 K
/// (its test).
double warm_pipe_c(const physics::HeatingCable& cable, const WarmCase& from, double time_s);

}  // namespace firstdraw::prove
