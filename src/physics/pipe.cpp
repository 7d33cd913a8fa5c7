#include "physics/pipe.hpp"

#include <numbers>

#include "physics/pipe_tables.hpp"

namespace firstdraw::physics {

double Pipe::bore_area_m2() const { return std::numbers::pi / 4 * inner_diameter_m() * inner_diameter_m(); }

double Pipe::wall_area_m2() const {
  return std::numbers::pi / 4 * outer_diameter_m * outer_diameter_m - bore_area_m2();
}

std::span<const Pipe> all_pipes() { return pipe_tables().pipes; }

}  // namespace firstdraw::physics
