// Film coefficients against published correlations and worked examples.
#include "physics/surface.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "published.hpp"
#include "within.hpp"

namespace firstdraw::physics {
namespace {

using reference::published;
using reference::within_frac;

double printed(const std::string& id) {
  for (const auto& row : published("surface_coefficient_checks").rows()) {
    if (row.text("id") == id) return row.number("published");
  }
  throw std::runtime_error("no check " + id);
}

// Examples in the open ht library (conv_free_immersed), printed to 17 digits (read). The same correlations:
// 1e-6 leaves room for nothing but another order of operations.
TEST(Surface, NusseltNumbersOfHtLibrary) {
  EXPECT_TRUE(within_frac(nusselt_churchill_chu_cylinder(2.63e9, 0.69), printed("S1"), 1e-6));
  EXPECT_TRUE(within_frac(nusselt_churchill_chu_plate(2.63e9, 0.69), printed("S2"), 1e-6));
  EXPECT_TRUE(within_frac(nusselt_popiel_vertical_cylinder(1e10, 0.7, 2.5, 1), printed("S3"), 1e-6));
}

// Incropera and others, chapter 9, horizontal steam pipe of 0.1 m at 165 degC in a room of 23 degC,
// emissivity 0.85, with the book's properties at 367 K (memory). The book rounds Nu to 23.3 where its own
// numbers give 23.09: 1 %.
TEST(Surface, SteamPipeExample) {
  const double nu = 22.8e-6, alpha = 32.8e-6, k = 0.0313, beta = 2.725e-3, diameter_m = 0.1;
  const double prandtl = 0.697, rise_k = 142;
  const double rayleigh = 9.8 * beta * rise_k * std::pow(diameter_m, 3) / (nu * alpha);
  EXPECT_TRUE(within_frac(rayleigh, printed("S4a"), 1e-3));
  const double film = nusselt_churchill_chu_cylinder(rayleigh / prandtl, prandtl) * k / diameter_m;
  EXPECT_TRUE(within_frac(film, printed("S4b"), 0.01));
  const double around_m = std::numbers::pi * diameter_m;
  EXPECT_TRUE(within_frac(film * around_m * rise_k, printed("S4c"), 0.01));
  // The book takes 438 and 296 K and prints three digits.
  const Surroundings room{.air_c = 296 - 273.15, .emissivity = 0.85};
  const double radiated = radiation_w_per_m2_k(438 - 273.15, room) * around_m * rise_k;
  EXPECT_NEAR(radiated, printed("S4d"), 0.5);
  EXPECT_TRUE(within_frac(film * around_m * rise_k + radiated, printed("S4e"), 0.01));
}

// The same pipe with the program's own air: its film temperature of 94 degC is inside the air table. Against
// the book's total of 766 W/m (memory), 1 %.
TEST(Surface, SteamPipeExampleWithOwnAir) {
  const Surroundings room{.air_c = 23, .emissivity = 0.85, .law = FilmLaw::churchill_chu};
  const double film = convection_w_per_m2_k(0.1, 165, room) + radiation_w_per_m2_k(165, room);
  EXPECT_TRUE(within_frac(film * std::numbers::pi * 0.1 * 142, printed("S4e"), 0.01));
}

// Cengel, chapter 9: 6 m of 8 cm hot-water pipe at 70 degC in a room of 20 degC, with the book's air at 45
// degC (memory); printed to three digits: 0.5 %. The book's air conducts 2.6 % less than Lemmon and
// Jacobsen's (0.02699 against 0.0277), and so the program's own air gives 449 W for its 443: the book is the
// lower of the two, so no check is made of that.
TEST(Surface, HotWaterPipeExample) {
  const double nu = 1.750e-5, prandtl = 0.7241, k = 0.02699, diameter_m = 0.08, rise_k = 50;
  const double rayleigh = 9.81 * rise_k * std::pow(diameter_m, 3) / (318 * nu * nu) * prandtl;
  EXPECT_TRUE(within_frac(rayleigh, printed("S5a"), 0.005));
  const double nusselt = nusselt_churchill_chu_cylinder(rayleigh / prandtl, prandtl);
  EXPECT_TRUE(within_frac(nusselt, printed("S5b"), 0.005));
  const double area_m2 = 6 * std::numbers::pi * diameter_m;
  EXPECT_TRUE(within_frac(nusselt * k / diameter_m * area_m2 * rise_k, printed("S5c"), 0.005));
  const Surroundings room{.air_c = 20, .emissivity = 1};
  EXPECT_TRUE(within_frac(radiation_w_per_m2_k(70, room) * area_m2 * rise_k, printed("S5d"), 0.005));
}

// UK Home Energy Model, fit to CIBSE Guide C eqs 3.101, 3.107 and 3.108 for bare copper pipe, 40 K above 20
// degC (read). The emissivity of 0.6 is ours, chosen once for tarnished copper; a fit over sizes against a
// law: 2 %.
TEST(Surface, BareCopperPipeOfCibseFit) {
  for (const int diameter_mm : {15, 22, 28, 35, 42, 54}) {
    const double d = diameter_mm;
    const double fit = 0.02761 * std::pow(d, 0.8254) * std::pow(40, 1.245135 - 0.001793 * std::log(d));
    EXPECT_TRUE(within_frac(fit, printed("S6-" + std::to_string(diameter_mm)), 1e-3));
    const Surroundings room{.air_c = 20, .emissivity = 0.6};
    const double film = convection_w_per_m2_k(d * 1e-3, 60, room) + radiation_w_per_m2_k(60, room);
    EXPECT_TRUE(within_frac(film * std::numbers::pi * d * 1e-3 * 40, fit, 0.02)) << diameter_mm << " mm";
  }
}

// ISO 12241, moving air (memory), against Churchill and Bernstein 1977 for a cylinder across a stream
// (memory): another author's data, stated there to hold within 20 %. Below v D = 0.07 m2/s, where the ISO law
// is the laminar one; above it the ISO law is for the turbulence outdoors and lies higher.
TEST(Surface, IsoWindAgainstChurchillBernstein) {
  for (const double diameter_m : {0.03, 0.06, 0.12}) {
    for (const double speed_diameter : {0.01, 0.03, 0.06}) {
      Surroundings draught{.air_c = 20, .air_speed_m_per_s = speed_diameter / diameter_m};
      const double iso = convection_w_per_m2_k(diameter_m, 20.01, draught);
      draught.law = FilmLaw::churchill_chu;
      EXPECT_TRUE(within_frac(iso, convection_w_per_m2_k(diameter_m, 20.01, draught), 0.2)) << speed_diameter;
    }
  }
}

// In a breath of air the still-air value stays: forced convection never lowers it.
TEST(Surface, MovingAirNeverInsulates) {
  for (const FilmLaw law : {FilmLaw::iso_12241, FilmLaw::churchill_chu, FilmLaw::astm_c680_1989}) {
    const Surroundings still{.air_c = 20, .law = law};
    Surroundings breath = still;
    breath.air_speed_m_per_s = 0.01;
    EXPECT_GE(convection_w_per_m2_k(0.1, 60, breath), convection_w_per_m2_k(0.1, 60, still));
  }
}

}  // namespace
}  // namespace firstdraw::physics
