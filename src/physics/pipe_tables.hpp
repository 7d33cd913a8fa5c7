// The pipe tables of data/pipes_*.csv and data/pipe_materials.csv, read once, with the index that find_pipe
// uses.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "physics/pipe.hpp"

namespace firstdraw::physics {

/// A size as read from text: a nominal size in inches, or an outer diameter in mm with or without a wall.
struct PipeSize {
  bool metric = false;
  double value = 0;               // in or mm
  std::optional<double> wall_mm;  // "22x1"
};

/// Reads "1-1/4 in", "1 1/4", "3/4\"", "NPS 2", "DN 25", "22 mm", "22x1", "22 x 1 mm"; empty if it is no
/// size. A number without a unit and without a wall is in inches.
std::optional<PipeSize> read_pipe_size(std::string_view text);

/// One material and type, whose sizes rise.
struct PipeFamily {
  std::string material, type;
  bool metric = false;              // sizes are outer diameters in mm
  std::size_t first = 0, last = 0;  // range in PipeTables::pipes
};

struct PipeTables {
  std::vector<Pipe> pipes;
  std::vector<bool> usual;      // [pipes] the wall taken when only the outer diameter is given
  std::vector<double> nominal;  // [pipes] in or mm
  std::vector<PipeFamily> families;
  std::vector<std::string> materials;                              // in the order of pipe_materials.csv
  std::map<std::string, std::string, std::less<>> material_names;  // folded name or alias → material
  std::vector<std::string> material_words;                 // every name as written, for "did you mean"
  std::unordered_map<std::uint64_t, std::size_t> by_size;  // size_key → pipe

  static std::uint64_t size_key(std::size_t family, double value, double wall_mm);
};

const PipeTables& pipe_tables();

}  // namespace firstdraw::physics
