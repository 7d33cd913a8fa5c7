// Liquid water at the pressure of a domestic system (0.5 MPa), 0 to 100 degC.
// IAPWS-IF97 region 1 (R7-97) for density, heat capacity and enthalpy; viscosity R12-08; conductivity R15-11.
#pragma once

namespace firstdraw::physics {

/// Properties at `temp_c`; outside 0..100 degC the temperature is held at the limit.
struct Water {
  double density_kg_per_m3;
  double heat_capacity_j_per_kg_k;
  double conductivity_w_per_m_k;
  double viscosity_pa_s;
  double expansion_per_k;  // isobaric

  double kinematic_viscosity_m2_per_s() const { return viscosity_pa_s / density_kg_per_m3; }
  double diffusivity_m2_per_s() const {
    return conductivity_w_per_m_k / (density_kg_per_m3 * heat_capacity_j_per_kg_k);
  }
  double prandtl() const { return viscosity_pa_s * heat_capacity_j_per_kg_k / conductivity_w_per_m_k; }
};

Water water(double temp_c);

/// IAPWS-IF97 region 1, for checks against the release: T in K, p in MPa.
struct If97 {
  double volume_m3_per_kg, enthalpy_j_per_kg, heat_capacity_j_per_kg_k;
  double internal_energy_j_per_kg, entropy_j_per_kg_k, sound_m_per_s;
  double expansion_per_k;  // isobaric
};
If97 if97_region1(double temp_k, double pressure_mpa);
/// R12-08 without critical enhancement.
double viscosity_pa_s(double temp_k, double density_kg_per_m3);
/// R15-11 without critical enhancement.
double conductivity_w_per_m_k(double temp_k, double density_kg_per_m3);

}  // namespace firstdraw::physics
