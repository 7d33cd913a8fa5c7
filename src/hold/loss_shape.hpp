// The loss of one pipe section, arranged for very many evaluations.
//
// The unknown is the rise x of the outermost surface above the air. From it everything follows without
// iteration:
//   loss     q = pi D (h_c(x) + h_r(x, T_air)) x             film: h_c tabulated and checked, h_r the
//   grey-body law layers   K(T_inner) = K(T_outer) + q ln(D_o/D_i) / (2 pi f)     K = integral of k(T): a
//   quadratic per straight piece water    T_water = T_inner + q R_fixed                   wall and inside
//   film
// where f multiplies the conductivity. Water temperature and loss both rise with x, so every balance is one
// root in x. Where the film law jumps (ISO 12241 changes branch with a step) the surface stays at the jump
// while the loss crosses it.
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "hold/checked_curve.hpp"
#include "hold/root.hpp"
#include "physics/pipe_loss.hpp"

namespace firstdraw::hold {

/// Where a section settles.
struct Settled {
  double water_c = 0, loss_w_per_m = 0;
  double rise_k = 0;  // of the surface above the air
};

class LossShape {
 public:
  LossShape(const physics::PipeSection& section, const physics::Surroundings& around);

  struct March {
    double water_c, loss_w_per_m;
    double water_per_rise, loss_per_rise;  // derivatives to the surface's rise
  };
  March at_rise(double rise_k, double air_c, double factor) const {
    const CurveSample film = film_loss(rise_k, air_c);
    const Inside in = inside(air_c + rise_k, film.value, factor);
    return {in.water_c, film.value, in.per_surface + in.per_loss * film.slope, film.slope};
  }

  /// Water temperature behind a surface at `surface_c` that passes `loss_w_per_m`.
  struct Inside {
    double water_c, per_surface, per_loss;
  };
  Inside inside(double surface_c, double loss_w_per_m, double factor) const;

  double loss_w_per_m(double water_c, double air_c, double factor) const;

  /// The state between surface rises `low_k` and `high_k` at which `residual(water_c, loss)` = {value,
  /// by_water, by_loss} is zero; it must fall as the rise grows.
  template <class Residual>
  Settled settle(double air_c, double factor, double low_k, double high_k, double guess_k,
                 const Residual& residual) const;

  /// The film law has no kink between these rises of the surface.
  bool is_smooth(double from_k, double to_k) const {
    const auto root = [](double rise_k) { return std::sqrt(std::sqrt(std::abs(rise_k))); };
    return whole_ || convection_.share_cell(root(from_k), root(to_k));
  }

  double typical_surface_share() const { return surface_share_; }
  double outer_diameter_m() const { return diameter_m_; }

 private:
  /// One straight piece of k(T): k = conductivity + slope (T - start), and K at start. The first piece
  /// reaches downwards without end from the start of the second.
  struct Piece {
    double start_c, conductivity, slope, integral;
  };
  static std::vector<Piece> pieces_of(const physics::Insulation& insulation);
  struct Ring {
    double shape_per_factor;  // ln(D_o/D_i) / (2 pi) over the layer's own conductivity factor
    std::vector<Piece> pieces;
  };

  /// Loss through the film at a rise, W/m, and its derivative.
  CurveSample film_loss(double rise_k, double air_c) const {
    const double size_k = std::abs(rise_k), root = std::sqrt(std::sqrt(size_k));
    CurveSample convection;
    if (!convection_.find(root, convection)) convection = convection_directly(rise_k, air_c);
    const double room_k = air_c + 273.15, surface_k = room_k + rise_k;
    const double room2 = room_k * room_k, surface2 = surface_k * surface_k;
    const double radiation = grey_ * (surface2 + room2) * (surface_k + room_k);
    const double area = std::numbers::pi * diameter_m_;
    return {area * (convection.value + radiation) * rise_k,
            area * (convection.value + 0.25 * root * convection.slope + 4 * grey_ * surface2 * surface_k)};
  }
  /// The law itself; its slope is to the fourth root of the rise's size, like the table's.
  CurveSample convection_directly(double rise_k, double air_c) const;
  double convection(double rise_k, double air_c) const;

  physics::Surroundings around_;
  double diameter_m_ = 0, fixed_m_k_per_w_ = 0;
  double grey_ = 0;  // emissivity times the Stefan-Boltzmann constant
  double surface_share_ = 0;
  bool whole_ = false;       // the film law has no kink at all
  std::vector<Ring> rings_;  // outermost first
  CheckedCurve
      convection_;  // over the fourth root of the rise; empty when the law depends on the air temperature
};

inline LossShape::Inside LossShape::inside(double surface_c, double loss_w_per_m, double factor) const {
  double temp_c = surface_c, per_surface = 1, per_loss = 0;
  for (const Ring& ring : rings_) {
    const double shape = ring.shape_per_factor / factor;
    std::size_t p = 0, pieces = ring.pieces.size();
    while (p + 1 < pieces && temp_c >= ring.pieces[p + 1].start_c) ++p;
    const Piece& outer = ring.pieces[p];
    const double above_k = temp_c - outer.start_c;
    const double outer_k = outer.conductivity + outer.slope * above_k;
    const double integral =
        outer.integral + above_k * (outer.conductivity + 0.5 * outer.slope * above_k) + loss_w_per_m * shape;
    while (p + 1 < pieces && integral > ring.pieces[p + 1].integral) ++p;
    while (p > 0 && integral < ring.pieces[p].integral) --p;
    const Piece& inner = ring.pieces[p];
    const double rest = integral - inner.integral;
    const double inner_k = std::sqrt(inner.conductivity * inner.conductivity + 2 * inner.slope * rest);
    temp_c = inner.start_c + 2 * rest / (inner.conductivity + inner_k);
    per_surface *= outer_k / inner_k;
    per_loss = (per_loss * outer_k + shape) / inner_k;
  }
  return {temp_c + loss_w_per_m * fixed_m_k_per_w_, per_surface, per_loss + fixed_m_k_per_w_};
}

template <class Residual>
Settled LossShape::settle(double air_c, double factor, double low_k, double high_k, double guess_k,
                          const Residual& residual) const {
  constexpr double tolerance = 1e-12, closed = 1e-10;
  double open_frac = 1;
  const auto along_rise = [&](double rise_k) -> CurveSample {
    const March m = at_rise(rise_k, air_c, factor);
    const auto r = residual(m.water_c, m.loss_w_per_m);
    const double size = std::abs(r.by_loss * m.loss_w_per_m) + std::abs(r.by_water * (m.water_c - air_c));
    open_frac = std::abs(r.value) / (size + 1e-30);
    return {r.value, r.by_water * m.water_per_rise + r.by_loss * m.loss_per_rise};
  };
  const double rise_k = falling_root(along_rise, low_k, high_k, guess_k, tolerance);
  along_rise(rise_k);
  const March m = at_rise(rise_k, air_c, factor);
  if (open_frac <= closed) return {m.water_c, m.loss_w_per_m, rise_k};

  // The film law jumps here: the surface stays and the loss is whatever the layers pass.
  const double surface_c = air_c + rise_k;
  const auto along_loss = [&](double loss) -> CurveSample {
    const Inside in = inside(surface_c, loss, factor);
    const auto r = residual(in.water_c, loss);
    return {r.value, r.by_water * in.per_loss + r.by_loss};
  };
  const double size = 4 * std::abs(m.loss_w_per_m) + 1;
  const double loss =
      falling_root(along_loss, rise_k < 0 ? -size : 0, rise_k < 0 ? 0 : size, m.loss_w_per_m, tolerance);
  return {inside(surface_c, loss, factor).water_c, loss, rise_k};
}

}  // namespace firstdraw::hold
