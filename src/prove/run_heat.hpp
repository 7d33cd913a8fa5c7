// Loss of a pipe and output of a cable, arranged for very many evaluations with derivatives. They follow
// hold::LossCurve to about 1 % (bare pipe 3 %) and the data sheet to its grid, which is far below what a
// reading on site can tell.
#pragma once

#include <array>
#include <vector>

#include "hold/hold.hpp"
#include "physics/heating_cable.hpp"

namespace firstdraw::prove {

/// Per metre of loss length: U(d, f) = 1 / (a(d) + b(d) / f), d the water's rise above the air, f the factor
/// on the insulation's conductivity; a and b quadratics through three rises.
class RunHeat {
 public:
  RunHeat() = default;
  RunHeat(const hold::LossCurve& curve, double air_c);

  struct Loss {
    double w_per_m = 0, by_k = 0, by_log_factor = 0;
  };
  Loss at(double rise_k, double factor) const;

 private:
  std::array<double, 3> fixed_{}, insulation_{};  // a and b: coefficients of 1, d, d^2
};

struct Sample {
  double value = 0, slope = 0;
};

/// One data sheet: output at rated voltage by pipe temperature, factor by voltage. Beyond the sheet's
/// voltages the power law of its last two points goes on (without two points: in proportion to voltage), as
/// forecast::make_scene takes it; at 0 V nothing.
class CableTable {
 public:
  explicit CableTable(const physics::CableSheet& sheet);
  Sample output(double pipe_c) const;
  Sample factor(double volts) const;
  const physics::CableSheet& sheet() const { return sheet_; }
  /// Of a metre of core at rest at this temperature, from the fitted model, ohm m.
  double core_ohm_m(double pipe_c) const;

 private:
  physics::CableSheet sheet_;
  physics::CableModel model_;
  std::vector<double> output_, factor_;
};

}  // namespace firstdraw::prove
