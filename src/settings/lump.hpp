// One run as a lump of heat, C dT/dt = duty * output(T) - factor * loss(T), with output and loss straight
// between the points of the grid: on each piece the solution is an exponential, and nothing is approximated.
#pragma once

#include <limits>

#include "settings/group_model.hpp"

namespace firstdraw::settings {

class Lump {
 public:
  Lump(const ModelRun& run, double loss_factor);

  struct Course {
    double end_c = 0, took_s = 0;
    double output_j = 0;         // integral of the output while on, duty left out
    double log_sensitivity = 0;  // ln of d end / d begin
  };
  /// Under one duty for `lasts_s`, or until `target_c` is met if that is sooner.
  Course advance(double from_c, double duty, double lasts_s,
                 double target_c = std::numeric_limits<double>::quiet_NaN()) const;

 private:
  struct Piece {
    double start_c, rate_k_per_s, rate_per_s, output_w, output_w_per_k;  // at start_c, and slopes
  };
  Piece piece(int index, double duty) const;

  const double *loss_w_, *output_w_;
  double per_capacity_, factor_;
};

/// Where duty * output = factor * loss, on the grid and beyond its ends; both as arrays of the grid.
double balance_c(const std::vector<double>& loss_w, const std::vector<double>& output_w, double loss_factor,
                 double duty);

/// Value of an array of the grid at a temperature.
double on_grid(const std::vector<double>& values, double water_c);

}  // namespace firstdraw::settings
