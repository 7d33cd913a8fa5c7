// Elementary relations of a heating cable as a circuit. docs/circuits.md; tests/reference/power_test.cpp.
#pragma once

namespace firstdraw::power {

/// Copper at another temperature: R20 (1 + 0.00393 (T - 20)), the coefficient of annealed copper in IEC
/// 60228.
double copper_resistance_at(double at_20c, double temp_c);

/// Standing current from the bus wires to the braid, A. `capacitance_f_per_m` is of both wires together.
/// Phase to neutral one wire is live: 2 pi f (C/2) V L. Phase to phase of a wye the two wires add up to the
/// third phase reversed, V/sqrt(3), so the residual current is 0.577 of that, and of a centre-tapped 120/240
/// V supply nil; the same formula with the voltage across the cable is therefore taken everywhere, on the
/// safe side. A supply with an earthed corner is not covered.
double standing_leakage_a(double capacitance_f_per_m, double length_m, double voltage_v, double frequency_hz);

}  // namespace firstdraw::power
