// Steady heat loss of a pipe to the room: resistances in series from water to air (ISO 12241), per metre.
//   q = (T_water - T_air) / (R_film + R_wall + sum ln(D_out/D_in)/(2 pi k_mean) + R_surface)
#pragma once

#include <vector>

#include "physics/insulation.hpp"
#include "physics/pipe.hpp"
#include "physics/surface.hpp"

namespace firstdraw::physics {

/// One concentric layer, inside to outside.
struct Layer {
  Insulation insulation;
  double inner_diameter_m = 0, outer_diameter_m = 0;
  double conductivity_factor = 1;  // wet or aged insulation, or a tolerance
};

struct PipeSection {
  double inner_diameter_m = 0, outer_diameter_m = 0;  // of the pipe
  double wall_conductivity_w_per_m_k = 0;             // 0: no resistance in the wall
  double inner_film_w_per_m2_k = 0;                   // 0: no resistance between water and wall
  std::vector<Layer> layers;  // a bore above the pipe leaves a gap without resistance, see docs/physics.md
};

PipeSection bare(const Pipe& pipe);
PipeSection insulated(const Pipe& pipe, const Insulation& insulation, const InsulationSize& size);

struct PipeLoss {
  double loss_w_per_m = 0;          // positive when the water is warmer than the air
  double surface_c = 0;             // outermost surface
  double wall_c = 0;                // outer wall of the pipe
  double resistance_m_k_per_w = 0;  // (water - air) / loss
  double surface_film_w_per_m2_k = 0;
  std::vector<double> layer_resistance_m_k_per_w;
  int iterations = 0;
};

/// Solves surface temperature and layer conductivities together, to 1e-12 of the loss. The ISO film law steps
/// up where it turns turbulent; a surface that would sit on the step takes the loss that the section can give
/// there.
PipeLoss pipe_loss(const PipeSection& section, double water_c, const Surroundings& around);
/// The loss alone, without allocating: for loops.
double loss_w_per_m(const PipeSection& section, double water_c, const Surroundings& around);

/// Fittings as metres of the same insulated pipe.
enum class Fitting { elbow, tee, valve_insulated, valve_bare, flange_bare, support };
/// Equivalent length beyond the centre-line length, straight lines between the points of
/// data/fitting_losses.csv (which has the sources) and held beyond them.
double equivalent_length_m(Fitting fitting, double pipe_outer_diameter_m);

}  // namespace firstdraw::physics
