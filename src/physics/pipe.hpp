// Pipes of the published dimension tables: copper ASTM B88 (K, L, M) and EN 1057, steel and stainless
// ASME B36, CPVC ASTM D2846, PEX ASTM F876.
#pragma once

#include <expected>
#include <span>
#include <string>
#include <string_view>

namespace firstdraw::physics {

struct Pipe {
  std::string material;  // "copper", "steel", "stainless", "cpvc", "pex"
  std::string type;      // "L", "EN 1057", "40", "10S", "SDR11", "SDR9"
  std::string size;      // nominal size as in the table: "1-1/4" (in) or "22x1" (mm)
  double outer_diameter_m = 0, wall_m = 0;
  double conductivity_w_per_m_k = 0, density_kg_per_m3 = 0, heat_capacity_j_per_kg_k = 0;
  double max_c = 0;  // highest service temperature of the material in pressure use, with source below
  std::string source;

  double inner_diameter_m() const { return outer_diameter_m - 2 * wall_m; }
  double bore_area_m2() const;
  double wall_area_m2() const;
};

/// Finds a pipe by what people write in three cells: material ("copper"), type ("L"; empty when the material
/// has one type or the size implies it) and size ("1-1/4 in", "22 mm", "22x1", "22 x 1 mm"; inch sizes may
/// omit the unit). On failure: one sentence naming the nearest known choice.
std::expected<Pipe, std::string> find_pipe(std::string_view material, std::string_view type,
                                           std::string_view size);
/// The same from one text: "copper L 1", "pex 3/4 in", "copper 22x1".
std::expected<Pipe, std::string> find_pipe(std::string_view text);

/// Every pipe of the tables, by material, type and rising diameter.
std::span<const Pipe> all_pipes();

}  // namespace firstdraw::physics
