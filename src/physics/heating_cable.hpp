// Self-regulating heating cable: the data sheet as given, its monotone interpolation, and the two-parameter
// physical model fitted to it (core resistance that rises with temperature, core-to-pipe thermal resistance).
#pragma once

#include <expected>
#include <optional>
#include <string>
#include <vector>

#include "physics/insulation.hpp"

namespace firstdraw::physics {

struct OutputPoint {
  double pipe_c = 0, power_w_per_m = 0;
  bool operator==(const OutputPoint&) const = default;
};
struct VoltagePoint {
  double voltage_v = 0, output_factor = 0;  // of the output at rated voltage
  bool operator==(const VoltagePoint&) const = default;
};
struct ColdStartPoint {
  double start_c = 0;
  double peak_a_per_m = 0;     // at switching on
  double settled_a_per_m = 0;  // after 300 s, which sizes the breaker (IEEE 515.1 practice, memory)
  bool operator==(const ColdStartPoint&) const = default;
};
struct MaxLengthPoint {
  double breaker_a = 0, voltage_v = 0, start_c = 0, length_m = 0;
  bool operator==(const MaxLengthPoint&) const = default;
};

/// What a maker's data sheet says.
struct CableSheet {
  std::string id, name, maker;
  double rated_voltage_v = 0;
  std::vector<OutputPoint> output;         // rising pipe temperature
  std::vector<VoltagePoint> voltage;       // rising voltage; the voltages the sheet allows
  std::vector<ColdStartPoint> cold_start;  // rising start temperature, at rated voltage
  std::vector<MaxLengthPoint> max_length;
  double output_tolerance_frac = 0;  // +- on power
  double bus_loop_ohm_per_m = 0;     // both bus wires, 20 degC
  std::string bus_conductor;         // "16 AWG", "1.25 mm2"
  double capacitance_f_per_m = 0;    // both bus wires to braid
  double max_powered_c = 0, max_unpowered_c = 0, min_install_c = 0, min_bend_radius_m = 0;
  CableSection section;
  double price_per_m = 0;  // in the job's currency; NaN when not given
  std::string source;      // file, document number, issue
  bool operator==(const CableSheet&) const = default;
};

/// Steady output of a cable on a metal pipe, interpolated without overshoot (monotone cubic,
/// Fritsch-Carlson). Beyond the table's ends the end value is held and `extrapolated` says so. A sheet
/// without voltage table allows its rated voltage only. Nothing here allocates after construction.
class HeatingCable {
 public:
  /// Throws std::logic_error for a sheet without rated voltage or output, or whose tables do not rise.
  explicit HeatingCable(CableSheet sheet);
  const CableSheet& sheet() const { return sheet_; }

  struct Output {
    double power_w_per_m = 0;
    bool extrapolated = false;
  };
  Output output(double pipe_c, double voltage_v) const;
  double power_w_per_m(double pipe_c, double voltage_v) const {
    return output(pipe_c, voltage_v).power_w_per_m;
  }
  double voltage_factor(double voltage_v) const;
  bool allows_voltage(double voltage_v) const;

  struct StartCurrent {
    double peak_a_per_m = 0, settled_a_per_m = 0;
    bool extrapolated = false;
  };
  /// Scaled from rated voltage in proportion to voltage (a core that is still cold is a resistor). Straight
  /// lines between the sheet's points; NaN when the sheet has none.
  StartCurrent start_current(double start_c, double voltage_v) const;

  /// Longest circuit on a breaker from the sheet's table: the nearest lower start temperature and the same
  /// voltage class (within 10 %); none if the sheet has no such row.
  std::optional<double> max_length_m(double breaker_a, double voltage_v, double start_c) const;

 private:
  /// A monotone curve through points, flat beyond its ends.
  struct Curve {
    Curve(std::vector<double> at, std::vector<double> value);
    double operator()(double at) const;
    std::vector<double> x, y, slopes;
  };
  CableSheet sheet_;
  Curve output_;  // W/m at rated voltage, by pipe temperature
  Curve factor_;  // by voltage
  std::vector<double> start_c_, peak_, settled_;
};

/// R(T) = r0 exp(beta (T - T0)), T = pipe + p Rc, p = V^2/R(T).  docs/physics.md; W is Lambert's function:
/// p = W(beta Rc V^2/R(T_pipe)) / (beta Rc).
struct CableModel {
  double reference_c = 10;
  double core_ohm_m = 0;  // at reference_c
  double beta_per_k = 0;
  double core_to_pipe_m_k_per_w = 0;

  double power_w_per_m(double pipe_c, double voltage_v) const;
  double core_c(double pipe_c, double voltage_v) const;
  double inrush_ratio(double pipe_c, double voltage_v) const;
  double voltage_exponent(double pipe_c, double voltage_v) const;
};
struct CableFit {
  CableModel model;
  double worst_output_error_frac = 0;  // of model against the sheet's output and voltage tables
};
/// Least squares of ln p on every output of the sheet at every voltage of the sheet. NaN without any output
/// above 0.
CableFit fit_cable(const CableSheet& sheet);

}  // namespace firstdraw::physics
