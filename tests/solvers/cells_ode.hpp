// Right-hand side, Jacobian and linear systems of upwind cells. State: water, wall, inner and outer
// insulation of cell 0, then of cell 1, and so on.
#pragma once

#include <span>
#include <vector>

#include "solvers/grid.hpp"

namespace firstdraw::solvers {

inline constexpr int per_cell = 4;

/// What one cell's rates depend on, 1/s: rate of water = exchange (W - T) + flow (T upstream - T), and so on.
/// Two-letter neighbours name from which to which.
struct CellRates {
  int upstream = -1;  // cell; none at the supply
  double flow = 0;
  double water_wall = 0, wall_water = 0, wall_inner = 0, inner_wall = 0, inner_outer = 0, outer_inner = 0;
  double outer_air = 0, wall_j_per_m_k = 0;
};

class CellsOde {
 public:
  explicit CellsOde(Grid grid);
  const Grid& grid() const { return grid_; }
  int size() const { return per_cell * grid_.cells; }
  void set(std::span<const double> flow_m3_per_s, std::span<const double> share);

  void rates(const double* state, double* rate) const;
  /// Derivative of each cell's wall rate in its own wall temperature that comes from cable and loss, 1/s.
  void source_slopes(const double* state, std::vector<double>& slope_per_s) const;
  /// x of (I - gamma J) x = b, in place, one pass: in each cell the insulation and the wall are eliminated,
  /// and water then depends on the water upstream only, whose cell comes first.
  void solve(double gamma_s, std::span<const double> slope_per_s, const double* b, double* x) const;
  const std::vector<CellRates>& cells() const { return cells_; }

 private:
  Grid grid_;
  std::vector<CellRates> cells_;
  std::vector<double> run_share_;
};

}  // namespace firstdraw::solvers
