// Heat transfer from water flowing in a pipe to its wall, and the spread of a front along the pipe.
#pragma once

namespace firstdraw::physics {

/// Reynolds number of water at `water_c` flowing at `speed_m_per_s` in a bore.
double reynolds(double inner_diameter_m, double speed_m_per_s, double water_c);

/// Mean film over `length_m` of pipe, W/(m2 K) of bore. Laminar below Re 2300 (with thermal entry length),
/// Gnielinski above Re 4000, straight between the two at equal Prandtl number; never below still water's
/// conduction (Nu 3.66). Sources in docs/physics.md.
double flowing_film_w_per_m2_k(double inner_diameter_m, double length_m, double speed_m_per_s,
                               double water_c);

/// Nusselt numbers behind it, exposed for checks.
double nusselt_gnielinski(double reynolds, double prandtl, double friction_factor);
double friction_factor_smooth(double reynolds);  // Petukhov / Konakov form, named in the source

/// Effective axial diffusivity of heat in the water, m2/s: Taylor 1954 in turbulent flow, Taylor-Aris in
/// laminar flow once the flow has had time to mix across the bore (limited by how far it has come:
/// `travelled_s`).
double axial_mixing_m2_per_s(double inner_diameter_m, double speed_m_per_s, double water_c,
                             double travelled_s);

}  // namespace firstdraw::physics
