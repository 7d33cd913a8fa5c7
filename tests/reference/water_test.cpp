// Water against the verification tables of the IAPWS releases, and against IAPWS-95 evaluated elsewhere.
#include "physics/water.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <string>

#include "published.hpp"
#include "within.hpp"

namespace firstdraw::physics {
namespace {

using reference::published;
using reference::within_frac;

double region1(const std::string& property, double temp_k, double pressure_mpa) {
  const If97 at = if97_region1(temp_k, pressure_mpa);
  const std::map<std::string, double> values{{"v", at.volume_m3_per_kg},
                                             {"h", at.enthalpy_j_per_kg / 1e3},
                                             {"u", at.internal_energy_j_per_kg / 1e3},
                                             {"s", at.entropy_j_per_kg_k / 1e3},
                                             {"cp", at.heat_capacity_j_per_kg_k / 1e3},
                                             {"w", at.sound_m_per_s}};
  return values.at(property);
}

// IAPWS R7-97 Table 5 (read), R12-08 Table 4 and R15-11 Table 4 (one state each read, the others memory). The
// tables print nine or ten digits: half a unit of the last is up to 5e-9 of the value, so 1e-8 is their own
// rounding.
TEST(Water, AgreesWithVerificationTablesOfIapws) {
  int checked = 0;
  for (const auto& row : published("iapws_verification_values").rows()) {
    const std::string& property = row.text("property");
    double value = 0;
    if (property.starts_with("viscosity")) {
      value = 1e6 * viscosity_pa_s(row.number("T_K"), row.number("density_kg_m3"));
    } else if (property.starts_with("conductivity")) {
      value = 1e3 * conductivity_w_per_m_k(row.number("T_K"), row.number("density_kg_m3"));
    } else {
      value = region1(property, row.number("T_K"), row.number("P_MPa"));
    }
    EXPECT_TRUE(within_frac(value, row.number("published"), 1e-8))
        << row.text("document") << ' ' << property << " at " << row.text("T_K") << " K";
    ++checked;
  }
  EXPECT_EQ(checked, 24);
}

// IAPWS-95 (R6-95) at 0.5 MPa by the open iapws package (computed). The two formulations are allowed to
// differ: 0.015 kg/m3 and 2.2 J/(kg K) are the largest differences of that table from its own IF97 columns;
// viscosity and conductivity feel only the density. Expansion is a derivative: 1.5e-6 1/K is what 0.015 kg/m3
// over 10 K would be.
TEST(Water, AgreesWithIapws95From0To100C) {
  for (const auto& row : published("water_properties_0p5MPa").rows()) {
    SCOPED_TRACE(row.text("T_C") + " degC");
    const Water at = water(row.number("T_C"));
    EXPECT_NEAR(at.density_kg_per_m3, row.number("density_kg_m3"), 0.016);
    EXPECT_NEAR(at.heat_capacity_j_per_kg_k, row.number("cp_J_kgK"), 2.3);
    EXPECT_NEAR(at.density_kg_per_m3, row.number("density_IF97_kg_m3"), 0.0006);  // printed to 0.001
    EXPECT_NEAR(at.heat_capacity_j_per_kg_k, row.number("cp_IF97_J_kgK"), 0.06);  // printed to 0.1
    EXPECT_TRUE(within_frac(at.viscosity_pa_s * 1e6, row.number("viscosity_uPas"), 1e-4));
    EXPECT_TRUE(within_frac(at.conductivity_w_per_m_k, row.number("conductivity_W_mK"), 1e-4));
    EXPECT_NEAR(at.expansion_per_k, 1e-3 * row.number("beta_1e-3_per_K"), 1.5e-6);
    EXPECT_NEAR(at.prandtl(), row.number("Pr"), 1e-3 * row.number("Pr"));
  }
}

TEST(Water, HoldsItsLimits) {
  EXPECT_EQ(water(-5).density_kg_per_m3, water(0).density_kg_per_m3);
  EXPECT_EQ(water(120).viscosity_pa_s, water(100).viscosity_pa_s);
}

}  // namespace
}  // namespace firstdraw::physics
