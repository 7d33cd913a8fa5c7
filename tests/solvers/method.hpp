// What every independent solver of a draw::Scene has in common: it is told the flows and the shares of cable
// that hold until further notice, moves on in time, and is asked for temperatures. The equations are those at
// the head of src/draw/scene.hpp; none of this shares code with the simulation it checks.
#pragma once

#include <span>

namespace firstdraw::solvers {

class Method {
 public:
  virtual ~Method() = default;
  /// Flow in every run, m3/s, and share of output of every group, both until the next call.
  virtual void set(std::span<const double> flow_m3_per_s, std::span<const double> share) = 0;
  virtual void advance(double from_s, double to_s) = 0;
  /// Wall at a place along a run, and the water at its far end.
  virtual double wall_c(int run, double at_frac) const = 0;
  virtual double outlet_c(int run) const = 0;
};

}  // namespace firstdraw::solvers
