#include "power/electrical.hpp"

#include <numbers>

namespace firstdraw::power {

double copper_resistance_at(double at_20c, double temp_c) { return at_20c * (1 + 0.00393 * (temp_c - 20)); }

double standing_leakage_a(double capacitance_f_per_m, double length_m, double voltage_v,
                          double frequency_hz) {
  return 2 * std::numbers::pi * frequency_hz * 0.5 * capacitance_f_per_m * length_m * voltage_v;
}

}  // namespace firstdraw::power
