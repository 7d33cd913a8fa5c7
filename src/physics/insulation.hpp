// Insulation: conductivity at the layer's mean temperature, and the preformed sizes that really exist,
// because insulation must clear the pipe and the cable on it.
#pragma once

#include <expected>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::physics {

/// k(T) through published points, linear between them and held beyond them. What counts for a layer is the
/// integral of k between its face temperatures (ASTM C680, ISO 12241; memory), taken exactly here; within one
/// straight piece its mean is k at the mean of the two face temperatures.
struct Insulation {
  std::string id;    // "glass-fibre", "mineral-wool", "elastomeric", "cellular-glass", "polyisocyanurate",
                     // "phenolic", "pe-foam"
  std::string name;  // "glass fibre, preformed (ASTM C547)"
  std::vector<double> mean_c;
  std::vector<double> conductivity_w_per_m_k;
  double density_kg_per_m3 = 0, heat_capacity_j_per_kg_k = 0;
  double max_c = 0;
  bool rigid = true;  // rigid shells need a bore that clears the cable; flexible tube too, by the next size
  std::string source;

  double conductivity_at(double temp_c) const;
  /// (integral of k from one face to the other) / (difference of the faces); k at the face when they are
  /// equal.
  double mean_conductivity(double face_c, double other_face_c) const;
  /// The temperature T at which the integral of k from T to `face_c` is `flux_integral_w_per_m`: what a
  /// layer's other face must be (Kirchhoff's transformation, solved piece by piece).
  double other_face_c(double face_c, double flux_integral_w_per_m) const;
};

/// By id or by name as people write it ("glass fibre", "fiberglass"); on failure names the nearest.
std::expected<Insulation, std::string> find_insulation(std::string_view text);
std::span<const Insulation> all_insulations();

/// Cross-section of a cable laid along the pipe.
struct CableSection {
  double width_m = 0, thickness_m = 0;
  bool operator==(const CableSection&) const = default;
};

enum class SizeSeries { inch_iron, inch_tube, metric };  // ASTM C585 NPS and tube tables; metric bores

/// A preformed size that exists.
struct InsulationSize {
  SizeSeries series{};
  std::string made_for;  // "NPS 1", "tube 1", "28 mm"
  double bore_m = 0, outer_diameter_m = 0;
  double nominal_thickness_m = 0;                                           // what is ordered
  double thickness_m() const { return 0.5 * (outer_diameter_m - bore_m); }  // what is really there
  std::string source;
};

/// Diameter of the smallest circle that holds a pipe and `passes` flat cables of this section on its wall.
/// One cable: exact (circle through the far side of the pipe and the cable's two outer corners); two or more:
/// concentric.
double clearance_bore_m(double pipe_outer_diameter_m, CableSection cable, int passes);

/// The smallest preformed size of `series` whose bore clears pipe and cable, with the outer diameter the
/// table gives for `nominal_thickness_m`. Where the table has no such thickness for that bore (flexible tube,
/// EN thicknesses in an inch bore) the wall is as ordered. Beyond the largest bore the bore is the clearance
/// itself and `made_for` says "made to measure". `passes` 0: pipe without cable.
InsulationSize fit_insulation(double pipe_outer_diameter_m, CableSection cable, int passes,
                              double nominal_thickness_m, SizeSeries series);

}  // namespace firstdraw::physics
