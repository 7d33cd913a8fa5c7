// Thermal inactivation of Legionella in suspension: published decimal reduction times, and what a history of
// temperatures comes to. Biofilm and amoebae are not covered by these figures.
#pragma once

#include <span>
#include <string>

namespace firstdraw::physics {

/// One published set of D-values: minutes for a tenfold reduction; log10 D is straight between points and is
/// continued with the nearest slope above the last, never below the first (no inactivation is counted there).
struct InactivationSet {
  std::string id, source, basis;
  std::span<const double> temp_c, decimal_reduction_s;
};
/// data/legionella_inactivation.csv; the first is the default, the slower set.
std::span<const InactivationSet> inactivation_sets();

/// Seconds for a tenfold reduction at a temperature; infinity below the set's first point.
double decimal_reduction_s(const InactivationSet& set, double water_c);

}  // namespace firstdraw::physics
