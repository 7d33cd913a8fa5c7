// What electrical readings mean: temperature from resistance, length from capacitance or loop resistance,
// insulation resistance at another temperature. Pure functions, SI. Sources beside each; docs/field-tests.md.
#pragma once

#include <optional>
#include <string_view>

namespace firstdraw::prove {

/// "pt100", "pt1000" (IEC 60751), "ntc10k" (a generic 10 kOhm thermistor, Steinhart-Hart); nullopt: unknown
/// kind, or resistance outside what the sensor can have (-50...150 degC).
std::optional<double> sensor_c(std::string_view kind, double ohm);
std::optional<double> sensor_ohm(std::string_view kind, double temp_c);
/// Limit of error of the sensor itself, K: class B for platinum, 0.5 K for the thermistor (our choice).
double sensor_error_k(std::string_view kind, double temp_c);

/// By how much a sensor read over two wires shows too warm (a thermistor: too cold), K: `lead_ohm` is of both
/// leads. Over three wires of one length the leads cancel. nullopt as sensor_c.
std::optional<double> lead_error_k(std::string_view kind, double temp_c, double lead_ohm);

/// Metres of cable from the capacitance of both bus wires, tied, to the braid.
double length_from_capacitance_m(double farad, double farad_per_m);

/// Metres from the loop resistance with the far end joined and open: atanh(sqrt(Rs/Ro)) sqrt(Rs Ro) / r,
/// exact for a cable without tees whatever its core's resistance. nullopt when Rs >= Ro or not positive.
std::optional<double> length_from_loop_m(double short_ohm, double open_ohm, double loop_ohm_per_m);

/// Copper at another temperature: R20 (1 + 0.00393 (T - 20)).
double copper_ohm_at(double ohm_20, double temp_c);

/// Insulation resistance as it would be at 20 degC, halving every 10 K (IEEE 43); the rule may be off by -25
/// % to +50 % over 20 K, so a verdict shows both.
double insulation_ohm_at_20(double ohm, double temp_c);

}  // namespace firstdraw::prove
