// How a ladder is divided into elements, and the polynomial on one of them.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "power/ladder.hpp"

namespace firstdraw::power {

inline constexpr std::size_t element_points = 5;  // Gauss-Lobatto
inline constexpr std::size_t element_last = element_points - 1;
using Values = std::array<double, element_points>;
using Square = std::array<Values, element_points>;

/// Weights of the rule on [-1, 1]. Exact to degree 7.
inline constexpr Values element_weights{1.0 / 10, 49.0 / 90, 32.0 / 45, 49.0 / 90, 1.0 / 10};
/// Its points.
Values element_places();

/// Integrals over [-1, 1] of the products of slopes of the polynomials that are 1 at one point and 0 at the
/// others.
Square element_stiffness();
/// The polynomial with these values at the points, at `place` of [-1, 1].
double polynomial_at(const Values& values, double place);
/// Where in [-1, 1] the polynomial, rising from below `value` to above it, passes it.
double place_of(const Values& values, double value);

struct Element {
  std::size_t stretch = 0;
  std::size_t near = 0;  // point at its near end; its others are 4e+1 to 4e+4
  double from_m = 0;     // its near end along the stretch
  double length_m = 0;
  double siemens = 0;  // 2/(r h), which multiplies the stiffness
};

struct Mesh {
  std::vector<Element> elements;
  std::vector<std::size_t> first;      // of each stretch, and one past the last
  std::vector<std::size_t> far_point;  // of each stretch

  std::size_t point(std::size_t e, std::size_t i) const {
    return i == 0 ? elements[e].near : element_last * e + i;
  }
  std::size_t points() const { return element_last * elements.size() + 1; }
  /// The element of a stretch that holds this place; at its borders either.
  std::size_t element_at(std::size_t stretch, double along_m) const;
};

/// Metres from the near end of each stretch, rising, inside it.
using Cuts = std::vector<std::vector<double>>;

/// Elements end at the cuts and are at most element_kl/k long, k = sqrt(r p)/V at the feed.
Mesh mesh_of(std::span<const LadderStretch> tree, double feed_v, double element_kl, const Cuts& cuts);

}  // namespace firstdraw::power
