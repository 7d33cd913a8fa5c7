// Heat transfer from water flowing in a pipe to its wall, and the spread of a front along the pipe.
#pragma once

#include "physics/water.hpp"

namespace firstdraw::physics {

/// Reynolds number of water at `water_c` flowing at `speed_m_per_s` in a bore.
double reynolds(double inner_diameter_m, double speed_m_per_s, double water_c);

/// Mean film over `length_m` of pipe, W/(m2 K) of bore. Laminar below Re 2300 (with thermal entry length),
/// Gnielinski above Re 4000, straight between the two at equal Prandtl number; never below still water's
/// conduction (Nu 3.66). Sources in docs/physics.md.
double flowing_film_w_per_m2_k(double inner_diameter_m, double length_m, double speed_m_per_s,
                               double water_c);
/// The same for many speeds of one water.
double flowing_film_w_per_m2_k(double inner_diameter_m, double length_m, double speed_m_per_s,
                               const Water& water);

/// Nusselt numbers behind it, exposed for checks.
double nusselt_gnielinski(double reynolds, double prandtl, double friction_factor);
/// Darcy's, smooth pipe: Konakov 1946, (1.8 lg Re - 1.5)^-2, as in Gnielinski 2013 (memory).
double friction_factor_smooth(double reynolds);

/// Effective axial diffusivity K of heat in the water, m2/s: a front that has travelled for `travelled_s` has
/// spread to a variance of 2 K travelled_s. Turbulent: Taylor 1954. Laminar: Taylor-Aris once the flow has
/// had time to mix across the bore, less before. Straight in the Reynolds number between 2300 and 4000.
double axial_mixing_m2_per_s(double inner_diameter_m, double speed_m_per_s, double water_c,
                             double travelled_s);

}  // namespace firstdraw::physics
